// A class's list as a table to look at, whichever form its file has.
#pragma once

#include <string>

#include "shedbook/io/data.h"
#include "tune_folder.h"

namespace shedbook {

// "thursday" of thursday.csv and of thursday.toml.
[[nodiscard]] std::string class_called(const std::string& file);
// Whether a text names students at all: a folder has other tables and lists too.
[[nodiscard]] bool is_roster(const std::string& file, const std::string& text);
// Columns, rows of texts, what each column can hold, and slips with their cells.
[[nodiscard]] Data::Object roster_as_data(const std::string& file, const StoredText& stored);

}  // namespace shedbook
