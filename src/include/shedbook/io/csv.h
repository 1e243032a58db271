// Tables as spreadsheets write them: the first line names the columns, each further one is a row.
//
//     const CsvTable table = read_csv(source, diagnostics);
//     table.rows[0].find("name")->as_string();                 // "Ada Lind"
//     table.columns[2].first;                                  // "level"
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/io/data.h"

namespace shedbook {

struct CsvCell {
    std::string text;
    Span where;
};

// The lines of a table one after the other (RFC 4180): commas, semicolons or tabs between the cells,
// whichever the first line has most of. What stands between quotation marks, which are doubled within, is
// taken as it is, line ends too; else without the blanks around it. A mark that is never closed is reported.
class CsvReader {
  public:
    // Keeps both by reference.
    CsvReader(const SourceText& source, Diagnostics& diagnostics);
    // Nothing at the end. Lines without any text are left out.
    [[nodiscard]] std::optional<std::vector<CsvCell>> next();

  private:
    [[nodiscard]] bool at_line_end() const;
    std::vector<CsvCell> line();
    CsvCell cell();
    CsvCell quoted_cell();

    const SourceText& source_;
    Diagnostics& diagnostics_;
    std::size_t at_ = 0;
    char separator_ = ',';
};

struct CsvTable {
    std::vector<std::pair<std::string, Span>> columns;  // in lower case
    // An object each, with a member for every cell that is not empty: a whole number where it is one, else
    // text without blanks around it.
    Data::Array rows;
};

// Rows with more cells than columns are reported.
[[nodiscard]] CsvTable read_csv(const SourceText& source, Diagnostics& diagnostics);

}  // namespace shedbook
