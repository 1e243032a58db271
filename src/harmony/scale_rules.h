// Which scale a chord takes, as rows: a chord of this sound in this part takes that scale, for this reason.
// The first row that matches wins, so special cases stand before general ones.
#pragma once

#include <span>
#include <string_view>

#include "role.h"

namespace shedbook {

// Sets of small enumerations as bits; 0 in a row means that anything will do.
template <class... Values>
[[nodiscard]] constexpr unsigned set_of(Values... values) {
    return (0U | ... | (1U << static_cast<unsigned>(values)));
}

struct ScaleRow {
    std::string_view source;  // row of the trade's table and where it comes from
    unsigned sounds = 0;
    unsigned needs = 0;  // tones (half steps over the root) that must be in the chord
    unsigned lacks = 0;  // tones that must not
    unsigned parts = 0;
    unsigned grounds = 0;
    unsigned degrees = 0;
    unsigned goals = 0;
    unsigned goal_degrees = 0;
    unsigned marks = 0;  // all of these
    std::string_view scale = {};
    std::string_view others = {};  // ids with blanks between, in order of preference
    std::string_view rich = {};    // the colour that a rich palette takes
    std::string_view why = {};     // with {key} {tonic} {numeral} {goal} {next} put in
};

// Sets that several rows use.
inline constexpr unsigned kDominants = set_of(Sound::Dominant);
inline constexpr unsigned kMajors = set_of(Sound::Major, Sound::MajorSeventh);
inline constexpr unsigned kTriads = set_of(Sound::Major);
inline constexpr unsigned kMinors = set_of(Sound::Minor, Sound::MinorSeventh);
inline constexpr unsigned kTonicMinors = set_of(Sound::MinorTonic);
inline constexpr unsigned kHalfDiminished = set_of(Sound::HalfDiminished);
inline constexpr unsigned kDiminished = set_of(Sound::Diminished);
inline constexpr unsigned kAugmented = set_of(Sound::Augmented);
inline constexpr unsigned kSuspended = set_of(Sound::Suspended);
inline constexpr unsigned kMinorKey = set_of(Ground::Minor);
inline constexpr unsigned kMajorKeys = set_of(Ground::Major, Ground::Blues);
inline constexpr unsigned kResolving = set_of(Part::Five, Part::Applied, Part::BluesFive);
inline constexpr unsigned kHeld = set_of(Part::AppliedHeld, Part::FiveElsewhere);
// Tones in half steps over the root.
inline constexpr unsigned kFlat9 = set_of(1), kNine = set_of(2), kSharp9 = set_of(3), kFlat5 = set_of(6),
                          kFifth = set_of(7), kFlat13 = set_of(8), kThirteen = set_of(9), kFlat7 = set_of(10),
                          kSeventh = set_of(11);

// All rows, in the order in which they are tried.
[[nodiscard]] std::span<const std::span<const ScaleRow>> all_scale_rows();
// The row for a chord; the last rows match anything.
[[nodiscard]] const ScaleRow& row_for(const Role& role, const ChordView& chord);

// The next three come from scale_uses.h. What an alternative scale brings: "natural 9 with b13".
[[nodiscard]] std::string_view what_it_brings(std::string_view scale_id);

// Scales to search when nothing in the row holds the chord, likeliest first.
[[nodiscard]] std::span<const std::string_view> scales_by_sound(Sound sound);
[[nodiscard]] bool may_be_melodys_choice(std::string_view scale_id);

}  // namespace shedbook
