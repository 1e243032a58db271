// What a symbol has said so far, in its own terms; degrees() is what that means.
#pragma once

#include <optional>

#include "chord_degrees.h"

namespace shedbook {

enum class Quality { Plain, Minor, Diminished, HalfDiminished, Power };

struct Draft {
    Quality quality = Quality::Plain;
    bool major = false;  // "maj" was said: it speaks of the seventh where there is one
    bool triangle = false;
    bool augmented = false;
    bool dominant = false;  // the word
    bool altered = false;
    bool second = false;       // sus2
    bool fourth = false;       // sus4
    bool keeps_third = false;  // a third added to a suspension
    int extension = 0;         // 6, 7, 9, 11 or 13: the number of the name
    DegreeSet tensions = 0;    // numbers in brackets and behind slashes: "C7(9,13)"
    DegreeSet changes = 0;     // with an accidental: they replace the natural tone
    DegreeSet added = 0;       // after "add": exactly these
    DegreeSet omitted = 0;

    [[nodiscard]] bool suspended() const { return second || fourth; }
    [[nodiscard]] bool minor_third() const {
        return quality == Quality::Minor || quality == Quality::Diminished ||
               quality == Quality::HalfDiminished;
    }
    // Nothing but the root has been said.
    [[nodiscard]] bool is_bare() const;
    // The number of the name with what goes without saying: a half-diminished chord has a seventh.
    [[nodiscard]] int number() const;
    // Whether a tone can be added: the third to a suspension, a seventh where there is none ...
    [[nodiscard]] bool has_room_for(int number, int alter) const;
    // Only a minor or diminished triad has room for "#7", its major seventh, and a diminished one for "bb7".
    [[nodiscard]] bool has_room_for_seventh(DegreeSet wanted) const;
    [[nodiscard]] DegreeSet degrees() const;
};

}  // namespace shedbook
