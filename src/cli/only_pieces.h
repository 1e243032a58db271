// Some pieces of a document instead of all of them.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "shedbook/notation/document.h"

namespace shedbook {

// Assembles a document of which only the pieces with these numbers ("2.3", or "2" for a section) reach the
// sink, each with the head of its section; without numbers, all of it. UsageError that names the numbers
// there are, if one is asked for that is not.
void take_only(const std::vector<std::string>& numbers, BlockSink& sink,
               const std::function<void(BlockSink&)>& assemble);

}  // namespace shedbook
