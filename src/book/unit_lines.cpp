#include "unit_lines.h"

#include "shedbook/notation/memory_page.h"

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "tune_chapter.h"

namespace shedbook {

EtudeBoxes boxes_on_units(const BookOptions& options) {
    return {options.tempos, options.goal_tempo, true, options.speed_level};
}

int times_through(std::pair<int, int> bars) {
    constexpr int kTwice = 2;  // bars
    return bars.second - bars.first < kTwice ? 2 : 1;
}

namespace {

// The notes of the second half, but for the last, are those of the first: nothing is learned from it.
bool repeats_itself(const WrittenMusic& music) {
    std::array<std::vector<std::pair<Ticks, Pitch>>, 2> halves;
    const std::size_t half = music.measures.size() / 2;
    for (std::size_t bar = 0; bar < music.measures.size(); ++bar) {
        for (const Event& event : music.events_of(music.measures[bar])) {
            if (const auto* note = std::get_if<Sounded>(&event.what))
                halves[bar < half ? 0 : 1].emplace_back(event.at, note->pitch.on_paper());
        }
    }
    for (auto& notes : halves) {
        if (notes.empty()) return false;
        notes.pop_back();
    }
    return std::ranges::equal(halves[0], halves[1]);
}

}  // namespace

std::optional<Etude> UnitLines::make(const Tune& tune, const LineOfUnit& asked,
                                     std::optional<std::pair<int, int>> bars) {
    EtudeRequest request = options_.etude;
    request.kind = asked.kind;
    request.level = std::min(request.level, asked.most_level);
    request.bars = bars;
    request.once = bars.has_value();
    request.choruses = bars && !asked.has_own_version ? times_through(*bars) : 1;
    const auto made_by = [&](EtudeMaker& maker) {
        return maker.make(tune, ensemble_.written, boxes_on_units(options_));
    };
    const EtudePaper paper{.prefer = options_.prefer, .reading_level = options_.etude.level};
    EtudeMaker maker{ensemble_.parts, request, paper};
    std::optional<Etude> out = made_by(maker);
    if (out && request.choruses > 1 && std::ranges::all_of(out->music, repeats_itself)) {
        request.choruses = 1;
        EtudeMaker once{ensemble_.parts, request, paper};
        out = made_by(once);
    }
    const bool is_narrow = !out && !maker.fits_part(ensemble_.written.front());
    if (is_narrow && said_.insert(request.kind).second)
        say_missing(*find_etude_kind(request.kind), tune, diagnostics_);
    if (out && asked.has_own_version) {
        for (WrittenMusic& music : out->music) music = with_own_version(music);
    }
    return out;
}

}  // namespace shedbook
