#include "shedbook/io/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <filesystem>
#include <ostream>
#include <stdexcept>

#include "scratch_folder.h"

namespace shedbook {

TEST_CASE("a written file is read back byte for byte", "[io]") {
    const ScratchFolder folder;
    const std::string path = folder.file("a.txt");
    const std::string text{"line\r\n\0end", 10};
    write_atomically(path, [&](std::ostream& out) { out << text; });
    CHECK(read_file(path) == text);
    CHECK(folder.count_files() == 1);
}

TEST_CASE("a producer that fails leaves the old file whole and nothing beside it", "[io]") {
    const ScratchFolder folder;
    const std::string path = folder.file("a.txt");
    write_atomically(path, [](std::ostream& out) { out << "good"; });
    CHECK_THROWS_AS(write_atomically(path,
                                     [](std::ostream& out) {
                                         out << "half";
                                         throw std::runtime_error("no more");
                                     }),
                    std::runtime_error);
    CHECK(read_file(path) == "good");
    CHECK(folder.count_files() == 1);
}

TEST_CASE("a link stays a link, and a file keeps its permissions", "[io]") {
    namespace fs = std::filesystem;
    const ScratchFolder folder;
    const std::string path = folder.file("a.txt");
    write_atomically(path, [](std::ostream& out) { out << "old"; });
    fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink("a.txt", folder.file("link.txt"));
    write_atomically(folder.file("link.txt"), [](std::ostream& out) { out << "new"; });
    CHECK(fs::is_symlink(folder.file("link.txt")));
    CHECK(read_file(path) == "new");
    CHECK(fs::status(path).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
    CHECK(folder.count_files() == 2);
}

TEST_CASE("a pipe or a device is written into, not replaced", "[io]") {
    const ScratchFolder folder;
    const std::string pipe = folder.file("pipe");
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    // Both ends open, so that nobody waits for the other.
    const int end = open(pipe.c_str(), O_RDWR | O_NONBLOCK);
    REQUIRE(end >= 0);
    write_atomically(pipe, [](std::ostream& out) { out << "through"; });
    std::array<char, 16> got{};
    CHECK(read(end, got.data(), got.size()) == 7);
    close(end);
    CHECK(std::filesystem::is_fifo(pipe));
    CHECK_NOTHROW(write_atomically("/dev/null", [](std::ostream& out) { out << "gone"; }));
}

TEST_CASE("what cannot be read or written is said with its name", "[io]") {
    const ScratchFolder folder;
    CHECK_THROWS_WITH(static_cast<void>(read_file(folder.file("none"))),
                      Catch::Contains("none: cannot be opened"));
    CHECK_THROWS_AS(static_cast<void>(read_file(folder.file(""))), FileError);
    CHECK_THROWS_WITH(write_atomically(folder.file("no/such/folder.txt"), [](std::ostream&) {}),
                      Catch::Contains("cannot be written"));
}

TEST_CASE("a file larger than allowed is refused", "[io]") {
    const ScratchFolder folder;
    const std::string path = folder.file("big");
    write_atomically(path, [](std::ostream& out) { out << std::string(3 * 1024 * 1024, 'x'); });
    CHECK_THROWS_AS(static_cast<void>(read_file(path, 1024 * 1024)), FileError);
}

}  // namespace shedbook
