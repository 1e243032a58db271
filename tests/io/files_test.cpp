#include "shedbook/io/files.h"

#include <catch2/catch.hpp>
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
