#include "shedbook/io/csv.h"

#include <catch2/catch.hpp>
#include <string>

namespace shedbook {
namespace {

CsvTable table_of(const std::string& text) {
    Diagnostics faults;
    CsvTable out = read_csv(SourceText{"a.csv", text}, faults);
    CHECK_FALSE(faults.has_errors());
    return out;
}

}  // namespace

TEST_CASE("a table is read with commas, semicolons or tabs, and with marks of quotation", "[io][csv]") {
    for (const std::string between : {",", ";", "\t"}) {
        const CsvTable table = table_of("Name" + between + "Level\r\n\"Lind" + between + " \"\"Ada\"\"\"" +
                                        between + " 3\r\n\r\nBo\n");
        REQUIRE(table.columns.size() == 2);
        CHECK(table.columns[1].first == "level");
        REQUIRE(table.rows.size() == 2);
        CHECK(table.rows[0].find("name")->as_string() == "Lind" + between + " \"Ada\"");
        CHECK(table.rows[0].find("level")->as_int() == 3);
        CHECK(table.rows[1].find("level") == nullptr);
    }
}

TEST_CASE("what a spreadsheet puts before the first letter is no part of its name", "[io][csv]") {
    CHECK(table_of("\xEF\xBB\xBFname\nAda\n").columns[0].first == "name");
    CHECK(table_of("").columns.empty());
    CHECK(table_of("\n\nname\n").rows.empty());
}

TEST_CASE("a cell knows its place, and faults of a table are all told", "[io][csv]") {
    const SourceText source{"a.csv", "name,level\nAda,3,x\nBo,\"4\nCy,5\n"};
    Diagnostics faults;
    const CsvTable table = read_csv(source, faults);
    REQUIRE(faults.all().size() == 2);
    CHECK(faults.all()[0].where == "a.csv:2:7");
    CHECK(faults.all()[1].where == "a.csv:3:4");
    REQUIRE(table.rows.size() == 3);
    CHECK(source.text.substr(table.rows[2].find("level")->where.begin, 1) == "5");
}

// RFC 4180, 2.6 and 2.7: line ends and doubled marks within quotation marks.
TEST_CASE("lines of a table are read as they stand between quotation marks", "[io]") {
    const SourceText source{"t.csv", "a;b\r\n\"two\nlines, \"\"so\"\" \"; plain \r\n;\r\nlast;\n"};
    Diagnostics said;
    CsvReader reader{source, said};
    const auto texts = [&] {
        std::vector<std::string> out;
        if (const auto cells = reader.next()) {
            for (const CsvCell& cell : *cells) out.push_back(cell.text);
        }
        return out;
    };
    using Texts = std::vector<std::string>;
    CHECK(texts() == Texts{"a", "b"});
    CHECK(texts() == Texts{"two\nlines, \"so\" ", "plain"});
    CHECK(texts() == Texts{"last", ""});
    CHECK(texts().empty());
    CHECK(said.all().empty());
}

TEST_CASE("a quotation mark that is never closed costs its own line", "[io]") {
    const SourceText source{"t.csv", "name\n\"Ada\nBo\n"};
    Diagnostics said;
    const CsvTable table = read_csv(source, said);
    CHECK(said.error_count() == 1);
    REQUIRE(table.rows.size() == 2);
    CHECK(table.rows[1].find("name")->as_string() == "Bo");
}

}  // namespace shedbook
