// Chords for the hands of a keyboard; what they hold is common practice, no source.
#include "shedbook/band/hands.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

namespace shedbook {
namespace {

std::vector<ChordSymbol> symbols_of(const std::vector<std::string>& texts) {
    std::vector<ChordSymbol> out;
    for (const std::string& text : texts) out.push_back(*parse_chord_symbol(text));
    return out;
}

std::vector<ChordSymbol> on_root(const std::vector<ChordSymbol>& symbols, int fifths) {
    std::vector<ChordSymbol> out;
    for (const ChordSymbol& symbol : symbols)
        out.push_back(transposed(symbol, PitchClass::from_fifths(fifths) - kC));
    return out;
}

bool holds(const Voicing& chord, int pitch_class) {
    return std::ranges::any_of(chord, [&](int key) { return key % 12 == pitch_class; });
}

const std::vector<std::vector<std::string>> kRows{{"Dm7", "G7", "Cmaj7"},
                                                  {"Dm7b5", "G7b9", "Cm6"},
                                                  {"Dm9", "G13", "C6"},
                                                  {"Em7", "A7alt", "Dm7", "G7sus4", "Cmaj7(#11)"}};

}  // namespace

TEST_CASE("rootless chords have the third and seventh of each and lie under one hand", "[band]") {
    for (const auto& row : kRows) {
        for (int fifths = -6; fifths < 6; ++fifths) {
            const std::vector<ChordSymbol> symbols = on_root(symbols_of(row), fifths);
            const std::vector<Voicing> chords = rootless_chords(symbols, {57, 72});
            REQUIRE(chords.size() == symbols.size());
            for (std::size_t i = 0; i < chords.size(); ++i) {
                INFO(to_string(symbols[i]));
                const std::vector<int> tones = comping_tones(symbols[i]);
                CHECK(holds(chords[i], tones[0]));
                CHECK(holds(chords[i], tones[1]));
                CHECK(std::ranges::is_sorted(chords[i]));
                CHECK(chords[i].front() >= 57);
                CHECK(chords[i].back() <= 72);
                CHECK(chords[i].size() >= 3);
            }
        }
    }
}

TEST_CASE("no voice of a cadence moves more than a fourth", "[band]") {
    for (int fifths = -6; fifths < 6; ++fifths) {
        const auto chords = rootless_chords(on_root(symbols_of(kRows.front()), fifths), {52, 67});
        for (std::size_t i = 1; i < chords.size(); ++i) {
            REQUIRE(chords[i].size() == chords[i - 1].size());
            for (std::size_t v = 0; v < chords[i].size(); ++v)
                CHECK(std::abs(chords[i][v] - chords[i - 1][v]) <= 5);
        }
    }
}

TEST_CASE("a second time begins on another note of the chord", "[band]") {
    const std::vector<ChordSymbol> symbols = symbols_of(kRows.front());
    const Voicing first = rootless_chords(symbols, {52, 67}).front();
    const Voicing second = rootless_chords(symbols, {52, 67}, first).front();
    CHECK(first.front() % 12 != second.front() % 12);
}

TEST_CASE("a shell has the bass below and a guide tone within a seventh, none of them in the mud", "[band]") {
    for (const auto& row : kRows) {
        for (int fifths = -6; fifths < 6; ++fifths) {
            const std::vector<ChordSymbol> symbols = on_root(symbols_of(row), fifths);
            const std::vector<Voicing> chords = shells(symbols, {40, 64});
            for (std::size_t i = 0; i < chords.size(); ++i) {
                INFO(to_string(symbols[i]));
                REQUIRE(chords[i].size() == 2);
                const std::vector<int> tones = comping_tones(symbols[i]);
                CHECK(chords[i][0] % 12 == symbols[i].root.semitone());
                CHECK((chords[i][1] % 12 == tones[0] || chords[i][1] % 12 == tones[1]));
                CHECK(chords[i][1] - chords[i][0] <= 11);
                CHECK((chords[i][0] >= 43 || chords[i][1] - chords[i][0] > 4));
            }
        }
    }
}

TEST_CASE("a shell of a slash chord stands on its bass, one of a plain triad on its root", "[band]") {
    CHECK(shells(symbols_of({"Dm7/G"}), {40, 64}).front().front() % 12 == 7);
    const Voicing triad = shells(symbols_of({"C"}), {40, 64}).front();
    CHECK(triad.front() % 12 == 0);
    CHECK(triad.back() % 12 == 4);
}

}  // namespace shedbook
