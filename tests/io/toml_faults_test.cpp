#include <catch2/catch.hpp>
#include <string>
#include <utility>
#include <vector>

#include "shedbook/io/data.h"

namespace shedbook {
namespace {

std::vector<std::string> toml_faults_of(const std::string& text) {
    Diagnostics faults;
    CHECK_FALSE(read_toml(SourceText{"a.toml", text}, faults));
    std::vector<std::string> out;
    for (const Diagnostic& fault : faults.all()) out.push_back(fault.where + ": " + fault.message);
    return out;
}

}  // namespace

TEST_CASE("every line of TOML that is at fault is told in one run", "[io][toml]") {
    CHECK(
        toml_faults_of("[[student]]\nname = Ada\ninstrument = flute\n\n[[student]\nname = “Bo”\nlevel = 3,5\n"
                       "[[student]]\nname = \"x\"\nname = \"y\"\n") ==
        std::vector<std::string>{
            "a.toml:2:8: text stands in quotation marks", "a.toml:3:15: text stands in quotation marks",
            "a.toml:5:11: a heading closes with as many brackets as it opens with",
            "a.toml:6:8: quotation marks are plain ones here: \"",
            "a.toml:7:10: a number has a point, not a comma", "a.toml:10:8: 'name' is given twice here"});
}

TEST_CASE("what is wrong with a line of TOML is told in our words", "[io][toml]") {
    const std::vector<std::pair<std::string, std::string>> cases{
        {"name = \"Ada\n", "no closing quotation mark"},
        {"name = 'Ada\"\n", "no closing quotation mark"},
        {"name \"Ada\"\n", "this line has no '='"},
        {"Ada Lind, flute\n", "this line has no '='"},
        {"name: \"Ada\"\n", "not ':'"},
        {"full name = \"Ada\"\n", "one word"},
        {"name = \n", "'name' has no value"},
        {"level = 3 4\n", "something stands behind the value"},
        {"name = \"a\" goal = 3\n", "something stands behind the value"},
        {"name = \"a\",\n", "no comma stands behind a value"},
        {"level = 03\n", "does not begin with 0"},
        {"level = yes\n", "true or false"},
        {"plan = true3\n", "text stands in quotation marks"},
        {"name = \"A\\q\"\n", "backslash"},
        {"drills = [\"a\" \"b\"]\n", "a list has commas"},
        {"[student]]\n", "as many brackets"},
        {"[student]\n[student]\n", "stands here twice"},
        {"= 3\n", "this cannot be read"},
        {"\xFF\n", "UTF-8"},
        {"name = \"\"\"Ada\n", "no closing quotation mark"},
    };
    for (const auto& [text, said] : cases) {
        INFO(text);
        const std::vector<std::string> faults = toml_faults_of(text);
        REQUIRE(faults.size() == 1);
        CHECK_THAT(faults[0], Catch::Contains(said));
        // Nothing of the library's own way to speak.
        CHECK_THAT(faults[0], !Catch::Contains("parsing") && !Catch::Contains("saw"));
    }
}

}  // namespace shedbook
