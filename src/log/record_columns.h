// The columns of a record in a file, each with its way out and in: CSV and JSON share them.
#pragma once

#include <span>
#include <string>

#include "shedbook/log/entry.h"

namespace shedbook {

struct RecordColumn {
    const char* name;
    bool is_number;  // in JSON; an empty text is null there
    bool is_needed;
    std::string (*text)(const Record&);
    // Nothing wrong: empty; else what was expected.
    std::string (*set)(Record&, const std::string&);
};
[[nodiscard]] std::span<const RecordColumn> record_columns();

// From what it says; never 0.
[[nodiscard]] std::uint64_t uid_from(const Record& record);

}  // namespace shedbook
