#include "form.h"

#include <utility>

namespace shedbook {
namespace {

constexpr std::size_t kPhrase = 8;
constexpr std::size_t kVamp = 4;  // what is shorter and comes again is one with what follows it

std::size_t count_up_to(const std::vector<Position>& places, Position at) {
    return static_cast<std::size_t>(std::ranges::upper_bound(places, at) - places.begin());
}

std::size_t chorus_at(const RhythmSection& band, Position at) {
    const auto after = std::ranges::upper_bound(band.choruses, at, {}, &BandChorus::at);
    return after == band.choruses.begin() ? 0 : static_cast<std::size_t>(after - band.choruses.begin()) - 1;
}

// How many bars each section has that the page marks, a time through being one at least.
std::vector<std::size_t> marked_sections(const RhythmSection& band) {
    std::vector<std::size_t> out;
    std::optional<std::pair<std::size_t, std::size_t>> last;
    for (const BandBar& bar : band.bars) {
        const auto here = std::pair{chorus_at(band, bar.at), count_up_to(band.sections, bar.at)};
        if (here != last) out.push_back(0);
        last = here;
        ++out.back();
    }
    return out;
}

// A vamp of two bars is no section each time: such go together up to a phrase. A long section has several
// phrases, none of them short: sixteen bars are two, a blues of twelve is one.
std::vector<std::size_t> phrases_of(const std::vector<std::size_t>& sections) {
    std::vector<std::size_t> out;
    std::size_t last = kVamp;
    for (std::size_t bars : sections) {
        if (bars < kVamp && last < kVamp && out.back() + bars <= kPhrase) {
            out.back() += bars;
            continue;
        }
        last = bars;
        for (; bars >= 2 * kPhrase; bars -= kPhrase) out.push_back(kPhrase);
        out.push_back(bars);
    }
    return out;
}

}  // namespace

std::vector<FormPlace> form_places(const RhythmSection& band) {
    std::vector<FormPlace> out;
    std::size_t section = 0;
    for (const std::size_t bars : phrases_of(marked_sections(band))) {
        for (std::size_t bar = 0; bar < bars; ++bar)
            out.push_back({chorus_at(band, band.bars[out.size()].at), section, bar, bar + 1 == bars});
        ++section;
    }
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
