// Templates of the user's own, before any job: drills, rhythms, instruments, fingerings, levels, plans,
// scales.
//
//     use_own_files({"mine.toml"}, caller);                    // then everything knows what is in it
#pragma once

#include <string>
#include <vector>

#include "shedbook/job/caller.h"

namespace shedbook {

// Reads the files and takes their entries into the tables, for the rest of the program. Every fault is said;
// then InputError, and nothing is taken.
void use_own_files(const std::vector<std::string>& files, Caller& caller);

}  // namespace shedbook
