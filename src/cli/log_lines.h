// Lines about entries and plans for a terminal, and the options that the commands on the log share.
#pragma once

#include <string>

#include "shedbook/job/log_jobs.h"
#include "syntax.h"

namespace shedbook {

// "120 of 132, 4 right, 1 wrong, from memory, 6 minutes"
[[nodiscard]] std::string played_in_words(const Entry& entry);
[[nodiscard]] std::string padded(const std::string& text, std::size_t width);
// --data, --player.
void add_log_options(Syntax& syntax, LogPlace& place);
// The place with the day and the time of this moment, where the person is.
void set_now(LogPlace& place);

}  // namespace shedbook
