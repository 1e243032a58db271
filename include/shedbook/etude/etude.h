// Etudes: lines through the changes of a whole tune, each kind a named idea. One seed, one etude.
//
//     EtudeRequest request{.kind = "guide-tones", .level = 2};
//     ConcertLine line = make_etude(ground, request, range);
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/etude/ground.h"
#include "shedbook/etude/handling.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

inline constexpr int kHighestLevel = 6;

// How many notes, against what players usually play.
enum class Density { Sparse, Usual, Busy };
template <>
inline constexpr Worded<Density> kWords<Density>[] = {
    {Density::Sparse, "sparse"}, {Density::Usual, "usual"}, {Density::Busy, "busy"}};
// What a pair of eighths is: swung or straight they are written alike; in triplets, as three to the beat.
enum class EtudeFeel { Swing, Straight, Triplets };
template <>
inline constexpr Worded<EtudeFeel> kWords<EtudeFeel>[] = {
    {EtudeFeel::Swing, "swing"}, {EtudeFeel::Straight, "straight"}, {EtudeFeel::Triplets, "triplets"}};

// What the rhythm and the notes are taken from: templates/etude_styles.toml.
enum class EtudeStyle { Swing, Traditional, Ballad, Latin, Waltz, Compound, Modern };
template <>
inline constexpr Worded<EtudeStyle> kWords<EtudeStyle>[] = {
    {EtudeStyle::Swing, "swing"},   {EtudeStyle::Traditional, "traditional"},
    {EtudeStyle::Ballad, "ballad"}, {EtudeStyle::Latin, "latin"},
    {EtudeStyle::Waltz, "waltz"},   {EtudeStyle::Compound, "compound"},
    {EtudeStyle::Modern, "modern"}};
// The style of a tune: by the words of its feel, its meter and its harmony.
[[nodiscard]] EtudeStyle style_of(std::string_view feel, const EtudeGround& ground);

// A kind as templates/etudes.toml describes it.
struct EtudeKind {
    std::string id;                   // "guide-tones"
    std::string title;                // for a heading
    std::string title_on_bars;        // of some bars alone, where that is another
    std::string about;                // one sentence
    std::vector<std::string> levels;  // what each level asks, 1 to kHighestLevel
    int narrowest = 12;               // range that it needs, in semitones
};
[[nodiscard]] const std::vector<EtudeKind>& etude_kinds();
[[nodiscard]] const EtudeKind* find_etude_kind(std::string_view name);
[[nodiscard]] std::vector<std::string> etude_kind_names();
[[nodiscard]] bool fits(const EtudeKind& kind, const PitchRange& range);

struct EtudeRequest {
    std::string kind = "unbroken-scale";  // an id of etude_kinds()
    int level = 4;
    std::uint64_t seed = 1;
    Density density = Density::Usual;
    EtudeFeel feel = EtudeFeel::Swing;
    std::optional<EtudeStyle> style = {};  // nothing: as the ground asks
    std::optional<int> tempo = {};         // beats of the meter a minute: it decides how fine the rhythm is
    int choruses = 1;
    std::optional<std::pair<int, int>> bars = {};  // written bars from 1, both ends in
    bool once = false;                             // those bars as they come first, not repeated
    std::optional<int> rests_on = {};              // see GroundOptions
    int bars_for_one = 1;                          // likewise
    bool from_third = false;                       // bare guide tones begin on the third of the first chord
    int pass = 0;  // which time through those bars a line is: from the second on it goes another way
    std::string cell = "1 2 3 5";  // degrees, for the kind "cell"
    bool explain = false;          // the idea behind a place as small text
    Handling handling = {};        // of the instrument; nothing: all lies well
};

// The line: every note inside the range, which must be one that the kind fits. Same ground, request and
// range: same line.
[[nodiscard]] ConcertLine make_etude(const EtudeGround& ground, const EtudeRequest& request,
                                     PitchRange range);

// Degrees of a cell ("1 2 b3 5", an octave higher with '), each with what is wrong with it: the empty text
// if nothing is.
[[nodiscard]] std::string fault_of_cell(std::string_view cell);

}  // namespace shedbook
