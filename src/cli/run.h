// The program: reads its arguments, runs one command, gives the exit code.
#pragma once

#include <functional>
#include <vector>

#include "syntax.h"

namespace shedbook {

// 0 done, 1 the input had errors, 2 usage, 3 the machine (a file that cannot be opened, a full disk), 130
// stopped by Ctrl-C.
int run(int argc, char** argv);

// Every command with its options, as the help shows them.
[[nodiscard]] std::vector<CommandRows> all_commands();

}  // namespace shedbook
