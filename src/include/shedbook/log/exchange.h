// A log as a file that other programs read: CSV with a line for each version of an entry, or JSON. Reading it
// back loses nothing: corrections, removals and times are in it. docs/log.md names the columns.
//
//     write_csv(records, out);
//     read_records(SourceText{"log.csv", text}, diagnostics);
#pragma once

#include <functional>
#include <iosfwd>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/log/entry.h"

namespace shedbook {

// Hands on record after record.
using Records = std::function<void(const std::function<void(const Record&)>&)>;
void write_records_csv(const Records& records, std::ostream& out);
// With ids, as this log shows them: for programs that look, not for another log. They are not read back.
void write_records_json(const Records& records, std::ostream& out, bool with_ids = false);

// Either form, told apart by the first character. Columns may stand in any order and most may be missing
// (kind, subject, work, instrument and day may not); what is wrong is said at its place. A line without a uid
// gets one from what it says, so that reading it twice does not double it.
[[nodiscard]] std::vector<Record> read_records(const SourceText& source, Diagnostics& diagnostics);

}  // namespace shedbook
