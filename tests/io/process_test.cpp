#include "shedbook/io/process.h"

#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <cstdlib>
#include <functional>
#include <ostream>
#include <thread>

#include "scratch_folder.h"
#include "shedbook/io/errors.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"

namespace shedbook {
namespace {

using std::chrono::milliseconds;
using std::chrono::seconds;

ProcessResult shell(const std::string& script, const ProcessOptions& options = {}) {
    return run_process({"/bin/sh", "-c", script}, options);
}

// Whether it comes true within some seconds.
bool soon(const std::function<bool()>& is_so) {
    for (int i = 0; i < 100; ++i) {
        if (is_so()) return true;
        std::this_thread::sleep_for(milliseconds{50});
    }
    return is_so();
}

bool lives(const std::string& pid_file) {
    return kill(std::stoi(read_file(pid_file)), 0) == 0;
}

bool has_pid(const std::string& file) {
    return access(file.c_str(), R_OK) == 0 && read_file(file).ends_with('\n');
}

}  // namespace

TEST_CASE("a program's words and its code come back, and it runs where it is told", "[io]") {
    const ScratchFolder folder;
    const ProcessResult result =
        shell("pwd; echo $COLOUR; echo bad >&2; exit 3", {folder.file(""), {{"COLOUR", "green"}}});
    CHECK(result.exit_code == 3);
    CHECK(result.signal == 0);
    CHECK_THAT(result.said, Catch::Contains("green\nbad\n"));
    CHECK(how_it_ended(result) == "ended with code 3");
    CHECK(shell("exit 0").exit_code == 0);
    CHECK(run_process({"/no/such/program"}).exit_code == 127);
}

TEST_CASE("a program that is killed midway is told from one that fails", "[io]") {
    const ProcessResult result = shell("echo begun; kill -9 $$");
    CHECK(result.signal == SIGKILL);
    CHECK(result.said == "begun\n");
    CHECK_THAT(how_it_ended(result), Catch::StartsWith("was ended by signal 9 ("));
    CHECK(shell("kill -TERM $$").signal == SIGTERM);
}

TEST_CASE("a program that takes too long is ended with what it has started", "[io]") {
    const ScratchFolder folder;
    ProcessOptions options;
    options.time_limit = seconds{1};
    const ProcessResult result = shell("sleep 300 & echo $! > " + folder.file("pid") + "; wait", options);
    CHECK(result.timed_out);
    CHECK(how_it_ended(result) == "did not end in time");
    CHECK(soon([&] { return !lives(folder.file("pid")); }));
}

TEST_CASE("a program is asked to end where somebody wants to stop, and may clear up", "[io]") {
    const ScratchFolder folder;
    const InterruptWatch watch;
    std::thread person{[&] {
        soon([&] { return has_pid(folder.file("pid")); });
        CHECK(take_interrupt());
    }};
    const ProcessResult result = shell("trap 'echo cleared; exit 0' TERM; echo $$ > " + folder.file("pid") +
                                       "; while :; do sleep 0.05; done");
    person.join();
    CHECK(result.interrupted);
    CHECK(soon([&] { return !lives(folder.file("pid")); }));
}

// The whole of it in a child, which is killed as a person or a machine without memory would.
TEST_CASE("a program ends with the one that started it, even where that is killed", "[io]") {
    const ScratchFolder folder;
    const std::string script =
        "sleep 300 & echo $! > " + folder.file("helper") + "; echo $$ > " + folder.file("program") + "; wait";
    const pid_t child = fork();
    if (child == 0) {
        static_cast<void>(shell(script));
        _exit(0);
    }
    REQUIRE(soon([&] { return has_pid(folder.file("program")) && has_pid(folder.file("helper")); }));
    CHECK(lives(folder.file("program")));
    kill(child, SIGKILL);
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    CHECK(soon([&] { return !lives(folder.file("program")); }));
    CHECK(soon([&] { return !lives(folder.file("helper")); }));
}

TEST_CASE("a program is found where the PATH says, and only if it can be run", "[io]") {
    const ScratchFolder folder;
    const std::string before = std::getenv("PATH");
    setenv("PATH", (folder.file("") + ":" + before).c_str(), 1);
    CHECK_FALSE(find_program("shed-tool").has_value());
    write_atomically(folder.file("shed-tool"), [](std::ostream& out) { out << "#!/bin/sh\n"; });
    CHECK_FALSE(find_program("shed-tool").has_value());
    REQUIRE(chmod(folder.file("shed-tool").c_str(), 0700) == 0);
    CHECK(find_program("shed-tool").has_value());
    CHECK(find_program("sh").has_value());
    setenv("PATH", before.c_str(), 1);
}

}  // namespace shedbook
