// A rhythm section at play: bass, chords and drums in a style, chorus by chorus, listening to the line. The
// figures of the styles are data (templates/band.toml); chords, bars, line and seed decide which are played.
// Places are written ones; swing, delays and loudness come later.
//
//     RhythmSection band{chords, bars, line, {{Position{}, 2, true}}, {}, BandStyle::Swing, 1};
//     play_bass(band); play_chords(band); play_drums(band);
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "shedbook/band/accompaniment.h"
#include "shedbook/base/enum_table.h"

namespace shedbook {

enum class BandStyle { Swing, Latin, Pop, Straight, Shuffle, Ballad, Waltz, SixEight };
template <>
inline constexpr Worded<BandStyle> kWords<BandStyle>[] = {
    {BandStyle::Swing, "swing"},       {BandStyle::Latin, "latin"},       {BandStyle::Pop, "pop"},
    {BandStyle::Straight, "straight"}, {BandStyle::Shuffle, "shuffle"},   {BandStyle::Ballad, "ballad"},
    {BandStyle::Waltz, "waltz"},       {BandStyle::SixEight, "six-eight"}};

// How a style plays its off-beat eighths.
enum class Eighths { Swing, Straight, OnTriplets };
template <>
inline constexpr Worded<Eighths> kWords<Eighths>[] = {
    {Eighths::Swing, "swing"}, {Eighths::Straight, "straight"}, {Eighths::OnTriplets, "12-8"}};

// The style that the words of a tune's Feel name; nothing: they name none.
[[nodiscard]] std::optional<BandStyle> style_named(std::string_view words);
[[nodiscard]] Eighths eighths_of(BandStyle style);
// Whether its drummer takes brushes.
[[nodiscard]] bool has_brushes(BandStyle style);

enum class BassPulse {
    Four,  // a note on each beat
    Two,   // half as many
};
template <>
inline constexpr Worded<BassPulse> kWords<BassPulse>[] = {{BassPulse::Four, "four"}, {BassPulse::Two, "two"}};

// What the words of a tune have the bass do.
enum class PulseAsked {
    TwoThenFour,  // in two at first: a chorus, or half of the only one
    Two,
};
template <>
inline constexpr Worded<PulseAsked> kWords<PulseAsked>[] = {{PulseAsked::TwoThenFour, "two-then-four"},
                                                            {PulseAsked::Two, "two"}};
// Nothing: they say nothing of it.
[[nodiscard]] std::optional<PulseAsked> pulse_named(std::string_view words);

inline constexpr int kFullest = 3;

// A time through, from its place to the next one.
struct BandChorus {
    Position at;
    int full = 1;  // 1 to kFullest: how much chords and drums do
    BassPulse pulse = BassPulse::Four;
};

// A chord that is struck and held while everything comes to rest.
struct BandEnding {
    Position at;
    Duration length;
    ChordSymbol symbol;
};

struct RhythmSection {
    std::span<const BandChord> chords;
    std::span<const BandBar> bars;
    std::span<const BandNote> line;  // what they listen to, rising in time; may be empty
    std::vector<BandChorus> choruses;
    std::vector<Position> sections;  // where sections of the form begin, rising
    BandStyle style = BandStyle::Swing;
    unsigned seed = 1;
    std::optional<BandEnding> ending;  // nothing after it sounds
    std::vector<Position> holds = {};  // fermatas: the note of the bass that stops there is its chord's
    double quarters_per_minute = 120;  // at first: a drummer plays another way fast than slowly
};

// The highest note of the bass here: the G on the first string, G3.
inline constexpr int kBandBassHighest = 55;
// And where the chords lie: D3 to C#5, each note in two places.
inline constexpr int kBandChordsLowest = 50;
inline constexpr int kBandChordsHighest = 73;

// One note at a time, from kBassLowest to kBandBassHighest. In swing, ballad and waltz it walks; what it
// does from beat to beat comes as often as in published figures (src/band/bass_plan.cpp). Written slash
// basses are kept.
[[nodiscard]] std::vector<BandNote> play_bass(const RhythmSection& band);

// Chords for one hand, guide tones in each, the root left to the bass where a chord has enough without it.
// Less under a busy line and more in its rests; no guide tone on a key that the line plays.
[[nodiscard]] std::vector<BandNote> play_chords(const RhythmSection& band);

enum class Drum { Kick, Snare, SideStick, Sweep, HiHat, HiHatFoot, Ride, Crash, HighTom, LowTom };
template <>
inline constexpr Worded<Drum> kWords<Drum>[] = {
    {Drum::Kick, "kick"},     {Drum::Snare, "snare"},  {Drum::SideStick, "side-stick"},
    {Drum::Sweep, "sweep"},   {Drum::HiHat, "hi-hat"}, {Drum::HiHatFoot, "hi-hat-foot"},
    {Drum::Ride, "ride"},     {Drum::Crash, "crash"},  {Drum::HighTom, "high-tom"},
    {Drum::LowTom, "low-tom"}};

struct DrumNote {
    Position at;
    Drum drum = Drum::Ride;
    Touch touch = Touch::Plain;
    friend bool operator==(const DrumNote&, const DrumNote&) = default;
};

// Where a chart has no chord only the hi-hat goes on, so that everybody finds the way back; where a piece
// has no chords at all, everything.
[[nodiscard]] std::vector<DrumNote> play_drums(const RhythmSection& band);

}  // namespace shedbook
