// What a chord does where it stands: its part in the key, and the chord it leads to. Scales, functions,
// numerals and reasons all follow from this.
#pragma once

#include <vector>

#include "chord_view.h"
#include "key_finder.h"
#include "shedbook/harmony/analysis.h"

namespace shedbook {

enum class Part {
    Own,            // a chord of the key in its own right: which one, the degree says
    Five,           // V7 of the key going home
    FiveElsewhere,  // V7 of the key that goes to another chord
    Applied,        // V7 of another chord
    AppliedHeld,    // V7 of a chord of the key that does not come
    Substitute,     // dominant a half step above its goal
    Backdoor,       // bVII7 going to I
    Two,            // ii of the key before its V
    RelatedTwo,     // ii before the V of another chord
    LeadingUp,      // diminished a half step below its goal
    PassingDown,    // diminished a half step above the next chord
    SameRoot,       // diminished on the root of its neighbour
    Borrowed,       // from the parallel key
    BluesOne,
    BluesFour,
    BluesFive,
    Chromatic,  // none of these
};

// What stands at the goal, for dominants: minor chords ask for b9 and b13.
enum class Goal { None, Major, Minor, Dominant, Other };

// What else a scale may depend on.
enum class Mark {
    AfterHalfDiminished,  // a dominant whose ii has a flat fifth: the minor key sounds, whatever follows
    BesideFlatSix,        // a minor tonic beside major chords on bVI or bVII: the natural minor sounds
    Stays,                // four bars and more of one chord
    ChromaticRow,         // one of three and more dominants that fall in half steps
    FourToOne,            // diminished on #IV, after IV and before I
};

struct Role {
    Part part = Part::Own;
    Tonality key;
    int degree = 0;   // root over the tonic, half steps
    int target = -1;  // place of the chord it prepares, among the views
    Goal goal = Goal::None;
    unsigned marks = 0;   // set of Mark
    int goal_degree = 0;  // root of the goal over the tonic; for AppliedHeld where it would lie
};

[[nodiscard]] std::vector<Role> roles_of(const std::vector<ChordView>& chords, const KeyReading& keys);

[[nodiscard]] Function function_of(const Role& role, Sound sound, bool is_modal);

// "ii7", "V7/ii", "bVImaj7". `root` over `tonic` as they are written tells #IV from bV.
[[nodiscard]] std::string numeral_of(const Role& role, const ChordView& chord, PitchClass tonic,
                                     PitchClass root);

}  // namespace shedbook
