// Scales of the user's own, from TOML: one [[scale]] each. They stand in the table beside the others, and
// harmony offers them over the chords that they name; docs/scales.md explains the form.
//
//     [[scale]]
//     id = "dark_lydian_dominant"
//     name = "dark Lydian dominant"
//     degrees = "1 2 3 #4 5 b6 b7"
//     over = ["dominant"]
//     brings = "#4 and b6"
#pragma once

#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"

namespace shedbook {

struct OwnScale {
    std::string id;
    std::string name;
    std::string degrees;
    std::vector<std::string> also;
    std::vector<std::string> over;  // sounds of chords, as the words of harmony's table name them
    std::string brings;
};

// Those of a file that are sound; every fault is reported at its place.
[[nodiscard]] std::vector<OwnScale> read_scales(const SourceText& source, Diagnostics& diagnostics);

// Takes them into the tables, to the end of the program. Before anything has asked for a scale.
void use_own_scales(const std::vector<OwnScale>& scales);

}  // namespace shedbook
