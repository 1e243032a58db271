// The note at the beginning of a symbol and behind its slash.
#pragma once

#include <optional>

#include "chord_symbol_parser.h"

namespace shedbook {

struct NoteRead {
    std::optional<PitchClass> name;
    Slip slip = Slip::NoRoot;  // where there is no name
    std::size_t begin = 0;     // places in the PlainText: of the note, or of the fault
    std::size_t end = 0;
};

// A capital letter with up to two sharps or flats, all that stand there. Behind a root an opposite accidental
// may begin an alteration ("Eb#5"), behind a bass note nothing may.
[[nodiscard]] NoteRead note_at(const PlainText& text, std::size_t place, bool is_root);

}  // namespace shedbook
