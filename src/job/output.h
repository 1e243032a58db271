// Documents to files: one part at one tempo to the file that was named, several to one file each beside it.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/requests.h"
#include "shedbook/notation/pieces.h"
#include "shedbook/write/writers.h"

namespace shedbook {

using Assemble = std::function<void(BlockSink&)>;

// UsageError for what this kind of file cannot use.
[[nodiscard]] WriteOptions write_options_of(const OutputRequest& request);
// "book.mxl" with "alto-sax": "book-alto-sax.mxl".
[[nodiscard]] std::string name_with(const std::string& output, const std::string& word);

// Only the pieces with these numbers ("2.3", or "2" for a section); UsageError that names the numbers there
// are, if one is asked for that is not. Without numbers: all of the document.
void take_only(const std::vector<std::string>& numbers, const Assemble& assemble, BlockSink& sink);

// A document at several tempos, one file for each.
struct AtTempo {
    std::optional<int> per_minute;  // nothing: one file, under the name that was asked for
    WriteOptions options;
    Assemble assemble;
    [[nodiscard]] std::string file_name(const std::string& output) const;
};
// One entry where one tempo, a ladder or none was asked for, and on paper. With the tempos of the tick boxes
// each entry has what its box stands over, and what has no boxes; UsageError if no box says a tempo. A
// document that is written several times is assembled once.
[[nodiscard]] std::vector<AtTempo> at_tempos(const Writer& writer, const WriteOptions& options,
                                             const Assemble& assemble);

// Tells the caller, at this step of so many, how many pages of `what` are set and how long the others take.
[[nodiscard]] std::function<void(int done, int of)> says_pages(Caller& caller, std::size_t step,
                                                               std::size_t steps, std::string what);

// Calls `assemble` once for each part; says what it has to say for the first. InputError, and no file, where
// no music is left for a part.
// `items`: what the log knows a piece of a part as.
using ItemsOfPart = std::function<Data(std::size_t which, const std::string& number)>;
Files write_parts(const OutputRequest& request, const std::vector<BookPart>& parts,
                  const std::function<void(std::size_t which, BlockSink&, Diagnostics&)>& assemble,
                  Caller& caller, const ItemsOfPart& items = {});

}  // namespace shedbook
