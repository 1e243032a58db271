// The program: reads its arguments, runs one command, gives the exit code.
#pragma once

namespace shedbook {

// 0 done, 1 the input had errors, 2 usage, 3 the machine (a file that cannot be opened, a full disk).
int run(int argc, char** argv);

}  // namespace shedbook
