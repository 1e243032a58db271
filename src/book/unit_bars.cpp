#include "unit_bars.h"

#include <algorithm>
#include <optional>

#include "shedbook/notation/excerpt.h"

namespace shedbook {
namespace {

// What leads elsewhere in the tune leads nowhere here.
void take_out_form(Measure& measure) {
    measure.signs_before.clear();
    measure.signs_after.clear();
    measure.ending = std::nullopt;
    measure.repeat_start = false;
    measure.repeat_end = 0;
}

}  // namespace

std::size_t shown_bars_a_system(std::size_t bars) {
    constexpr std::size_t kMost = 6;
    const std::size_t systems = (bars + kMost - 1) / kMost;
    return (bars + systems - 1) / systems;
}

UnitBars bars_with_ways(const std::vector<WrittenMusic>& changes, std::pair<int, int> bars,
                        std::pair<int, int> shown) {
    UnitBars out;
    const auto first = static_cast<std::size_t>(bars.first - 1);
    const auto end = static_cast<std::size_t>(bars.second);
    const auto from = static_cast<std::size_t>(shown.first - 1);
    const auto to = static_cast<std::size_t>(shown.second);
    for (const WrittenMusic& music : changes) {
        WrittenMusic part = excerpt(music, from, to);
        for (std::size_t b = 0; b < part.measures.size(); ++b) {
            Measure& measure = part.measures[b];
            take_out_form(measure);
            measure.new_system = b > 0 && b % shown_bars_a_system(part.measures.size()) == 0;
            const bool is_border = from + b + 1 == first || from + b + 1 == end;
            const bool is_last = b + 1 == part.measures.size();
            measure.right = is_border && !is_last ? Barline::Double : Barline::Plain;
        }
        out.music.push_back(std::move(part));
    }
    return out;
}

void weigh_alike(TuneUnits& units, const Tune& tune, Interval by) {
    const TuneUnits led = units_of(transposed(tune.chart, by), transposed(tune.analysis, by));
    for (std::size_t u = 0; u < units.units.size() && u < led.units.size(); ++u) {
        std::vector<UnitPlace>& places = units.units[u].places;
        for (std::size_t p = 0; p < places.size() && p < led.units[u].places.size(); ++p)
            places[p].difficulty = led.units[u].places[p].difficulty;
    }
}

void unmark_sections(WrittenMusic& music) {
    const std::optional<int> first = music.measures.front().number;
    for (std::size_t b = 0; b < music.measures.size(); ++b) {
        Measure& measure = music.measures[b];
        std::erase_if(measure.signs_before, [](const Sign& sign) { return !sign.form; });
        measure.right = Barline::Plain;
        // Its second time, which goes another way.
        if (b == 0 || measure.number != first) continue;
        music.measures[b - 1].right = Barline::Double;
        const bool is_named = std::ranges::any_of(
            music.texts, [&](const TextMark& mark) { return mark.names_bars && mark.measure == b; });
        // Words stand in the order of their places.
        const auto behind =
            std::ranges::find_if(music.texts, [&](const TextMark& mark) { return mark.measure >= b; });
        if (!is_named) music.texts.insert(behind, {b, 0, "another way", true});
    }
}

}  // namespace shedbook
