#include "shedbook/notation/memory_page.h"

#include <catch2/catch.hpp>

#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// So many of a value, one after the other.
ConcertLine notes_of(Duration value, int count) {
    ConcertLine line;
    for (int i = 0; i < count; ++i)
        line.notes.push_back({*parse_pitch("G4"), Position{} + value * Rational{i}, value});
    line.length = value * Rational{count};
    return line;
}

NotateOptions for_flute() {
    NotateOptions out;
    out.instrument = find_instrument("flute");
    return out;
}

}  // namespace

TEST_CASE("a memory page keeps its first bars, its bars and its symbols", "[notation]") {
    const ConcertLine line = notes_of(kHalf, 6);
    NotateOptions options = for_flute();
    options.chords = {{Position{}, parse_chord_symbol("C")},
                      {Position{Rational{2}}, parse_chord_symbol("F")}};
    const WrittenMusic music = notate(line, options);
    const WrittenMusic page = with_empty_staves(music, 1);
    REQUIRE(page.measures.size() == 3);
    CHECK(page.chords.size() == music.chords.size());
    for (std::size_t m = 0; m < page.measures.size(); ++m) {
        for (const Event& event : page.events_of(page.measures[m])) {
            CHECK(std::holds_alternative<Sounded>(event.what) == (m == 0));
            if (const auto* rest = std::get_if<Rest>(&event.what)) CHECK(rest->hidden);
        }
    }
}

TEST_CASE("a note that is tied out of the bars that are kept ends there", "[notation]") {
    ConcertLine line;
    line.notes.push_back({*parse_pitch("G4"), Position{} + kHalf, kWhole});
    line.length = Duration{Rational{2}};
    const NotateOptions options = for_flute();
    const WrittenMusic page = with_empty_staves(notate(line, options), 1);
    const auto* kept = std::get_if<Sounded>(&page.events_of(page.measures[0]).back().what);
    REQUIRE(kept != nullptr);
    CHECK_FALSE(kept->tied_on);
}

TEST_CASE("bars for a version of one's own follow the music, empty, with its chords and meter",
          "[notation]") {
    const ConcertLine line = notes_of(kQuarter, 7);
    NotateOptions options = for_flute();
    options.chords = {{Position{}, parse_chord_symbol("C")},
                      {Position{kWhole.whole_notes}, parse_chord_symbol("F")}};
    options.bars = {{kWhole, {}, false}, {kQuarter * Rational{3}, Meter{3, 4}, false}};
    const WrittenMusic music = notate(line, options);
    const WrittenMusic page = with_own_version(music);
    REQUIRE(page.measures.size() == 4);
    CHECK(page.measures[1].right == Barline::Double);
    CHECK(page.measures[2].meter == Meter{});
    CHECK(page.measures[3].meter == Meter{3, 4});
    // Beside two bars, below three.
    CHECK_FALSE(page.measures[2].new_system);
    for (std::size_t m = 0; m < 4; ++m) {
        CHECK(page.chords_of(page.measures[m]).size() == 1);
        for (const Event& event : page.events_of(page.measures[m]))
            CHECK(std::holds_alternative<Sounded>(event.what) == (m < 2));
    }
    CHECK(page.chords_of(page.measures[3]).front().symbol == parse_chord_symbol("F"));
    REQUIRE(page.texts.size() == 1);
    CHECK(page.texts.front().measure == 2);
}

TEST_CASE("a slur of which an end is not to be seen is none", "[notation]") {
    WrittenMusic music = notate(notes_of(kHalf, 6), for_flute());
    const auto note = [](WrittenMusic& of, std::size_t i) -> Sounded& {
        return std::get<Sounded>(of.events[i].what);
    };
    // Within the first bar, and over the next bar line.
    note(music, 0).slur_starts = note(music, 1).slur_stops = true;
    note(music, 1).slur_starts = note(music, 2).slur_stops = true;
    WrittenMusic page = with_empty_staves(music, 1);
    CHECK(note(page, 0).slur_starts);
    CHECK(note(page, 1).slur_stops);
    CHECK_FALSE(note(page, 1).slur_starts);
    // The second and third bar of four are not kept: the slur out of the first has no end, that into the
    // fourth no beginning.
    note(music, 3).slur_starts = note(music, 4).slur_stops = true;
    WrittenMusic gaps = with_gaps(music, 2);
    CHECK_FALSE(note(gaps, 1).slur_starts);
    for (Event& event : gaps.events) {
        if (auto* kept = std::get_if<Sounded>(&event.what);
            kept != nullptr && event.at == 0 && &event != &gaps.events[0])
            CHECK_FALSE(kept->slur_stops);
    }
}

TEST_CASE("a page with gaps has notes in the first half of every so many bars, and no tie into them",
          "[notation]") {
    ConcertLine line;
    for (int i = 0; i < 8; ++i)
        line.notes.push_back({*parse_pitch("G4"), Position{} + kHalf + kWhole * Rational{i}, kWhole});
    line.length = Duration{Rational{9}};
    const NotateOptions options = for_flute();
    const WrittenMusic page = with_gaps(notate(line, options), 4);
    for (std::size_t m = 0; m < page.measures.size(); ++m) {
        const auto events = page.events_of(page.measures[m]);
        const bool is_kept = m % 4 < 2;
        bool has_notes = false;
        for (const Event& event : events)
            has_notes = has_notes || std::holds_alternative<Sounded>(event.what);
        CHECK(has_notes == is_kept);
        if (!is_kept) continue;
        const auto* first = std::get_if<Sounded>(&events.front().what);
        const auto* last = std::get_if<Sounded>(&events.back().what);
        if (first != nullptr && m % 4 == 0) CHECK_FALSE(first->tied_from_before);
        if (last != nullptr && m % 4 == 1) CHECK_FALSE(last->tied_on);
    }
}

}  // namespace shedbook
