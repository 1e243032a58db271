// Where the lines of a piece end: by how much its bars ask of a line, the same for drills, etudes, lead
// sheets and scores.
//
//     break_lines(music, starts_of_lines(music, {.room = 47 * kNoteWeight}));
#pragma once

#include <span>
#include <vector>

#include "shedbook/notation/written_music.h"

namespace shedbook {

// What a note asks for. An accidental asks for half as much more, a bar line for half, a chord symbol for as
// much as two notes have; of two staves and the symbols over them the fullest counts.
inline constexpr int kNoteWeight = 4;

struct LineRules {
    int room = 47 * kNoteWeight;  // what a line holds
    int bars = 0;                 // so many bars a line; 0: as many as there is room for
};

// For each bar whether a line begins with it: as few lines as the room allows, and about as much on each.
// With a number of bars a line that has no room for them is parted, and no bar stands alone on the last line.
[[nodiscard]] std::vector<bool> starts_of_lines(const WrittenMusic& music, const LineRules& rules);
// Of parts that are read together, bar by bar the fullest counts.
[[nodiscard]] std::vector<bool> starts_of_lines(std::span<const WrittenMusic> parts, const LineRules& rules);
// The same lines, those parted that hold more than the room.
[[nodiscard]] std::vector<bool> parted(const WrittenMusic& music, std::vector<bool> starts, int room);
// `starts` has an entry for each bar; the first begins a line in any case.
void break_lines(WrittenMusic& music, const std::vector<bool>& starts);

}  // namespace shedbook
