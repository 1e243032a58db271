// From a row of the rules to the scale of one chord: what the chart fixes, what the melody decides, what the
// palette wants, and the alternatives in order.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "role.h"
#include "scale_rules.h"
#include "shedbook/harmony/analysis.h"

namespace shedbook {

// Whether a scale (as a set of half steps over the root) holds a chord: all its tones, except that the
// natural fifth does not bind beside b9, #9, #11 or b13, nor #9 over a major third (trade notes 1a, rule 1,
// and row 20b).
[[nodiscard]] bool holds_chord(unsigned scale, unsigned tones);
// Notes of the symbol that the scale does not have.
[[nodiscard]] std::vector<PitchClass> lacking_in(const Scale& scale, const ChordSymbol& symbol);

// How long each pitch class sounds in the melody over a chord, in quarter notes; short notes left out.
using MelodyTime = std::array<double, 12>;

// All that the choice depends on.
struct Setting {
    const ChordSymbol* symbol = nullptr;  // as it is heard
    bool is_heard = false;                // as another chord than is written
    const ChordView* view = nullptr;
    Role role;
    Key key;
    std::string numeral;
    const ChordSymbol* goal = nullptr;  // the chord it prepares, if any
    const ChordSymbol* next = nullptr;  // the chord that follows
    const MelodyTime* melody = nullptr;
    std::optional<Scale> fixed;
    Palette palette = Palette::Usual;
    std::size_t most_others = 2;  // alternatives that the row does not name are added up to this number
};

struct Chosen {
    ScaleChoice first;
    std::vector<ScaleChoice> others;
};

// Chooses, and remembers spellings: the same chord and scale come again and again.
class ScaleChooser {
  public:
    [[nodiscard]] Chosen choose(const Setting& setting);

  private:
    struct Written {
        std::vector<PitchClass> notes;
        std::vector<PitchClass> avoid;
    };
    ScaleChoice make(const Setting& setting, Scale scale, Reason reason);

    std::map<std::string, Written> written_;
};

[[nodiscard]] bool resolves(const Role& role);

}  // namespace shedbook
