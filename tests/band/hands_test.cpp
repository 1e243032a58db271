// Chords for the hands of a keyboard; what they hold is common practice, no source.
#include "shedbook/band/hands.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

namespace shedbook {
namespace {

std::vector<HandChord> chords_of(const std::vector<std::string>& texts) {
    std::vector<HandChord> out;
    for (const std::string& text : texts) out.push_back({*parse_chord_symbol(text)});
    return out;
}

std::vector<HandChord> on_root(std::vector<HandChord> chords, int fifths) {
    for (HandChord& chord : chords)
        chord.symbol = transposed(chord.symbol, PitchClass::from_fifths(fifths) - kC);
    return chords;
}

int over_root(const HandChord& chord, int key) {
    return (key - chord.symbol.root.semitone() + 12) % 12;
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
            const std::vector<HandChord> symbols = on_root(chords_of(row), fifths);
            const std::vector<Voicing> chords = rootless_chords(symbols, {57, 72});
            REQUIRE(chords.size() == symbols.size());
            for (std::size_t i = 0; i < chords.size(); ++i) {
                INFO(to_string(symbols[i].symbol));
                const std::vector<int> tones = comping_tones(symbols[i].symbol);
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
        const auto chords = rootless_chords(on_root(chords_of(kRows.front()), fifths), {52, 67});
        for (std::size_t i = 1; i < chords.size(); ++i) {
            REQUIRE(chords[i].size() == chords[i - 1].size());
            for (std::size_t v = 0; v < chords[i].size(); ++v)
                CHECK(std::abs(chords[i][v] - chords[i - 1][v]) <= 5);
        }
    }
}

TEST_CASE("a second time begins on another note of the chord", "[band]") {
    const std::vector<HandChord> symbols = chords_of(kRows.front());
    const Voicing first = rootless_chords(symbols, {52, 67}).front();
    const Voicing second = rootless_chords(symbols, {52, 67}, first).front();
    CHECK(first.front() % 12 != second.front() % 12);
}

TEST_CASE("no voicing has a half step at the bottom, nor a sharp ninth beside its third", "[band]") {
    for (const auto& row : kRows) {
        for (int fifths = -6; fifths < 6; ++fifths) {
            const std::vector<HandChord> chords = on_root(chords_of(row), fifths);
            const std::vector<Voicing> played = rootless_chords(chords, {57, 74});
            for (std::size_t i = 0; i < played.size(); ++i) {
                INFO(to_string(chords[i].symbol));
                CHECK(played[i][1] - played[i][0] > 1);
                for (std::size_t v = 1; v < played[i].size(); ++v) {
                    if (played[i][v] - played[i][v - 1] > 1) continue;
                    CHECK_FALSE(over_root(chords[i], played[i][v]) == 4);
                }
            }
        }
    }
}

TEST_CASE("an altered chord alone has its sharp ninth on top, or a flat one", "[band]") {
    for (int fifths = -6; fifths < 6; ++fifths) {
        const std::vector<HandChord> chords = on_root(chords_of({"G7alt"}), fifths);
        const Voicing played = rootless_chords(chords, {57, 74}).front();
        REQUIRE(played.size() == 4);
        for (std::size_t v = 0; v + 1 < played.size(); ++v) CHECK(over_root(chords[0], played[v]) != 3);
    }
}

TEST_CASE("the highest voice of voicings moves by a third at most", "[band]") {
    for (const auto chords_of_hand : {rootless_chords, guide_tone_chords}) {
        for (const auto& row : kRows) {
            for (int fifths = -6; fifths < 6; ++fifths) {
                const auto played = chords_of_hand(on_root(chords_of(row), fifths), {57, 74}, {});
                for (std::size_t i = 1; i < played.size(); ++i)
                    CHECK(std::abs(played[i].back() - played[i - 1].back()) <= kMostAtTop);
            }
        }
    }
}

TEST_CASE("who begins has third and seventh alone, of a plain triad third and fifth", "[band]") {
    const auto classes = [](const char* text) {
        std::vector<int> out;
        const Voicing played = guide_tone_chords(chords_of({text}), {57, 74}).front();
        for (const int key : played) out.push_back(key % 12);
        std::ranges::sort(out);
        return out;
    };
    CHECK(classes("G7") == std::vector{5, 11});
    CHECK(classes("Cmaj7") == std::vector{4, 11});
    CHECK(classes("C") == std::vector{4, 7});
}

TEST_CASE("a ninth of the scale is in a chord that has room for it", "[band]") {
    HandChord chord{*parse_chord_symbol("Dm7"), *parse_pitch_class("E")};
    CHECK(holds(rootless_chords(std::span{&chord, 1}, {57, 74}).front(), 4));
    chord.ninth.reset();
    CHECK_FALSE(holds(rootless_chords(std::span{&chord, 1}, {57, 74}).front(), 4));
}

TEST_CASE("under the chords lies the root, or the bass behind the slash", "[band]") {
    const std::vector<Voicing> played = bass_notes(chords_of({"Dm7", "G7", "Dm7/G", "C"}), {40, 55});
    const std::vector<int> expected{2, 7, 7, 0};
    for (std::size_t i = 0; i < played.size(); ++i) {
        REQUIRE(played[i].size() == 1);
        CHECK(played[i][0] % 12 == expected[i]);
        CHECK(played[i][0] >= 40);
        CHECK(played[i][0] <= 55);
    }
}

}  // namespace shedbook
