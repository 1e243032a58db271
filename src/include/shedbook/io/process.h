// Other programs, run as a user would: the engraver, a synthesizer. Found on the PATH or not there.
//
//     const ProcessResult result = run_process({*find_program("qpdf"), "--version"});
//     result.exit_code;                                        // 0
#pragma once

#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace shedbook {

// Where a program lies; nothing if it is not installed.
[[nodiscard]] std::optional<std::string> find_program(const std::string& name);

struct ProcessOptions {
    std::string folder;                                            // to run in; empty: this one
    std::vector<std::pair<std::string, std::string>> environment;  // added to ours
    std::chrono::seconds time_limit{300};
    // Called some times a second while the program runs, with what it has said up to then.
    std::function<void(const std::string& said)> meanwhile = {};
};

struct ProcessResult {
    int exit_code = -1;  // of one that ended by itself
    int signal = 0;      // that ended it; 0: none did
    bool timed_out = false;
    bool interrupted = false;  // by whoever an InterruptWatch listens to
    std::string said;          // standard output and standard error, up to 1 MiB
};
// "ended with code 2", "was ended by signal 9 (Killed)", "did not end in time".
[[nodiscard]] std::string how_it_ended(const ProcessResult& result);

// Runs a program with its arguments (no shell in between) and waits for it. It ends when this program does,
// however that comes about, and whatever it has started ends with it. FailedProgram if it cannot be started.
[[nodiscard]] ProcessResult run_process(const std::vector<std::string>& arguments,
                                        const ProcessOptions& options = {});

}  // namespace shedbook
