// A document at several tempos, one file for each: what --tempo 60,80,100 and --tempo boxes ask for.
//
//     for (const AtTempo& each : at_tempos(writer, options, assemble))
//         writer.write(each.file_name("drill.mid"), each.assemble, each.options);    // drill-at-60.mid ...
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/notation/document.h"
#include "shedbook/write/writers.h"

namespace shedbook {

using Assemble = std::function<void(BlockSink&)>;

struct AtTempo {
    std::optional<int> per_minute;  // nothing: one file, under the name that was asked for
    WriteOptions options;
    Assemble assemble;

    [[nodiscard]] std::string file_name(const std::string& output) const;
};

// One entry where one tempo, a ladder or none was asked for, and on paper. With the tempos of the tick boxes
// each entry has what its box stands over, and what has no boxes; UsageError if no box says a tempo.
[[nodiscard]] std::vector<AtTempo> at_tempos(const Writer& writer, const WriteOptions& options,
                                             const Assemble& assemble);

}  // namespace shedbook
