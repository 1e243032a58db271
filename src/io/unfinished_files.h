// Temporary files that a signal must not leave behind.
#pragma once

#include <string>

namespace shedbook {

// What is beyond the few places there are is not remembered.
void remember_unfinished(const std::string& file);
void forget_unfinished(const std::string& file);
// Removes them; calls only what POSIX allows in a handler of signals.
void remove_unfinished() noexcept;

}  // namespace shedbook
