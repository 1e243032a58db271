// Charts as nobody writes them: bars of odd length, places that no note value has, ranges that hold nothing.
// Every one becomes a book, or a message; nothing else.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <random>
#include <string>

#include "recording_sink.h"
#include "shedbook/book/etude.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

class OddCharts {
  public:
    explicit OddCharts(std::uint32_t seed) : random_{seed} {}

    std::string text() {
        static constexpr std::array kMeters{"4/4", "3/4",  "6/8",   "5/4", "7/8",  "2/2",  "12/8", "5/8",
                                            "1/4", "7/32", "64/32", "3/2", "64/4", "5/16", "9/8"};
        std::string out = std::string{"Title: Odd\nMeter: "} + one_of(kMeters) + "\n| ";
        if (below(5) == 0) out += "pickup / G7 | ";
        out += "C | ";
        const std::size_t bars = 1 + below(9);
        for (std::size_t i = 0; i < bars; ++i) out += bar() + " | ";
        return out + "\n";
    }

    template <class Words>
    const char* one_of(const Words& words) {
        return words[below(words.size())];
    }
    std::size_t below(std::size_t n) { return random_() % n; }

  private:
    std::string bar() {
        static constexpr std::array kChords{"C", "Dm7", "G7alt", "F#m7b5", "Edim7", "N.C.", "C7sus4", "B5"};
        static constexpr std::array kLengths{"1/4", "5/8", "3/16",    "9/4",  "5/32",
                                             "1/7", "1/3", "479/480", "1/64", "13/1"};
        static constexpr std::array kPlaces{"1/3", "1/5", "2/7", "1/8", "1/16", "3/11", "1/13", "7/9"};
        const std::string chord = one_of(kChords);
        switch (below(4)) {
            case 0:
                return std::string{"lasts "} + one_of(kLengths) + " " + chord;
            case 1:
                return "1:" + chord + " 1+" + one_of(kPlaces) + ":" + one_of(kChords);
            default:
                return chord;
        }
    }

    std::mt19937 random_;
};

}  // namespace

TEST_CASE("any chart becomes a book and an etude, or says which bar cannot be written", "[book][property]") {
    static constexpr std::array kInstruments{"flute", "alto-sax", "tuba", "piano-both-hands", "guitar"};
    static constexpr std::array kRanges{"practical", "first", "C4-D4", "C4-F4"};
    int written = 0;
    int refused = 0;
    for (std::uint32_t seed = 0; seed < 150; ++seed) {
        OddCharts charts{seed};
        const std::string text = charts.text();
        INFO("seed " << seed << "\n" << text);
        Diagnostics said;
        // Some go beyond what a chart may be: they are refused where they are read.
        if (!read_tune(SourceText{"odd.tune", text}, said)) {
            CHECK(said.has_errors());
            ++refused;
            continue;
        }
        const std::vector<Tune> tunes{tune_of(text)};
        const Instrument& instrument = *find_instrument(charts.one_of(kInstruments));
        const std::vector<BookPart> parts{{&instrument, *parse_range(charts.one_of(kRanges), instrument)}};
        BookOptions options;
        options.drills = usual_drills();
        const std::vector<EtudeKind>& kinds = etude_kinds();
        options.etudes = {kinds[charts.below(kinds.size())].id};
        options.etude.level = 1 + static_cast<int>(charts.below(6));
        RecordingSink sink;
        Diagnostics diagnostics;
        try {
            assemble_book(tunes, parts, 0, options, sink, diagnostics);
            CHECK(sink.is_finished);
            ++written;
        } catch (const UnwritableMusic& fault) {
            CHECK(std::string{fault.what()}.starts_with("bar "));
            ++refused;
        }
    }
    CHECK(written > 50);
    CHECK(refused > 10);
}

TEST_CASE("an etude that the range does not hold is left out and said", "[book]") {
    const Instrument& trumpet = *find_instrument("trumpet");
    const std::vector<BookPart> parts{{&trumpet, *parse_range("C4-G4", trumpet)}};
    BookOptions options;
    options.drills = {find_drill("five-notes")};
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_book({tune_of("Title: Low\n| Cm7 | F7 |\n")}, parts, 0, options, sink, diagnostics);
    CHECK(sink.all<Etude>().empty());
    CHECK(std::ranges::any_of(diagnostics.all(), [](const Diagnostic& said) {
        return said.message == "'One line through the changes' is left out: it needs 12 half steps of range";
    }));
}

TEST_CASE("a bar has the meter of its length", "[book]") {
    const auto meter_of = [](const char* chart) {
        RecordingSink sink;
        Diagnostics diagnostics;
        const Instrument& flute = *find_instrument("flute");
        BookOptions options;
        options.drills = {find_drill("thirds")};
        options.with_line = false;
        assemble_book({tune_of(chart)}, std::vector<BookPart>{{&flute, flute.practical}}, 0, options, sink,
                      diagnostics);
        return to_string(sink.all<Changes>().at(0)->music.front().measures[1].meter.value_or(Meter{}));
    };
    CHECK(meter_of("Title: T\n| C | lasts 2/4 G7 | C |\n") == "2/4");
    CHECK(meter_of("Title: T\n| C | lasts 5/32 G7 | C |\n") == "5/32");
    CHECK(meter_of("Title: T\n| C | lasts 40/1 G7 | C |\n") == "40/1");
    CHECK_THROWS_AS(meter_of("Title: T\n| C | lasts 1/7 G7 | C |\n"), UnwritableMusic);
}

}  // namespace shedbook
