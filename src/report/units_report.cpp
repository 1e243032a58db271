// Units and difficulty as text.
#include <string>
#include <vector>

#include "shedbook/base/grade.h"
#include "shedbook/base/text.h"
#include "shedbook/report/report.h"

namespace shedbook {
namespace {

std::string graded(int difficulty) {
    return std::string{to_word(grade_of(difficulty))} + " " + std::to_string(difficulty);
}

std::string padded(const std::string& text, std::size_t width) {
    const std::size_t used = count_characters(text);
    return text + std::string(used < width ? width - used : 1, ' ');
}

std::string bars_of(const UnitPlace& place) {
    const std::string first = std::to_string(place.first_bar);
    return place.first_bar == place.last_bar ? first : first + "-" + std::to_string(place.last_bar);
}

// "bar 5", "bars 2-3, 18-19 in G major": a place in another key than the first says so.
std::string places_of(const PracticeUnit& unit) {
    std::vector<std::string> out;
    for (const UnitPlace& place : unit.places)
        out.push_back(bars_of(place) +
                      (place.key == unit.places.front().key ? "" : " in " + to_string(place.key)));
    const UnitPlace& first = unit.places.front();
    const bool one_bar = unit.places.size() == 1 && first.first_bar == first.last_bar;
    return (one_bar ? "bar " : "bars ") + join(out, ", ");
}

}  // namespace

std::string units_table(const TuneUnits& units) {
    std::string out;
    for (const PracticeUnit& unit : units.units) {
        const UnitPlace& first = unit.places.front();
        out += "  " + padded(unit_name(unit.kind, first), 35) + padded(graded(first.difficulty), 12) +
               places_of(unit) + "\n" + std::string(37, ' ') +
               (first.here.empty() ? "" : "here " + first.here + "; ") + first.why + "\n";
    }
    return out.empty() ? "  no unit: there is no chord\n" : out;
}

std::string difficulty_table(const TuneUnits& units) {
    std::string out;
    for (const BarDifficulty& bar : units.bars) {
        out += "  " + padded("bar " + std::to_string(bar.bar), 10) + padded(graded(bar.difficulty), 12) +
               bar.why + "\n";
    }
    return out;
}

}  // namespace shedbook
