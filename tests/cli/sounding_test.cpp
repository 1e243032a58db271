// The way there and back: what is written for an instrument, read as anybody's score, sounds like the concert
// sheet, note by note.
#include <catch2/catch.hpp>
#include <sstream>

#include "shedbook/book/book.h"
#include "shedbook/chart/score_notes.h"
#include "shedbook/write/musicxml.h"

namespace shedbook {
namespace {

ScoreNotes read_back(const std::vector<SheetTopic>& topics, const std::vector<BookPart>& parts,
                     std::size_t which) {
    BookOptions options;
    options.drills = {find_drill("thirds"), find_drill("enclosures-above")};
    std::ostringstream out;
    MusicXmlWriter writer{out};
    Diagnostics diagnostics;
    assemble_sheet(topics, parts, which, options, writer, diagnostics);
    const auto score = read_score_notes("sheet.musicxml", out.str(), {}, diagnostics);
    REQUIRE(score);
    REQUIRE_FALSE(diagnostics.has_errors());
    return *score;
}

std::vector<int> sounding_of(const ScoreNotes& score, int staff = 1) {
    std::vector<int> out;
    for (const ScoreNotesBar& bar : score.bars) {
        for (const ScoreNote& note : bar.notes) {
            if (note.staff == staff) out.push_back(note.sounding.midi());
        }
    }
    return out;
}

}  // namespace

TEST_CASE("a sheet for any instrument, in any key, sounds like the concert sheet, octaves aside", "[cli]") {
    std::vector<SheetTopic> topics;
    for (const char* root : {"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"}) {
        SheetTopic topic;
        topic.symbol = parse_chord_symbol(std::string{root} + "7alt");
        topic.scale = scales_for(*topic.symbol).front();
        topics.push_back(topic);
    }
    const Instrument& flute = *find_instrument("flute");
    std::size_t compared = 0;
    for (const Instrument& instrument : instruments()) {
        const std::vector<BookPart> parts{{&flute, flute.practical}, {&instrument, instrument.practical}};
        const std::vector<int> concert = sounding_of(read_back(topics, parts, 0));
        const std::vector<int> part = sounding_of(read_back(topics, parts, 1));
        CAPTURE(instrument.id);
        REQUIRE(part.size() == concert.size());
        REQUIRE(!part.empty());
        const PitchRange range = sounding_range(instrument, instrument.practical);
        std::size_t wrong = 0;
        for (std::size_t i = 0; i < part.size(); ++i) {
            const bool is_same = (part[i] - concert[i]) % 12 == 0;
            const bool is_inside = part[i] >= range.low.midi() && part[i] <= range.high.midi();
            wrong += is_same && is_inside ? 0 : 1;
        }
        CHECK(wrong == 0);
        compared += part.size();
    }
    CHECK(compared > 10000);
}

TEST_CASE("the left hand of a piano plays the same an octave or a tenth below", "[cli]") {
    SheetTopic topic;
    topic.symbol = parse_chord_symbol("Dm7");
    topic.scale = scales_for(*topic.symbol).front();
    for (const char* name : {"piano-both-hands", "piano-in-tenths"}) {
        const Instrument& piano = *find_instrument(name);
        const ScoreNotes score = read_back({topic}, {{&piano, piano.practical}}, 0);
        const std::vector<int> right = sounding_of(score, 1);
        const std::vector<int> left = sounding_of(score, 2);
        REQUIRE(right.size() == left.size());
        REQUIRE(!right.empty());
        for (std::size_t i = 0; i < right.size(); ++i) {
            const int apart = right[i] - left[i];
            // A tenth is 15 semitones where it is minor, 16 where it is major.
            const bool is_right =
                piano.hands_apart == HandsApart::Octave ? apart == 12 : apart == 15 || apart == 16;
            CAPTURE(name, i, apart);
            CHECK(is_right);
        }
    }
}

}  // namespace shedbook
