// Why a scale is chosen, as data: a sentence with holes, and what stands in the holes, in concert pitch. It
// becomes words where it is printed, in the pitch that its reader plays from.
//
//     in_words(reading.scale.reason);                  // "V7 going home to Cmaj7: the notes of C major"
//     in_words(reading.scale.reason, {5, 9});     // for an alto saxophone: "... to Amaj7: ... of A major"
//     in_words(Reason{"the scale of the key"});        // a sentence may have no holes
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/interval.h"
#include "shedbook/theory/key.h"

namespace shedbook {

struct Reason {
    // A degree that the melody decides: "F#: #4 and not 4". Degrees are text of the scale table.
    struct Sung {
        PitchClass note;
        std::string_view degree;
        std::string_view instead;  // may be empty
        friend bool operator==(const Sung&, const Sung&) = default;
    };

    // Without a full stop, from a table of constants; empty if there is no reason to give. Holes are {key},
    // {tonic}, {numeral}, {root}, {above} (the note a half step above the root), {goal}, {next}, {bass},
    // {brings}, {melody} and {all} (every note of the symbol, but for those that the scale lacks).
    std::string_view words = {};
    std::string_view brings = {};  // what the scale brings, from a table as well; with holes as words has
    Key key = {};
    std::string numeral = {};  // counts from the tonic, so it is the same in every pitch
    PitchClass root = {};      // of the scale
    std::optional<ChordSymbol> goal = {};
    std::optional<ChordSymbol> next = {};
    std::optional<PitchClass> bass = {};
    std::vector<Sung> melody = {};
    std::vector<PitchClass> lacking = {};  // notes of the symbol that the scale does not have
    // What the chord sounds as, read from the bass up, where that is another chord than is written. It comes
    // before the sentence.
    std::optional<ChordSymbol> heard = {};
    friend bool operator==(const Reason&, const Reason&) = default;
};

// The sentence with its holes filled. What it names is moved by the interval from concert to written pitch; a
// name that would need a double accidental is written plainly, and a key by the name that has a signature.
// `written_key`: the key of the part, which may have a chord on a root such as Cb.
[[nodiscard]] std::string in_words(const Reason& reason, Interval to_written = {},
                                   const std::optional<Key>& written_key = {});

}  // namespace shedbook
