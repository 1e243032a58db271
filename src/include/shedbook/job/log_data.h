// A day and what is mastered, as data for programs: 'shedbook today --json' and 'progress --json'.
#pragma once

#include "shedbook/io/data.h"
#include "shedbook/job/log_jobs.h"

namespace shedbook {

[[nodiscard]] Data::Object item_as_data(const Item& item);
// The item of a printed piece by its number; null where it is none.
[[nodiscard]] Data item_called(const PrintedPages& pages, const std::string& number);
[[nodiscard]] Data::Object planned_piece_as_data(const PlannedPiece& piece,
                                                 const TonicsAsWritten& tonics = {});
[[nodiscard]] Data::Object today_as_data(const Today& today);
[[nodiscard]] Data::Object progress_as_data(const ProgressReport& report);

}  // namespace shedbook
