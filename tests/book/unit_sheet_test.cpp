#include "shedbook/book/unit_sheet.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "recording_sink.h"

namespace shedbook {
namespace {

Tune understood(Chart chart) {
    Diagnostics diagnostics;
    Timeline timeline = *unfold(chart, diagnostics);
    Analysis analysis = analyse(chart, timeline);
    return {std::move(chart), std::move(timeline), std::move(analysis)};
}

}  // namespace

TEST_CASE("each plain unit is found in its chart again, whatever the key", "[book][units]") {
    REQUIRE(plain_units().size() >= 8);
    for (const PlainUnit& unit : plain_units()) {
        for (int semitones = 0; semitones < 12; ++semitones) {
            const Tune tune = understood(chart_of(unit, semitones, Prefer::Fewest));
            INFO(unit.id << " in " << to_string(*tune.chart.key));
            const std::vector<PracticeUnit> found = units_of(tune.chart, tune.analysis).units;
            CHECK(std::ranges::any_of(found, [&](const PracticeUnit& each) {
                return each.kind == unit.kind && each.places.front().first_bar == 1;
            }));
        }
    }
}

// Signatures of seven accidentals are what D flat and C flat save (any theory primer, from memory).
TEST_CASE("keys of a unit have the shorter signature", "[book][units]") {
    const PlainUnit& major = *find_plain_unit("II-V-i");
    CHECK(major.id == "ii-V-I");
    std::set<std::string> names;
    for (int semitones = 0; semitones < 12; ++semitones)
        names.insert(to_string(chart_of(major, semitones, Prefer::Flats).key->tonic));
    CHECK(names == std::set<std::string>{"C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"});
    CHECK(to_string(chart_of(major, 6, Prefer::Sharps).key->tonic) == "F#");
    CHECK(to_string(chart_of(*find_plain_unit("minor-ii-V-i"), 1, Prefer::Fewest).key->tonic) == "C#");
}

TEST_CASE("a sheet of a unit has a section for each key, with the same lines", "[book][units]") {
    const PlainUnit& unit = *find_plain_unit("ii-V-I");
    std::vector<Tune> keys;
    for (const int semitones : {0, 5, 10})
        keys.push_back(understood(chart_of(unit, semitones, Prefer::Fewest)));
    const Instrument& trumpet = *find_instrument("trumpet");
    const BookPart part{&trumpet, trumpet.practical};
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_unit_sheet(unit, keys, {&part, 1}, 0, {}, sink, diagnostics);
    const auto starts = sink.all<SectionStart>();
    REQUIRE(starts.size() == 3);
    std::vector<std::string> written;
    for (const SectionStart* start : starts)
        written.push_back(to_string(std::get<UnitHead>(start->head).places.front().key));
    // Trumpet in B flat: a whole step higher on paper.
    CHECK(written == std::vector<std::string>{"D major", "G major", "C major"});
    const auto lines = sink.all<Etude>();
    CHECK(lines.size() == 9);
    std::set<std::string> phrases;
    for (std::size_t i = 2; i < lines.size(); i += 3) phrases.insert(lines[i]->id);
    CHECK(phrases.size() == 1);
}

}  // namespace shedbook
