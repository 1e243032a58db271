// Riffs of the blues: a call of two bars and its answer of two, in degrees over the tonic. Data:
// templates/riffs.toml.
//
//     for (const Riff* riff : riffs_for({.is_minor = true, .level = 3})) riff->call.notes.front();
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/etude/ground.h"
#include "shedbook/etude/phrase.h"

namespace shedbook {

enum class RiffMode { Any, Major, Minor };
template <>
inline constexpr Worded<RiffMode> kWords<RiffMode>[] = {
    {RiffMode::Any, "any"}, {RiffMode::Major, "major"}, {RiffMode::Minor, "minor"}};

inline constexpr Duration kRiffHalf{Rational{2}};  // two bars of 4/4: what calls, or what answers

struct Riff {
    std::string id;
    std::string about;  // its idea in a few words
    RiffMode mode = RiffMode::Any;
    PhraseFeel feel = PhraseFeel::Any;
    int level = 1;
    PhraseFigure call, answer;  // of kRiffHalf each
};

// The [[riff]] entries of a file; what is wrong is said at its place.
[[nodiscard]] std::vector<Riff> read_riffs(const SourceText& source, Diagnostics& diagnostics);
// Those that come with the program.
[[nodiscard]] const std::vector<Riff>& riffs();

struct RiffWish {
    bool is_minor = false;
    bool is_straight = false;
    int level = 1;
};
// Of the highest level up to that of the wish, in the order of the file; never empty.
[[nodiscard]] std::vector<const Riff*> riffs_for(const RiffWish& wish);

// A note of a riff as it stands over the tonic of a tune.
struct RiffNote {
    std::size_t bar = 0;  // of its two
    Duration in_bar;
    Duration length;
    Pitch pitch;  // from the fourth octave on
};
// As the tune's first chord on its tonic has the degrees; where there is none, Dorian or Mixolydian.
[[nodiscard]] std::vector<RiffNote> over_tonic(const PhraseFigure& figure, const EtudeGround& ground);

}  // namespace shedbook
