// One name for a chord on all pages of a book: chart, headings, table of scales, etude.
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "recording_sink.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

// Sections on a chord leave its bass to the tune.
std::string name_of(ChordSymbol symbol) {
    symbol.bass.reset();
    return to_string(symbol);
}

std::set<std::string> names_in(const WrittenMusic& music) {
    std::set<std::string> out;
    for (const ChordMark& mark : music.chords) {
        if (mark.symbol) out.insert(name_of(*mark.symbol));
    }
    return out;
}

}  // namespace

TEST_CASE("a chord has one name on all pages of a book, for every instrument, in every key",
          "[book][property]") {
    const std::vector<Tune> tunes = sample_tunes();
    std::size_t turn = 0;
    for (const Instrument& instrument : instruments()) {
        for (int step = 0; step < 3; ++step) {
            const Tune& sample = tunes[turn++ % tunes.size()];
            const int fifths = static_cast<int>(turn * 5 % 13) - 6;
            const Interval by = PitchClass::from_fifths(fifths - signature(key_of(sample))) - kC;
            const Tune tune{transposed(sample.chart, by), transposed(sample.timeline, by),
                            transposed(sample.analysis, by)};
            INFO(instrument.id << " " << name_of(tune.chart).title << " in " << to_string(key_of(tune)));
            const BookPart part{&instrument, instrument.practical};
            BookOptions options;
            options.drills = {find_drill("range-scale")};
            options.etude.kind = "guide-tones";
            RecordingSink sink;
            Diagnostics diagnostics;
            assemble_book({tune}, std::vector{part}, 0, options, sink, diagnostics);
            const std::set<std::string> chart = names_in(sink.all<Changes>().front()->music.front());
            std::string all;
            for (const std::string& name : chart) all += name + " ";
            INFO("the chart: " << all);
            for (const TopicHead* head : sink.heads()) {
                const TopicInPart& topic = head->parts.front();
                REQUIRE(topic.symbol);
                INFO("a heading: " << to_string(*topic.symbol));
                CHECK(chart.contains(name_of(*topic.symbol)));
                CHECK(topic.scale.tonic == topic.notes.front());
            }
            for (const ScaleTable* table : sink.all<ScaleTable>()) {
                for (const ScaleTable::Row& row : table->rows)
                    CHECK(chart.contains(name_of(*row.topic.symbol)));
            }
            std::size_t strangers = 0;
            for (const WrittenMusic* music : sink.music()) {
                for (const std::string& name : names_in(*music)) strangers += chart.contains(name) ? 0 : 1;
            }
            CHECK(strangers <= 1);  // the last time may bring its own
        }
    }
}

}  // namespace shedbook
