// What is true of a drill's notes, however its pattern is written: a template says it under `keeps`, and
// tests look whether the notes keep it. docs/drills.md has the words.
//
//     keeps = { group = 2, shape = "1 3", moves = "scale", direction = "by turns", mirror = true }
#pragma once

#include <optional>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/base/time.h"
#include "shedbook/io/data.h"

namespace shedbook {

struct DrillInvariants {
    // Which notes sound.
    enum class Tones {
        Free,
        Scale,
        Chord,
        Root,
        Pentatonic,   // five of the scale, none that the chord avoids
        TriadsApart,  // each group a triad of the scale, with no note of the one before
        Blues,
        BluesOfKey,
        AddedNote,  // chord tones on the beats, the note that no scale of seven has off them
    };
    enum class Among { Free, Scale, Chord };
    // Of the notes of a group; the walk is the way that the groups' lowest notes go.
    enum class Direction { Free, Up, Down, ByTurns, ByTurnsFromAbove, WithWalk, AgainstWalk };
    enum class Steps { Free, Next, AnyOctave };  // to a neighbour in the scale; whatever its octave
    enum class Home { Free, Start, Tonic };      // ends where it began; both on the tonic
    enum class Side { Free, Above, Below, Both };
    enum class By { Free, HalfStep, Step };

    Tones tones = Tones::Free;
    int group = 0;                // notes that belong together; 0: none do
    std::vector<int> shape;       // degrees of a group over its lowest note, 0 that note, in rising order
    Among moves = Among::Free;    // the lowest notes of groups are neighbours there
    Among targets = Among::Free;  // the groups' first notes are of these
    Direction direction = Direction::Free;
    bool mirror = false;  // the groups of the way down are those of the way up, backwards
    Steps steps = Steps::Free;
    std::optional<int> turns;  // of the whole line, at most
    Home home = Home::Free;
    std::optional<Duration> beat;   // groups begin on its multiples
    int meets = 0;                  // a group meets the quarter again after so many notes, and not before
    int lead = 0;                   // so many last notes of a group lead to the first of the next
    Side lead_from = Side::Free;    // these lie there beside it, a whole step away at most
    By lead_by = By::Free;          // each of them
    std::optional<Duration> notes;  // each note but the last is so long
    int span = 0;                   // degree from the lowest to the highest note of a group; 0: not said
    bool through_range = false;     // another step at either end would be outside
    int heard = 0;                  // different notes, if nothing is shortened; 0: not said
    friend bool operator==(const DrillInvariants&, const DrillInvariants&) = default;
};

template <>
inline constexpr Worded<DrillInvariants::Tones> kWords<DrillInvariants::Tones>[] = {
    {DrillInvariants::Tones::Free, "free"},
    {DrillInvariants::Tones::Scale, "scale"},
    {DrillInvariants::Tones::Chord, "chord"},
    {DrillInvariants::Tones::Root, "root"},
    {DrillInvariants::Tones::Pentatonic, "pentatonic"},
    {DrillInvariants::Tones::TriadsApart, "triads apart"},
    {DrillInvariants::Tones::Blues, "blues"},
    {DrillInvariants::Tones::BluesOfKey, "blues of the key"},
    {DrillInvariants::Tones::AddedNote, "added note"}};
template <>
inline constexpr Worded<DrillInvariants::Among> kWords<DrillInvariants::Among>[] = {
    {DrillInvariants::Among::Free, "free"},
    {DrillInvariants::Among::Scale, "scale"},
    {DrillInvariants::Among::Chord, "chord"}};
template <>
inline constexpr Worded<DrillInvariants::Direction> kWords<DrillInvariants::Direction>[] = {
    {DrillInvariants::Direction::Free, "free"},
    {DrillInvariants::Direction::Up, "up"},
    {DrillInvariants::Direction::Down, "down"},
    {DrillInvariants::Direction::ByTurns, "by turns"},
    {DrillInvariants::Direction::ByTurnsFromAbove, "by turns, from above"},
    {DrillInvariants::Direction::WithWalk, "with the walk"},
    {DrillInvariants::Direction::AgainstWalk, "against the walk"}};
template <>
inline constexpr Worded<DrillInvariants::Steps> kWords<DrillInvariants::Steps>[] = {
    {DrillInvariants::Steps::Free, "free"},
    {DrillInvariants::Steps::Next, "next"},
    {DrillInvariants::Steps::AnyOctave, "any octave"}};
template <>
inline constexpr Worded<DrillInvariants::Home> kWords<DrillInvariants::Home>[] = {
    {DrillInvariants::Home::Free, "free"},
    {DrillInvariants::Home::Start, "start"},
    {DrillInvariants::Home::Tonic, "tonic"}};
template <>
inline constexpr Worded<DrillInvariants::Side> kWords<DrillInvariants::Side>[] = {
    {DrillInvariants::Side::Free, "free"},
    {DrillInvariants::Side::Above, "above"},
    {DrillInvariants::Side::Below, "below"},
    {DrillInvariants::Side::Both, "both"}};
template <>
inline constexpr Worded<DrillInvariants::By> kWords<DrillInvariants::By>[] = {
    {DrillInvariants::By::Free, "free"},
    {DrillInvariants::By::HalfStep, "half step"},
    {DrillInvariants::By::Step, "step"}};

// The table of a `keeps` field; what it does not say stays as it is in `out`. False, with an error at its
// place, if anything is wrong.
[[nodiscard]] bool read_invariants(const SourceText& source, const Data& table, DrillInvariants& out,
                                   Diagnostics& diagnostics);

}  // namespace shedbook
