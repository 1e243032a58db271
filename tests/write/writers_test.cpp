#include "shedbook/write/writers.h"

#include <catch2/catch.hpp>
#include <set>

namespace shedbook {

TEST_CASE("writers are found by the ending of a file's name", "[write]") {
    CHECK(find_writer("a.mxl")->ending == ".mxl");
    CHECK(find_writer("A.MusicXML")->ending == ".musicxml");
    CHECK(find_writer("book") == nullptr);
    CHECK(find_writer("book.doc") == nullptr);
}

TEST_CASE("every form of output has an ending of its own and says what it is", "[write]") {
    std::set<std::string_view> seen;
    for (const Writer& writer : writers()) {
        INFO(writer.ending);
        CHECK(writer.ending.starts_with('.'));
        CHECK_FALSE(writer.what.empty());
        CHECK(seen.insert(writer.ending).second);
        CHECK(find_writer("a" + std::string{writer.ending}) == &writer);
    }
    CHECK(find_writer("a.mid")->has(Writer::kSound));
    CHECK_FALSE(find_writer("a.ly")->has(Writer::kSound));
}

}  // namespace shedbook
