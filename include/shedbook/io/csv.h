// Tables as spreadsheets write them: the first line names the columns, each further one is a row.
//
//     const CsvTable table = read_csv(source, diagnostics);
//     table.rows[0].find("name")->as_string();                 // "Ada Lind"
//     table.columns[2].first;                                  // "level"
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/io/data.h"

namespace shedbook {

struct CsvTable {
    std::vector<std::pair<std::string, Span>> columns;  // in lower case
    // An object each, with a member for every cell that is not empty: a whole number where it is one, else
    // text. Empty lines are no rows.
    Data::Array rows;
};

// Commas, semicolons or tabs between the cells, whichever the first line has most of; text may stand between
// quotation marks, doubled within. Rows with more cells than columns and text without its closing mark are
// reported.
[[nodiscard]] CsvTable read_csv(const SourceText& source, Diagnostics& diagnostics);

}  // namespace shedbook
