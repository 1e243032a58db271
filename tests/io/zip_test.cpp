#include "shedbook/io/zip.h"

#include <zip.h>

#include <catch2/catch.hpp>
#include <cstdint>
#include <ostream>
#include <random>
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

// A score beside another, and the inside of the container's root files. What is read ("" for nothing), and
// what is said.
std::pair<std::string, std::string> read_with(const std::string& rootfiles) {
    Diagnostics diagnostics;
    const std::string container =
        "<?xml version=\"1.0\"?>\n<container><rootfiles>" + rootfiles + "</rootfiles></container>";
    const auto read = read_mxl(
        "a.mxl", zip_of({{"META-INF/container.xml", container}, {"a.xml", "<a/>"}, {"R&B.xml", "<b/>"}}),
        diagnostics);
    CHECK(diagnostics.has_errors() != read.has_value());
    return {read.value_or(""), message(diagnostics)};
}

// The size that both headers of an entry give, changed (PKWARE APPNOTE 6.3, sections 4.3.7 and 4.3.12:
// uncompressed size at byte 22 of the local header, 24 of the central one).
std::string with_stated_size(std::string bytes, std::uint32_t size) {
    const auto put = [&](const std::string& mark, std::size_t offset) {
        const std::size_t at = bytes.find(mark);
        REQUIRE(at != std::string::npos);
        for (std::size_t i = 0; i < 4; ++i)
            bytes[at + offset + i] = static_cast<char>((size >> (8 * i)) & 0xFFU);
    };
    put("PK\x03\x04", 22);
    put("PK\x01\x02", 24);
    return bytes;
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

// PKWARE APPNOTE 6.3.3, 4.4.5: method 0 is stored, 8 is deflated; from memory.
TEST_CASE("several files go into one zip with their names, and none where one of them is gone", "[io]") {
    const ScratchFolder folder;
    const auto write = [&](const char* name, const std::string& text) {
        write_atomically(folder.file(name), [&](std::ostream& out) { out << text; });
        return folder.file(name);
    };
    const std::string page = write("a.html", std::string(5000, 'a'));
    const std::string sheet = write("a.pdf", "%PDF-1.7 and so on");
    write_zip(folder.file("all.zip"), {{"duo/Åda.html", page}, {"duo/a.pdf", sheet}});
    const std::string bytes = read_file(folder.file("all.zip"));
    CHECK(looks_like_zip(bytes));
    CHECK(bytes.size() < 1000);
    CHECK(bytes.find("duo/Åda.html") != std::string::npos);
    CHECK(bytes[8] == 8);
    CHECK(bytes.find("%PDF-1.7 and so on") != std::string::npos);
    CHECK_THROWS_AS(write_zip(folder.file("less.zip"), {{"a.html", page}, {"b.html", folder.file("b.html")}}),
                    FileError);
    CHECK(folder.count_files() == 3);
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

TEST_CASE("an archive without a container is read by its first score, and that is said", "[io]") {
    Diagnostics diagnostics;
    CHECK(read_mxl("a.mxl", zip_of({{"song.xml", "<x/>"}}), diagnostics) == "<x/>");
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(diagnostics.all()[0].message == "it has no META-INF/container.xml");
    CHECK(diagnostics.all()[0].hint == "the first score in it is taken: 'song.xml'");
    diagnostics = {};
    CHECK(read_mxl("a.mxl",
                   zip_of({{"a.xml", "<a/>"},
                           {"META-INF/container.xml", "<container><rootfiles><rootfile full-path='b.xml'/>"},
                           {"b.xml", "<b/>"}}),
                   diagnostics) == "<b/>");
    CHECK(diagnostics.all().empty());
}

TEST_CASE("a container that names no score that is there is told", "[io]") {
    using Said = std::pair<std::string, std::string>;
    CHECK(read_with("<rootfile full-path=\"R&amp;B.xml\"/>") == Said{"<b/>", ""});
    CHECK(read_with("<!-- <rootfile full-path=\"a.xml\"/> --><rootfile\n full-path='R&amp;B.xml'/>") ==
          Said{"<b/>", ""});
    Diagnostics none;
    CHECK(read_mxl("a.mxl",
                   zip_of({{"META-INF/container.xml",
                            "<container><rootfile full-path='Night's End.xml'/></container>"},
                           {"End.xml", "<a/>"},
                           {"Night's End.xml", "<b/>"}}),
                   none) == "<b/>");
    CHECK(none.all().empty());
    CHECK(read_with("") == Said{"<a/>", "its container names no score"});
    CHECK(read_with("<rootfile/>") == Said{"<a/>", "its container names no score"});
    CHECK(read_with("<rootfile full-path=\"\"/>") == Said{"<a/>", "its container names no score"});
    CHECK(read_with("<rootfiles full-path=\"R&amp;B.xml\"/>") ==
          Said{"<a/>", "its container names no score"});
    CHECK(read_with("<rootfile full-path=\"c.xml\"/>") ==
          Said{"<a/>", "its container names 'c.xml', which is not in the zip file"});
}

TEST_CASE("a container that points outside or carries an entity is refused", "[io]") {
    CHECK_THAT(read_with("<rootfile full-path=\"../a.xml\"/>").second,
               Catch::Contains("points out of the zip file"));
    CHECK_THAT(read_with("<rootfile full-path=\"/etc/passwd\"/>").second,
               Catch::Contains("points out of the zip file"));
    CHECK_THAT(read_with("<rootfile full-path=\"&name;\"/>").second,
               Catch::Contains("by an entity: '&name;'"));
    CHECK_THAT(
        read_with("<!DOCTYPE container [<!ENTITY name \"a.xml\">]><rootfile full-path=\"a.xml\"/>").second,
        Catch::Contains("declares entities"));
}

TEST_CASE("an entry of another size than the zip file says is refused", "[io]") {
    const std::string score = "<score-partwise>" + std::string(2'000, ' ') + "</score-partwise>";
    const std::string bytes = zip_of({{"a.xml", score}});
    const auto read = [](const std::string& zip) {
        Diagnostics diagnostics;
        const auto out = read_mxl("a.mxl", zip, diagnostics);
        return out ? *out : "refused: " + diagnostics.all().back().message;
    };
    const auto size = static_cast<std::uint32_t>(score.size());
    CHECK(read(with_stated_size(bytes, size)) == score);
    CHECK_THAT(read(with_stated_size(bytes, size - 1)), Catch::StartsWith("refused: entry 'a.xml' "));
    CHECK_THAT(read(with_stated_size(bytes, size + 1)), Catch::StartsWith("refused: entry 'a.xml' "));
    CHECK_THAT(read(with_stated_size(bytes, 0)), Catch::StartsWith("refused: entry 'a.xml' "));
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
}

TEST_CASE("an archive may have so many entries, and none more", "[io]") {
    Entries entries{{"a.xml", "<a/>"}};
    while (entries.size() < static_cast<std::size_t>(kMostZipEntries))
        entries.emplace_back(std::to_string(entries.size()), "");
    Diagnostics diagnostics;
    CHECK(read_mxl("a.mxl", zip_of(entries), diagnostics) == "<a/>");
    entries.emplace_back("one more", "");
    CHECK_FALSE(read_mxl("a.mxl", zip_of(entries), diagnostics));
    CHECK_THAT(diagnostics.all().back().message, Catch::Contains("257 entries; a score has 1 to 256"));
}

// Spaces between random letters, so that it is not packed more tightly than a score.
TEST_CASE("a score may be as large as a document, and not a byte larger", "[io]") {
    std::string score(kLargestDocument, ' ');
    std::minstd_rand random{1};
    for (std::size_t i = 0; i < score.size(); i += 64) score[i] = static_cast<char>('a' + random() % 26);
    Diagnostics diagnostics;
    CHECK(read_mxl("a.mxl", zip_of({{"a.xml", score}}), diagnostics) == score);
    score += ' ';
    CHECK_FALSE(read_mxl("a.mxl", zip_of({{"a.xml", score}}), diagnostics));
    CHECK_THAT(diagnostics.all().back().message, Catch::Contains("unpacks to more than 32 MiB"));
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
