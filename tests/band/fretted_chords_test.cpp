// Chords on a fretboard; what they hold is common practice, no source.
#include "shedbook/band/fretted_chords.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

namespace shedbook {
namespace {

const Fretboard kGuitar{{40, 45, 50, 55, 59, 64}, {1, 12}, {40, 88}, 4, 3};
const Fretboard kPlainGuitar{{40, 45, 50, 55, 59, 64}, {1, 12}, {40, 88}, 4, 3, true};
const Fretboard kUkulele{{67, 60, 64, 69}, {1, 12}, {60, 81}};
const Fretboard kInFifths{{48, 55, 62, 69}, {1, 12}, {48, 81}, 7, 7};

std::vector<ChordSymbol> moved_row(const std::vector<std::string>& texts, int fifths) {
    std::vector<ChordSymbol> out;
    for (const std::string& text : texts)
        out.push_back(transposed(*parse_chord_symbol(text), PitchClass::from_fifths(fifths) - kC));
    return out;
}

const std::vector<std::vector<std::string>> kChanges{{"Dm7", "G7", "Cmaj7"},
                                                     {"Dm7b5", "G7b9", "Cm6"},
                                                     {"Em7", "A7alt", "Dm9", "G13", "C6"},
                                                     {"Ebdim7", "C7(#9)", "Fmaj7(#11)", "G7sus4"},
                                                     {"C", "Am", "Fsus4", "Gaug", "Bdim"}};

std::string words_of(const FrettedChord& chord) {
    std::string out;
    for (const std::optional<int>& fret : chord.frets)
        out += (out.empty() ? "" : " ") + (fret ? std::to_string(*fret) : "x");
    return out;
}

void check_shape(const FrettedChord& chord, const ChordSymbol& symbol, const Fretboard& board) {
    INFO(to_string(symbol));
    std::vector<int> frets;
    std::vector<std::size_t> strings;
    std::vector<int> keys;
    REQUIRE(chord.frets.size() == board.open.size());
    for (std::size_t s = 0; s < chord.frets.size(); ++s) {
        if (!chord.frets[s]) continue;
        strings.push_back(s);
        frets.push_back(*chord.frets[s]);
        keys.push_back(board.open[s] + *chord.frets[s]);
    }
    const bool has_low_strings = board.open.size() >= kStringsWithBasses;
    REQUIRE(frets.size() >= (has_low_strings ? 3U : 4U));
    REQUIRE(frets.size() <= 4);
    CHECK(strings.back() - strings.front() <= (has_low_strings ? 4U : 3U));
    const auto [least, most] = std::ranges::minmax(frets);
    CHECK(most - least < board.width);
    CHECK(least >= board.frets.low);
    CHECK(most <= board.frets.high);
    std::ranges::sort(keys);
    CHECK(keys == chord.keys);
    const std::vector<int> tones = comping_tones(symbol);
    for (const int guide : {tones[0], tones[1]})
        CHECK(std::ranges::any_of(keys, [&](int key) { return key % 12 == guide; }));
}

}  // namespace

TEST_CASE("every shape lies under a hand, one note a string, with third and seventh", "[band]") {
    for (const Fretboard& board : {kGuitar, kUkulele, kInFifths}) {
        for (const auto& row : kChanges) {
            for (int fifths = -6; fifths < 6; ++fifths) {
                const std::vector<ChordSymbol> symbols = moved_row(row, fifths);
                const std::vector<FrettedChord> shapes = comping_shapes(symbols, board);
                REQUIRE(shapes.size() == symbols.size());
                for (std::size_t i = 0; i < shapes.size(); ++i) check_shape(shapes[i], symbols[i], board);
            }
        }
    }
}

TEST_CASE("the root of a shape is its lowest note, or not in it where there are colours enough", "[band]") {
    for (int fifths = -6; fifths < 6; ++fifths) {
        const std::vector<ChordSymbol> symbols = moved_row({"Dm9", "G13", "Cmaj9", "A7alt"}, fifths);
        const std::vector<FrettedChord> shapes = comping_shapes(symbols, kGuitar);
        for (std::size_t i = 0; i < shapes.size(); ++i) {
            for (std::size_t k = 1; k < shapes[i].keys.size(); ++k)
                CHECK(shapes[i].keys[k] % 12 != symbols[i].root.semitone());
        }
    }
}

// A written bass is a line of its own: it is what the symbol is written for (common practice, no source).
TEST_CASE("a written bass is the lowest note of its shape, but where no hand reaches it", "[band]") {
    int written = 0;
    int lowest = 0;
    for (int fifths = -6; fifths < 6; ++fifths) {
        for (const std::vector<std::string>& row :
             {std::vector<std::string>{"Cmaj7", "Cmaj7/E", "Dm7", "G7/B"},
              {"Dm7", "Dm7/C", "G7/B", "Cmaj7"}}) {
            const std::vector<ChordSymbol> symbols = moved_row(row, fifths);
            const std::vector<FrettedChord> shapes = comping_shapes(symbols, kGuitar);
            REQUIRE(shapes.size() == symbols.size());
            for (std::size_t i = 0; i < shapes.size(); ++i) {
                if (!symbols[i].bass) continue;
                ++written;
                lowest += shapes[i].keys.front() % 12 == symbols[i].bass->semitone() ? 1 : 0;
            }
        }
    }
    // A major seventh over its third, on four strings beside each other, is out of reach in three keys.
    CHECK(written - lowest <= 3);
}

TEST_CASE("what a symbol names beyond the seventh is in its shape", "[band]") {
    for (const char* text : {"G7(b9)", "Dm9", "C7(#9)", "Fmaj7(#11)"}) {
        INFO(text);
        const ChordSymbol symbol = *parse_chord_symbol(text);
        const int colour = (symbol.root.semitone() + tones(symbol).back().above_root.semitones()) % 12;
        const std::vector<int> keys = comping_shapes(std::span{&symbol, 1}, kGuitar).front().keys;
        CHECK(std::ranges::any_of(keys, [&](int key) { return key % 12 == colour; }));
    }
}

TEST_CASE("over the bass no voice of a cadence in shapes moves more than a fourth", "[band]") {
    for (int fifths = -6; fifths < 6; ++fifths) {
        const std::vector<FrettedChord> shapes = comping_shapes(moved_row(kChanges.front(), fifths), kGuitar);
        for (std::size_t i = 1; i < shapes.size(); ++i) {
            for (std::size_t v = 1; v < std::min(shapes[i].keys.size(), shapes[i - 1].keys.size()); ++v)
                CHECK(std::abs(shapes[i].keys[v] - shapes[i - 1].keys[v]) <= 5);
        }
    }
}

// What is fingered first in lessons: common practice, no source.
TEST_CASE("the first shapes are root, third and seventh with the root on one of the low strings", "[band]") {
    const auto shapes = comping_shapes(moved_row({"Gm7", "C7", "F7"}, 0), kPlainGuitar);
    const std::vector<std::string> expected{"3 x 3 3 x x", "x 3 2 3 x x", "1 x 1 2 x x"};
    REQUIRE(shapes.size() == expected.size());
    for (std::size_t i = 0; i < shapes.size(); ++i) CHECK(words_of(shapes[i]) == expected[i]);
}

TEST_CASE("a guitar's shapes lie on the root, within three frets below the eighth", "[band]") {
    for (const Fretboard& board : {kGuitar, kPlainGuitar}) {
        for (const auto& row : kChanges) {
            for (int fifths = -6; fifths < 6; ++fifths) {
                const std::vector<ChordSymbol> symbols = moved_row(row, fifths);
                const auto shapes = comping_shapes(symbols, board);
                for (std::size_t i = 0; i < shapes.size(); ++i) {
                    INFO(to_string(symbols[i]) << " " << words_of(shapes[i]));
                    CHECK(shapes[i].keys.front() % 12 == symbols[i].root.semitone());
                    int low = 99;
                    int high = 0;
                    for (const std::optional<int>& fret : shapes[i].frets) {
                        low = std::min(low, fret.value_or(low));
                        high = std::max(high, fret.value_or(high));
                    }
                    CHECK(high - low <= (low <= 7 ? 2 : 3));
                }
            }
        }
    }
}

TEST_CASE("a second time the shape lies on another string", "[band]") {
    const std::vector<ChordSymbol> symbols = moved_row({"Gm7"}, 0);
    const FrettedChord first = comping_shapes(symbols, kPlainGuitar).front();
    CHECK(words_of(comping_shapes(symbols, kPlainGuitar, first).front()) == "x 10 8 10 x x");
}

TEST_CASE("shapes stay in the frets that are asked for; where a chord has none there, there are none",
          "[band]") {
    Fretboard board = kGuitar;
    board.frets = {5, 9};
    const std::vector<ChordSymbol> symbols = moved_row(kChanges.front(), 0);
    const std::vector<FrettedChord> shapes = comping_shapes(symbols, board);
    REQUIRE(shapes.size() == 3);
    for (std::size_t i = 0; i < shapes.size(); ++i) check_shape(shapes[i], symbols[i], board);
    board.frets = {1, 2};
    CHECK(comping_shapes(symbols, board).empty());
}

}  // namespace shedbook
