// Documents to files: one part at one tempo to the file that was named, several to one file each beside it.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"
#include "shedbook/notation/document.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// The writer for a file name; UsageError if there is none.
[[nodiscard]] const Writer& writer_for(const std::string& file_name);

// Calls `assemble` for each part; prints what it has to say once, for the first. `only`: the numbers of the
// pieces that are wanted, all if there are none; UsageError if there is no piece of that number. InputError,
// and no file, where no music is left for a part.
void write_parts(const std::string& output, const std::vector<BookPart>& parts,
                 const std::function<void(std::size_t which, BlockSink&, Diagnostics&)>& assemble,
                 const WriteOptions& options, const std::vector<std::string>& only = {});

}  // namespace shedbook
