#include "scale_rules.h"

#include <algorithm>
#include <array>

#include "scale_rows_dominant.h"
#include "scale_rows_major.h"
#include "scale_rows_minor.h"

namespace shedbook {
namespace {

struct Brings {
    std::string_view scale;
    std::string_view what;
};
constexpr Brings kBrings[]{
    {"ionian", "the plain major scale, with a 4 to pass over"},
    {"dorian", "natural 6: brighter, nothing rubs against the 5"},
    {"phrygian", "b9 and b6 as in the key of the chord's relatives"},
    {"lydian", "#4 instead of the 4 that rubs against the 3"},
    {"mixolydian", "the plain dominant scale, natural 9 and 13"},
    {"aeolian", "b6, the darker natural minor"},
    {"locrian", "the plain scale of the half-diminished chord, with b9"},
    {"melodic_minor", "major 6 and 7: a minor tonic that needs no resolving"},
    {"harmonic_minor", "b6 with a major 7, the sound of a minor cadence"},
    {"lydian_augmented", "#4 and #5 over a major chord"},
    {"ionian_sharp_5", "#5 with a plain 4: third mode of harmonic minor"},
    {"lydian_dominant", "#11 instead of the 4 that rubs against the 3"},
    {"mixolydian_b6", "natural 9 with b13"},
    {"phrygian_dominant", "b9 and b13 with the plain 4 and 5, as in a minor key"},
    {"altered", "every tension altered: the strongest pull"},
    {"mixolydian_b2", "b9 with a natural 13 and a plain 4"},
    {"half_whole_diminished", "b9 and #9 with a natural 13"},
    {"whole_half_diminished", "a whole step above every chord tone"},
    {"ultra_locrian", "the notes of a minor key a half step up, with its leading note as root"},
    {"whole_tone", "#11 and #5 without any half step"},
    {"augmented", "two augmented triads a half step apart"},
    {"dorian_b2", "b9 with a natural 13"},
    {"dorian_b5", "natural 9 and natural 6 over the b5"},
    {"locrian_natural_2", "a natural 9, softer than b9"},
    {"locrian_natural_6", "a natural 6: the leading note of the V that follows is kept"},
    {"lydian_sharp_2", "#9 beside the major third, with #4"},
    {"bebop_dominant", "a passing natural 7, so that chord tones fall on the beat"},
    {"bebop_major", "a passing #5, so that chord tones fall on the beat"},
    {"bebop_dorian", "a passing major 3, so that chord tones fall on the beat"},
    {"blues", "the blues scale: b3 and b5 against the chord"},
    {"major_pentatonic", "five notes, none to pass over"},
    {"minor_pentatonic", "five notes, none to pass over"},
    {"suspended_pentatonic", "five notes, the third left out"},
};

using Ids = std::span<const std::string_view>;
constexpr std::string_view kForMajor[]{"ionian",           "lydian",          "mixolydian",
                                       "mixolydian_b6",    "lydian_dominant", "phrygian_dominant",
                                       "lydian_augmented", "ionian_sharp_5",  "lydian_sharp_2"};
constexpr std::string_view kForDominant[]{
    "mixolydian", "lydian_dominant", "mixolydian_b6", "phrygian_dominant", "half_whole_diminished",
    "altered",    "mixolydian_b2",   "whole_tone",    "bebop_dominant"};
constexpr std::string_view kForMinor[]{"dorian",         "aeolian",         "melodic_minor",
                                       "phrygian",       "harmonic_minor",  "dorian_b2",
                                       "dorian_sharp_4", "hungarian_minor", "lydian_b3"};
constexpr std::string_view kForHalf[]{"locrian", "locrian_natural_2", "locrian_natural_6", "dorian_b5"};
constexpr std::string_view kForDiminished[]{"whole_half_diminished", "ultra_locrian", "locrian",
                                            "locrian_natural_2",     "locrian_bb7",   "dorian_b5"};
constexpr std::string_view kForAugmented[]{"whole_tone", "lydian_augmented", "ionian_sharp_5", "augmented",
                                           "altered"};
constexpr std::string_view kForSuspended[]{"mixolydian", "ionian",    "dorian",
                                           "aeolian",    "dorian_b2", "phrygian"};
constexpr Ids kBySound[] = {kForMajor, kForMajor,      kForDominant,  kForMinor,     kForMinor, kForMinor,
                            kForHalf,  kForDiminished, kForAugmented, kForSuspended, kForMajor};
static_assert(has_a_row_each<Sound>(kBySound));

constexpr std::span<const ScaleRow> kAllRows[]{kDominantRows, kMinorRows, kMajorRows};

bool in(unsigned set, int value) {
    return set == 0 || (set >> static_cast<unsigned>(value) & 1U) != 0;
}

bool names_goal(const ScaleRow& row) {
    return row.why.find("{goal}") != std::string_view::npos;
}

}  // namespace

std::span<const std::span<const ScaleRow>> all_scale_rows() {
    return kAllRows;
}

const ScaleRow& row_for(const Role& role, const ChordView& chord) {
    const auto matches = [&](const ScaleRow& row) {
        return in(row.sounds, static_cast<int>(chord.sound)) && (chord.tones & row.needs) == row.needs &&
               (chord.tones & row.lacks) == 0 && in(row.parts, static_cast<int>(role.part)) &&
               in(row.grounds, static_cast<int>(role.key.ground)) && in(row.degrees, role.degree) &&
               in(row.goals, static_cast<int>(role.goal)) && in(row.goal_degrees, role.goal_degree) &&
               (row.marks & ~role.marks) == 0 && (role.target >= 0 || !names_goal(row));
    };
    for (const std::span<const ScaleRow> rows : kAllRows) {
        const auto found = std::ranges::find_if(rows, matches);
        if (found != rows.end()) return *found;
    }
    return kMajorRows[std::size(kMajorRows) - 1];
}

std::string_view what_it_brings(std::string_view scale_id) {
    for (const Brings& row : kBrings) {
        if (row.scale == scale_id) return row.what;
    }
    return "holds every note of the chord";
}

std::span<const std::string_view> scales_by_sound(Sound sound) {
    return kBySound[row_index(sound)];
}

}  // namespace shedbook
