#include "shedbook/io/zip.h"

#include <zip.h>

#include <catch2/catch.hpp>
#include <ostream>
#include <utility>
#include <vector>

#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

using Entries = std::vector<std::pair<std::string, std::string>>;

// A zip file as other programs may make it.
std::string zip_of(const Entries& entries) {
    const ScratchFolder folder;
    int code = 0;
    zip_t* archive = zip_open(folder.file("a.zip").c_str(), ZIP_CREATE, &code);
    REQUIRE(archive != nullptr);
    for (const auto& [name, content] : entries) {
        zip_source_t* source = zip_source_buffer(archive, content.data(), content.size(), 0);
        REQUIRE(zip_file_add(archive, name.c_str(), source, ZIP_FL_ENC_UTF_8) >= 0);
    }
    REQUIRE(zip_close(archive) == 0);
    return read_file(folder.file("a.zip"));
}

std::string message(const Diagnostics& diagnostics) {
    return diagnostics.all().empty() ? "" : diagnostics.all()[0].message;
}

}  // namespace

TEST_CASE("a written score is read back, and the same score gives the same bytes", "[io]") {
    const ScratchFolder folder;
    const auto score = [](std::ostream& out) { out << "<score-partwise/>"; };
    write_mxl(folder.file("a.mxl"), score);
    write_mxl(folder.file("b.mxl"), score);
    const std::string bytes = read_file(folder.file("a.mxl"));
    CHECK(bytes == read_file(folder.file("b.mxl")));
    Diagnostics diagnostics;
    CHECK(read_mxl("a.mxl", bytes, diagnostics) == "<score-partwise/>");
    CHECK(folder.count_files() == 2);
}

// MusicXML 4.0 tutorial, "Compressed .MXL Files": mimetype first, stored, without extra field.
TEST_CASE("the first entry is the stored media type", "[io]") {
    const ScratchFolder folder;
    write_mxl(folder.file("a.mxl"), [](std::ostream& out) { out << "<score-partwise/>"; });
    const std::string bytes = read_file(folder.file("a.mxl"));
    CHECK(bytes.substr(30, 8) == "mimetype");
    CHECK(bytes.substr(38, 34) == "application/vnd.recordare.musicxml");
    CHECK(bytes[28] == '\0');
    CHECK(bytes[29] == '\0');
}

TEST_CASE("an archive without media type or container is read by its first score", "[io]") {
    Diagnostics diagnostics;
    CHECK(read_mxl("a.mxl", zip_of({{"song.xml", "<x/>"}}), diagnostics) == "<x/>");
    CHECK(read_mxl("a.mxl",
                   zip_of({{"a.xml", "<a/>"},
                           {"META-INF/container.xml", "<container><rootfiles><rootfile full-path='b.xml'/>"},
                           {"b.xml", "<b/>"}}),
                   diagnostics) == "<b/>");
}

TEST_CASE("hostile archives are refused with a word of why", "[io]") {
    const auto refused = [](const std::string& bytes) {
        Diagnostics diagnostics;
        CHECK_FALSE(read_mxl("a.mxl", bytes, diagnostics));
        return message(diagnostics);
    };
    CHECK_THAT(refused(zip_of({{"../a.xml", "<a/>"}})), Catch::Contains("unsafe entry name"));
    CHECK_THAT(refused(zip_of({{"/a.xml", "<a/>"}})), Catch::Contains("unsafe entry name"));
    CHECK_THAT(refused(zip_of({{"a.txt", "no"}})), Catch::Contains("holds no score"));
    CHECK_THAT(refused(zip_of({{"a.xml", std::string(40 * 1024 * 1024, ' ')}})), Catch::Contains("32 MiB"));
    CHECK_THAT(refused(zip_of({{"a.xml", std::string(8 * 1024 * 1024, ' ')}})),
               Catch::Contains("packed more tightly"));
    CHECK_THAT(refused("PK\x03\x04 and then nothing"), Catch::Contains("damaged"));
    Entries many;
    for (int i = 0; i < 300; ++i) many.emplace_back(std::to_string(i), "");
    CHECK_THAT(refused(zip_of(many)), Catch::Contains("300 entries"));
}

TEST_CASE("a producer that fails leaves the old archive whole", "[io]") {
    const ScratchFolder folder;
    write_mxl(folder.file("a.mxl"), [](std::ostream& out) { out << "<a/>"; });
    const std::string before = read_file(folder.file("a.mxl"));
    CHECK_THROWS(write_mxl(folder.file("a.mxl"), [](std::ostream&) { throw FileError("no more"); }));
    CHECK(read_file(folder.file("a.mxl")) == before);
    CHECK(folder.count_files() == 1);
}

}  // namespace shedbook
