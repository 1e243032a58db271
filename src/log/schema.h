// The tables of a log file, and how a file of an older version becomes one of this version.
#pragma once

#include "sqlite.h"

namespace shedbook {

inline constexpr int kLogVersion = 1;

// The version that a file says it has at its beginning, read without opening it as a log: nothing of it is
// touched. 0 for an empty file or none. FileError for what is no log, and for a newer one.
[[nodiscard]] int version_of_file(const std::string& path);

// Brings it up to this version; several processes may do so at once.
void bring_up_to_date(Database& database);

}  // namespace shedbook
