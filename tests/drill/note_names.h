// The notes of a line as they are read: "C4 D4 Eb4".
#pragma once

#include <string>

#include "shedbook/drill/evaluate.h"

namespace shedbook {

inline std::string names(const ConcertLine& line) {
    std::string out;
    for (const LineNote& note : line.notes) out += (out.empty() ? "" : " ") + to_string(note.pitch);
    return out;
}

}  // namespace shedbook
