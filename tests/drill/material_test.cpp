#include "shedbook/drill/material.h"

#include <catch2/catch.hpp>
#include <string>

namespace shedbook {
namespace {

std::string notes(const char* material, const char* chord, const char* scale) {
    const ScaleLadder ladder{*parse_scale(scale), parse_chord_symbol(chord)};
    const auto played = ladder_of(material, ladder);
    if (!played) return "none";
    std::string out;
    for (const PitchClass note : played->notes()) out += (out.empty() ? "" : " ") + to_string(note);
    return out;
}

}  // namespace

TEST_CASE("a pentatonic suits its chord", "[drill]") {
    // Common practice, no source: 1 over a major chord, b3 of a minor seventh, b5 of an altered dominant.
    CHECK(notes("pentatonic", "Cmaj7", "C ionian") == "C D E G A");
    CHECK(notes("pentatonic", "Dm7", "D dorian") == "D F G A C");
    CHECK(notes("pentatonic", "G7", "G mixolydian") == "G A B D E");
    CHECK(notes("pentatonic", "C7alt", "C altered") == "Gb Ab Bb Db Eb");
    CHECK(notes("pentatonic", "Bm7b5", "B locrian") == "B D E F A");
    CHECK(notes("pentatonic on the fifth", "Cmaj7", "C ionian") == "G A B D E");
    CHECK(notes("pentatonic on the second", "Cmaj7", "C lydian") == "D E F# A B");
    CHECK(notes("pentatonic on the second", "Cmaj7", "C ionian") == "none");
}

TEST_CASE("an added note brings the chord onto every other note", "[drill]") {
    // Hutchinson, Music Theory for the 21st-Century Classroom, 31.9: dominant and major.
    CHECK(notes("added note", "G7", "G mixolydian") == "G A B C D E F F#");
    CHECK(notes("added note", "Cmaj7", "C ionian") == "C D E F G G# A B");
    CHECK(notes("added note", "Dm7", "D dorian") == "D E F G A B C C#");
    CHECK(notes("added note", "G7b9", "G half-whole diminished") == "none");
    CHECK(notes("added note", "G7sus4", "G mixolydian") == "none");
}

TEST_CASE("a pair of triads takes every other note each", "[drill]") {
    // Common practice, no source.
    CHECK(notes("triad pair", "Cmaj7", "C lydian") == "C D E F# G A");
    CHECK(notes("triad pair", "Dm7", "D dorian") == "F G A B C D");
    CHECK(notes("triad pair", "C7alt", "C altered") == "Gb Ab Bb C Db Eb");
    CHECK(notes("triad pair", "Cmaj7", "C ionian") == "G A B C D E");
}

TEST_CASE("guide tones are third and seventh", "[drill]") {
    // Hutchinson, 31.7.
    CHECK(notes("guide tones", "Dm7", "D dorian") == "F C");
    CHECK(notes("guide tones", "Cdim7", "C whole-half diminished") == "Eb A");
    CHECK(notes("guide tones", "C6", "C ionian") == "E A");
    CHECK(notes("guide tones", "G7sus4", "G mixolydian") == "C F");
}

TEST_CASE("a blue note is raised on the way up and lowered on the way down", "[drill]") {
    // Notes: Hutchinson, 31.9. Names by direction: common practice, no source.
    const ScaleLadder ladder{*parse_scale("C mixolydian"), parse_chord_symbol("C7")};
    const auto blues = ladder_of("blues", ladder);
    REQUIRE(blues);
    const Pitch bottom{kC, 4};
    CHECK(to_string(blues->pitch(3, bottom)) == "F#4");
    CHECK(to_string(blues->falling_pitch(3, bottom)) == "Gb4");
    CHECK(notes("blues", "C6", "C ionian") == "C D D# E G A");
    const ScaleLadder in_f{*parse_scale("C mixolydian"), parse_chord_symbol("C7"), parse_pitch_class("F")};
    const auto of_key = ladder_of("blues of the key", in_f);
    REQUIRE(of_key);
    CHECK(to_string(of_key->notes().front()) == "F");
    CHECK(of_key->size() == 6);
}

TEST_CASE("every material of the table is found over some chord, and no row is in vain", "[drill]") {
    for (const MaterialRow& row : material_rows()) {
        INFO(row.material << ": " << row.notes);
        CHECK_FALSE(row.source.empty());
        bool found = false;
        for (const ScaleType& type : scale_types()) {
            const Scale scale{kC, &type};
            for (const ChordKind& kind : chord_kinds()) {
                const ScaleLadder ladder{scale, ChordSymbol{kC, &kind, {}, std::nullopt}};
                found = found || ladder_of(row.material, ladder).has_value();
            }
        }
        CHECK(found);
    }
}

}  // namespace shedbook
