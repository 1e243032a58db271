// Other programs, run as a user would: the engraver, a synthesizer. Found on the PATH or not there.
#pragma once

#include <chrono>
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
};

struct ProcessResult {
    int exit_code = -1;
    bool timed_out = false;
    bool interrupted = false;  // by whoever an InterruptWatch listens to
    std::string said;          // standard output and standard error, up to 1 MiB
};

// Runs a program with its arguments (no shell in between) and waits for it. FileError if it cannot be
// started.
[[nodiscard]] ProcessResult run_process(const std::vector<std::string>& arguments,
                                        const ProcessOptions& options = {});

// While one lives, Ctrl-C (and a polite request to end) does not end this program: it ends the one that
// run_process waits for, and is remembered, so that what was begun can be cleared away. One within another is
// the same watch.
class InterruptWatch {
  public:
    InterruptWatch();
    ~InterruptWatch();
    InterruptWatch(const InterruptWatch&) = delete;
    InterruptWatch& operator=(const InterruptWatch&) = delete;
    [[nodiscard]] static bool is_interrupted();
};

// A folder of its own under the system's temporary one, removed with all that is in it at the end.
class TemporaryFolder {
  public:
    TemporaryFolder();
    ~TemporaryFolder();
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    [[nodiscard]] const std::string& path() const { return path_; }

  private:
    std::string path_;
};

}  // namespace shedbook
