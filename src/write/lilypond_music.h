// One piece of music in the engraver's language.
#pragma once

#include <optional>
#include <string>

#include "shedbook/notation/document.h"

namespace shedbook {

// What a staff has beside its music.
struct StaffWords {
    std::optional<std::string> settings;  // of the first staff, as \with { } has them; nothing: none
    std::string start;                    // before the first note
    std::string last_bar = "|.";
};
// `<< \new Lyrics ... \new Staff ... >>`: chord symbols over a staff, lines broken where the music says.
[[nodiscard]] std::string music_expression(const WrittenMusic& music, const StaffWords& words = {});
// "\\clef \"bass\" \\key d \\major "; without the key where the music has none.
[[nodiscard]] std::string clef_and_key(const WrittenMusic& music);
// Lines that it takes.
[[nodiscard]] int count_systems(const WrittenMusic& music);
// The same, and more for ledger lines, which need room as well.
[[nodiscard]] double room_on_page(const WrittenMusic& music);

}  // namespace shedbook
