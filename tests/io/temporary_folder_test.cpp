#include "shedbook/io/temporary_folder.h"

#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <ostream>

#include "scratch_folder.h"
#include "shedbook/io/errors.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

// Two minutes ago, which is long for a folder that nobody has locked.
void make_old(const std::string& folder) {
    fs::last_write_time(folder, fs::file_time_type::clock::now() - std::chrono::minutes{2});
}

// What TMPDIR says, for a while.
class TmpDir {
  public:
    explicit TmpDir(const std::string& folder)
        : before_{std::getenv("TMPDIR") != nullptr ? std::getenv("TMPDIR") : ""} {
        setenv("TMPDIR", folder.c_str(), 1);
    }
    ~TmpDir() {
        if (before_.empty()) {
            unsetenv("TMPDIR");
        } else {
            setenv("TMPDIR", before_.c_str(), 1);
        }
    }
    TmpDir(const TmpDir&) = delete;
    TmpDir& operator=(const TmpDir&) = delete;

  private:
    std::string before_;
};

}  // namespace

TEST_CASE("a temporary folder goes with all that is in it", "[io]") {
    std::string path;
    {
        const TemporaryFolder folder;
        path = folder.path();
        fs::create_directory(path + "/inner");
        write_atomically(path + "/inner/a", [](std::ostream& out) { out << "x"; });
        struct stat facts {};
        REQUIRE(stat(path.c_str(), &facts) == 0);
        CHECK((facts.st_mode & 0777U) == 0700U);
    }
    CHECK_FALSE(fs::exists(path));
}

TEST_CASE("a folder is made where TMPDIR says, or it is said that there is none", "[io]") {
    const ScratchFolder scratch;
    const TmpDir here{scratch.file("")};
    CHECK(TemporaryFolder{}.path().starts_with(scratch.file("")));
    const TmpDir nowhere{scratch.file("none")};
    CHECK_THROWS_AS(TemporaryFolder{}, FileError);
}

TEST_CASE("the folder of a program that was killed is swept, that of one that lives is not", "[io]") {
    const ScratchFolder scratch;
    const TmpDir here{scratch.file("")};
    const TemporaryFolder living;
    make_old(living.path());
    const pid_t child = fork();
    if (child == 0) {
        const TemporaryFolder left_behind;
        write_atomically(left_behind.path() + "/book.ly", [](std::ostream& out) { out << "x"; });
        raise(SIGKILL);
    }
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    REQUIRE(scratch.count_files() == 2);
    sweep_temporary_folders(scratch.file(""));
    CHECK(scratch.count_files() == 2);  // it is still young
    for (const auto& entry : fs::directory_iterator{scratch.file("")}) make_old(entry.path().string());
    sweep_temporary_folders(scratch.file(""));
    CHECK(scratch.count_files() == 1);
    CHECK(fs::exists(living.path()));
}

TEST_CASE("what is not ours is not swept", "[io]") {
    const ScratchFolder scratch;
    const std::string ours = scratch.file("shedbook-work-abcdef");
    for (const char* name :
         {"shedbook-work-abcdef", "shedbook-work-abcdefg", "shedbook-work", "other-work-abcdef"}) {
        fs::create_directory(scratch.file(name));
        make_old(scratch.file(name));
    }
    write_atomically(scratch.file("shedbook-work-file01"), [](std::ostream& out) { out << "x"; });
    fs::create_directory_symlink(scratch.file("other-work-abcdef"), scratch.file("shedbook-work-link01"));
    sweep_temporary_folders(scratch.file(""));
    CHECK_FALSE(fs::exists(ours));
    CHECK(scratch.count_files() == 5);
    CHECK_NOTHROW(sweep_temporary_folders(scratch.file("none")));
}

}  // namespace shedbook
