// Where the lines of a piece end: by how much its bars ask of a line.
//
//     break_lines(music, starts_of_lines(music, {.room = 72}));
#pragma once

#include <vector>

#include "shedbook/notation/written_music.h"

namespace shedbook {

// What a line holds, in halves of a note; an accidental asks for half as much as a note.
struct LineRules {
    int room = 72;
    int bars =
        0;  // so many bars a line, half as many where they are crowded; 0: as many as there is room for
    bool weighs_accidentals = false;
};

// For each bar whether a line begins with it. Without a number of bars: as few lines as the room allows, and
// about as much on each.
[[nodiscard]] std::vector<bool> starts_of_lines(const WrittenMusic& music, const LineRules& rules);
// `starts` has an entry for each bar; the first begins a line in any case.
void break_lines(WrittenMusic& music, const std::vector<bool>& starts);

}  // namespace shedbook
