#include "shedbook/io/interrupt.h"

#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <ostream>

#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

// As the program's main does.
void on_signal(int which) {
    if (take_interrupt()) return;
    std::signal(which, SIG_DFL);
    std::raise(which);
}

}  // namespace

TEST_CASE("a signal that ends the program takes what was begun with it", "[io]") {
    const ScratchFolder folder;
    for (const int which : {SIGTERM, SIGINT}) {
        const pid_t child = fork();
        if (child == 0) {
            std::signal(which, on_signal);
            write_atomically(folder.file("a.txt"), [&](std::ostream& out) {
                out << std::string(200'000, 'x') << std::flush;
                raise(which);
            });
            _exit(0);
        }
        int status = 0;
        REQUIRE(waitpid(child, &status, 0) == child);
        CHECK(WIFSIGNALED(status));
        CHECK(WTERMSIG(status) == which);
        CHECK(folder.count_files() == 0);
    }
}

TEST_CASE("a library leaves the signals of the program alone", "[io]") {
    struct sigaction before {};
    struct sigaction now {};
    REQUIRE(sigaction(SIGTERM, nullptr, &before) == 0);
    const ScratchFolder folder;
    write_atomically(folder.file("a.txt"), [&](std::ostream& out) {
        out << "x";
        const InterruptWatch watch;
        REQUIRE(sigaction(SIGTERM, nullptr, &now) == 0);
        CHECK(now.sa_handler == before.sa_handler);
    });
}

TEST_CASE("while somebody watches, a wish to stop is remembered and nothing is removed", "[io]") {
    const ScratchFolder folder;
    CHECK_FALSE(InterruptWatch::is_interrupted());
    write_atomically(folder.file("a.txt"), [&](std::ostream& out) {
        const InterruptWatch outer;
        {
            const InterruptWatch inner;
            CHECK(take_interrupt());
        }
        CHECK(InterruptWatch::is_interrupted());
        out << "whole";
    });
    CHECK(read_file(folder.file("a.txt")) == "whole");
    CHECK_FALSE(InterruptWatch::is_interrupted());
    const InterruptWatch another;
    CHECK_FALSE(InterruptWatch::is_interrupted());
}

}  // namespace shedbook
