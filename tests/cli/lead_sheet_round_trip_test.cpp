#include <catch2/catch.hpp>
#include <cstdint>
#include <cstdlib>
#include <sstream>

#include "chart/dump.h"
#include "chart/random_chart.h"
#include "shedbook/book/lead_sheet.h"
#include "shedbook/chart/readers.h"
#include "shedbook/write/musicxml.h"

namespace shedbook {
namespace {

std::string messages(const Diagnostics& diagnostics) {
    std::string out;
    for (const Diagnostic& diagnostic : diagnostics.all()) out += render(diagnostic);
    return out;
}

std::string as_musicxml(const Chart& chart, const char* instrument, Diagnostics& diagnostics) {
    std::ostringstream out;
    MusicXmlWriter writer{out};
    assemble_lead_sheet(chart, *find_instrument(instrument), Prefer::Fewest, writer, diagnostics);
    return out.str();
}

std::string labels(const Chart& chart) {
    std::string out;
    for (const Section& section : chart.sections) {
        // A file has no place for a section without bars or without a name.
        if (!section.bars.empty() && !section.label.empty()) out += section.label + "|";
    }
    return out;
}

// Two symbols at one place part the time that is left to them, and how much that is depends on the way
// through the tune: a file has one place for each, so such charts are compared nowhere.
bool has_doubled_places(const Chart& chart) {
    for (const Section& section : chart.sections) {
        for (const Bar& bar : section.bars) {
            for (std::size_t i = 1; i < bar.chords.size(); ++i) {
                if (bar.chords[i].at == bar.chords[i - 1].at) return true;
            }
        }
    }
    return false;
}

// Without what a lead sheet says in another way: a pushed chord stands where it is struck (see the test
// below).
Chart without_pushes(Chart chart) {
    for (Section& section : chart.sections) {
        for (Bar& bar : section.bars) {
            for (PlacedChord& chord : bar.chords) chord.push = {};
        }
    }
    return chart;
}

std::string signs_of(const Chart& chart) {
    std::string out;
    for (const WrittenBar& bar : written_bars(chart)) {
        out += "|";
        for (const FormSignRow& row : form_signs()) {
            if (bar.bar->marks.signs.has(row.sign)) out += " " + std::string{row.word};
        }
    }
    return out;
}

std::string melody_of(const Timeline& timeline) {
    std::string out;
    for (const PlacedMelodyNote& note : timeline.melody) {
        out += to_string(note.pitch) + "@" + to_string(note.at.whole_notes) + "+" +
               to_string(note.length.whole_notes) + " ";
    }
    return out;
}

}  // namespace

TEST_CASE("a chart that becomes a lead sheet and is read again is played as it was", "[cli][property]") {
    int compared = 0;
    for (std::uint32_t seed = 0; seed < 600; ++seed) {
        RandomChartOptions options;
        options.has_melody = seed % 2 == 1;
        options.has_comments = false;
        const Chart chart = without_pushes(random_chart(seed, options));
        // A key of more than six accidentals is respelled in any part: then names differ, by rule.
        if (chart.key && std::abs(signature(*chart.key)) > 6) continue;
        if (has_doubled_places(chart)) continue;
        ++compared;
        Diagnostics diagnostics;
        const std::string xml = as_musicxml(chart, "piano", diagnostics);
        const auto again = read_lead_sheet("random.musicxml", xml, {}, diagnostics);
        INFO("seed " << seed << "\n" << write_tune(chart) << messages(diagnostics));
        REQUIRE(again);
        const auto before = unfold(chart, diagnostics);
        const auto after = unfold(*again, diagnostics);
        REQUIRE(before);
        REQUIRE(after);
        CHECK(dump(*after) == dump(*before));
        CHECK(played(*again) == played(chart));
        CHECK(labels(*again) == labels(chart));
        CHECK(signs_of(*again) == signs_of(chart));
        if (options.has_melody) CHECK(melody_of(*after) == melody_of(*before));
    }
    CHECK(compared > 100);
}

TEST_CASE("a pushed chord stands in a lead sheet where it is struck", "[cli]") {
    Diagnostics diagnostics;
    const auto chart = read_tune(SourceText{"a.tune", "Meter: 4/4\nKey: C\n| C | <F | G7 |\n"}, diagnostics);
    REQUIRE(chart);
    const auto again = read_lead_sheet("a", as_musicxml(*chart, "piano", diagnostics), {}, diagnostics);
    REQUIRE(again);
    CHECK(dump(*unfold(*again, diagnostics)) == dump(*unfold(*chart, diagnostics)));
}

TEST_CASE("a part for a transposing instrument reads back to the concert chords", "[cli][property]") {
    for (std::uint32_t seed = 300; seed < 340; ++seed) {
        RandomChartOptions options;
        options.has_comments = false;
        const Chart chart = without_pushes(random_chart(seed, options));
        Diagnostics diagnostics;
        const auto piano = read_lead_sheet("a", as_musicxml(chart, "piano", diagnostics), {}, diagnostics);
        const auto horn =
            read_lead_sheet("b", as_musicxml(chart, "baritone-sax", diagnostics), {}, diagnostics);
        INFO("seed " << seed << "\n" << write_tune(chart));
        REQUIRE(piano);
        REQUIRE(horn);
        const auto one = unfold(*piano, diagnostics);
        const auto other = unfold(*horn, diagnostics);
        REQUIRE(one);
        REQUIRE(other);
        REQUIRE(one->chords.size() == other->chords.size());
        for (std::size_t i = 0; i < one->chords.size(); ++i) {
            const auto& a = one->chords[i].symbol;
            const auto& b = other->chords[i].symbol;
            REQUIRE(a.has_value() == b.has_value());
            if (a) CHECK(a->root.semitone() == b->root.semitone());
            if (a) CHECK(pitch_set(*a) == pitch_set(*b));
        }
    }
}

}  // namespace shedbook
