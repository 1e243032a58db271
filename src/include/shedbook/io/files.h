// Files in and out. Output appears whole or not at all: it is written beside its place and then renamed.
//
//     write_atomically("book.musicxml", [&](std::ostream& out) { write(out); });
#pragma once

#include <cstddef>
#include <functional>
#include <iosfwd>
#include <string>

#include "shedbook/io/errors.h"

namespace shedbook {

// No document that a person made is larger; it bounds memory and time on hostile ones.
inline constexpr std::size_t kLargestDocument = 32 * 1024 * 1024;

// The whole file, or standard input for "-". FileError if it cannot be read or is larger than `most` bytes.
[[nodiscard]] std::string read_file(const std::string& path, std::size_t most = kLargestDocument);

// Calls `produce` with a stream to a file beside `path`, then renames it to `path`. If produce throws or a
// write fails, the old file is as it was and nothing is left beside it. "-" is standard output.
void write_atomically(const std::string& path, const std::function<void(std::ostream&)>& produce);

}  // namespace shedbook
