// Several notes struck together, as files say it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <sstream>

#include "../../src/write/lilypond_music.h"
#include "../../src/write/performance.h"
#include "blocks.h"
#include "count_text.h"
#include "shedbook/notation/notate.h"
#include "shedbook/write/musicxml.h"

namespace shedbook {
namespace {

// F#3 C4 E4, from the second half of a bar into the next one.
WrittenMusic tied_chord(const char* instrument = "piano") {
    ConcertLine line;
    line.notes = {{*parse_pitch("E4"), Position{} + kHalf, kWhole}};
    for (const char* name : {"C4", "F#3"}) line.below.push_back({0, *parse_pitch(name)});
    line.length = kWhole + kWhole;
    NotateOptions options;
    options.instrument = find_instrument(instrument);
    options.key = Key{};
    return notate(line, options);
}

}  // namespace

TEST_CASE("the engraver's chord is in angles, from its lowest note, and tied as one", "[write][chords]") {
    const std::string text = music_expression(tied_chord());
    CHECK_THAT(text, Catch::Contains("<fis! c' e'>2~"));
    CHECK_THAT(text, Catch::Contains("<fis c' e'>2 "));
}

// MusicXML 4.0, element chord: the note is struck with the one before it.
TEST_CASE("MusicXML has the further notes of a chord behind the first, each with its tie",
          "[write][chords]") {
    std::ostringstream out;
    MusicXmlWriter writer{out};
    DocumentHead head;
    head.parts = {*find_instrument("piano")};
    writer.begin(head);
    writer.take(etude_block(tied_chord()));
    writer.finish();
    const std::string text = out.str();
    CHECK(count(text, "<note><chord/>") == 4);
    CHECK(count(text, "<tie type=\"start\"/>") == 3);
    CHECK(count(text, "<tied type=\"stop\"/>") == 3);
    CHECK(count(text, "<accidental>sharp</accidental>") == 1);
    CHECK(text.find("<chord/><pitch><step>C") > text.find("<pitch><step>E"));
}

TEST_CASE("a chord sounds in all its notes, through its tie, an octave lower on a guitar",
          "[write][chords]") {
    const auto keys_and_lengths = [](const WrittenMusic& music) {
        std::set<std::pair<int, bool>> out;
        for (const PlayedNote& note : perform(music, 1, 0).line)
            out.insert({note.key, note.at == Position{} + kHalf && note.length == kWhole});
        return out;
    };
    const std::set<std::pair<int, bool>> all{{54, true}, {60, true}, {64, true}};
    CHECK(keys_and_lengths(tied_chord()) == all);
    CHECK(keys_and_lengths(tied_chord("guitar")) == all);
}

TEST_CASE("the lowest note of a chord takes its room on the page", "[write][chords]") {
    WrittenMusic music = tied_chord();
    const double room = room_on_page(music);
    music.below[1].pitch = WrittenPitch{*parse_pitch("F2")};
    CHECK(room_on_page(music) > room);
}

}  // namespace shedbook
