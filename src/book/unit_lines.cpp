#include "unit_lines.h"

#include "shedbook/notation/memory_page.h"

#include <algorithm>

#include "tune_chapter.h"

namespace shedbook {

EtudeBoxes boxes_on_units(const BookOptions& options) {
    return {options.tempos, options.goal_tempo, true, options.speed_level};
}

int times_through(std::pair<int, int> bars) {
    constexpr int kTwice = 2;  // bars
    return bars.second - bars.first < kTwice ? 2 : 1;
}

std::optional<Etude> UnitLines::make(const Tune& tune, const LineOfUnit& asked,
                                     std::optional<std::pair<int, int>> bars) {
    EtudeRequest request = options_.etude;
    request.kind = asked.kind;
    request.level = std::min(request.level, asked.most_level);
    request.bars = bars;
    request.once = bars.has_value();
    request.choruses = bars && !asked.has_own_version ? times_through(*bars) : 1;
    EtudeMaker maker{
        ensemble_.parts, request, {.prefer = options_.prefer, .reading_level = options_.etude.level}};
    std::optional<Etude> out = maker.make(tune, ensemble_.written, boxes_on_units(options_));
    const bool is_narrow = !out && !maker.fits_part(ensemble_.written.front());
    if (is_narrow && said_.insert(request.kind).second)
        say_missing(*find_etude_kind(request.kind), tune, diagnostics_);
    if (out && asked.has_own_version) {
        for (WrittenMusic& music : out->music) music = with_own_version(music);
    }
    return out;
}

}  // namespace shedbook
