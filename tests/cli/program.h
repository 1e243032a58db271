// Runs the program as a user does.
#pragma once

#include <string>

namespace shedbook {

struct Outcome {
    int exit_code = -1;
    std::string out;
    std::string err;
};

// `arguments` as typed in a shell; `input` goes to standard input.
[[nodiscard]] Outcome run_program(const std::string& arguments, const std::string& input = {});

}  // namespace shedbook
