// What stands on a printed page: its pieces under their numbers, each with the item that it is and its boxes.
// A book leaves such a table in the data folder, under the code in its footer, so that ticks on paper can be
// typed as one line.
//
//     save_pages(folder, pages);                               // folder/K7PQ2M.json
//     parse_tick("2.3@86,115m")->tempos;                       // 86, 115; from memory
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/log/entry.h"

namespace shedbook {

struct PrintedPiece {
    std::string number;  // "2.3"
    Item item;
    std::vector<int> boxes;  // tempos, rising
    bool from_memory = false;
};
struct PrintedPages {
    std::string code;
    std::string title;
    std::string tune;  // id; may be empty
    std::vector<PrintedPiece> pieces;
};

// Six letters and digits from what the pages hold: the same on every machine.
[[nodiscard]] std::string page_code(std::string_view contents);

// FileError if it cannot be written. The folder is made, for its owner alone.
void save_pages(const std::string& folder, const PrintedPages& pages);
[[nodiscard]] std::optional<PrintedPages> read_pages(const SourceText& source, Diagnostics& diagnostics);
// Codes of the tables in a folder.
[[nodiscard]] std::vector<std::string> codes_in(const std::string& folder);

// One word of a line of ticks.
struct Tick {
    std::string number;
    std::vector<int> tempos;
    bool from_memory = false;
};
[[nodiscard]] std::optional<Tick> parse_tick(std::string_view word);

// What was ticked, as entries of a day: one for each piece, at its fastest box. What does not stand on the
// pages is said in `diagnostics`.
[[nodiscard]] std::vector<Entry> entries_of(const PrintedPages& pages, const std::vector<std::string>& words,
                                            Day day, Diagnostics& diagnostics);

}  // namespace shedbook
