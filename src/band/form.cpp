#include "form.h"

namespace shedbook {
namespace {

constexpr std::size_t kUsualSection = 8;

std::size_t count_up_to(const std::vector<Position>& places, Position at) {
    return static_cast<std::size_t>(std::ranges::upper_bound(places, at) - places.begin());
}

}  // namespace

std::vector<FormPlace> form_places(const RhythmSection& band) {
    std::vector<FormPlace> out;
    std::size_t begun = 0;
    for (const BandBar& bar : band.bars) {
        FormPlace place;
        const auto chorus = std::ranges::upper_bound(band.choruses, bar.at, {}, &BandChorus::at);
        if (chorus != band.choruses.begin())
            place.chorus = static_cast<std::size_t>(chorus - band.choruses.begin()) - 1;
        const bool is_new_chorus = !out.empty() && out.back().chorus != place.chorus;
        const std::size_t sections = count_up_to(band.sections, bar.at);
        const bool is_new = is_new_chorus || sections != begun ||
                            (!out.empty() && band.sections.empty() && out.back().bar + 1 == kUsualSection);
        begun = sections;
        if (!out.empty()) {
            place.section = out.back().section + (is_new ? 1 : 0);
            place.bar = is_new ? 0 : out.back().bar + 1;
            out.back().ends_section = is_new;
        }
        out.push_back(place);
    }
    if (!out.empty()) out.back().ends_section = true;
    return out;
}

std::optional<std::size_t> chord_number_at(std::span<const BandChord> chords, Position at) {
    const auto after = std::ranges::upper_bound(chords, at, {}, &BandChord::at);
    if (after == chords.begin()) return std::nullopt;
    const BandChord& chord = *(after - 1);
    if (!chord.symbol || at >= chord.at + chord.length) return std::nullopt;
    return static_cast<std::size_t>(after - chords.begin()) - 1;
}

}  // namespace shedbook
