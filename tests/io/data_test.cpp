#include "shedbook/io/data.h"

#include <catch2/catch.hpp>

namespace shedbook {
namespace {

std::string text_at(const SourceText& source, Span span) {
    return source.text.substr(span.begin, span.end - span.begin);
}

}  // namespace

TEST_CASE("JSON values know their place in the text", "[io]") {
    const SourceText source{"a.json", R"({"title": "Blue Door", "bars": [1, 2.5, true, null]})"};
    Diagnostics diagnostics;
    const auto data = read_json(source, diagnostics);
    REQUIRE(data);
    CHECK(data->find("title")->as_string() == "Blue Door");
    CHECK(text_at(source, data->find("title")->where) == "\"Blue Door\"");
    const Data::Array& bars = *data->find("bars")->as_array();
    CHECK(bars[0].as_int() == 1);
    CHECK(bars[1].as_number() == 2.5);
    CHECK_FALSE(bars[1].as_int());
    CHECK(bars[2].as_bool() == true);
    CHECK(bars[3].is_null());
    CHECK(data->find("none") == nullptr);
}

TEST_CASE("JSON is written in the order it was read", "[io]") {
    const SourceText source{"a.json", R"({"b":1,"a":[{"x":"é"},[]],"c":null,"d":1.5})"};
    Diagnostics diagnostics;
    CHECK(write_json(*read_json(source, diagnostics)) == source.text);
}

TEST_CASE("broken JSON is reported where it breaks", "[io]") {
    Diagnostics diagnostics;
    CHECK_FALSE(read_json(SourceText{"a.json", "{\"a\": 1,\n \"b\": ]}"}, diagnostics));
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(diagnostics.all()[0].where == "a.json:2:7");
    CHECK_FALSE(read_json(SourceText{"a.json", ""}, diagnostics));
    CHECK_FALSE(read_json(SourceText{"a.json", std::string(100000, '[')}, diagnostics));
}

TEST_CASE("JSON may be nested so deep", "[io]") {
    const auto nested = [](std::size_t depth) {
        const SourceText source{"a.json", std::string(depth, '[') + std::string(depth, ']')};
        Diagnostics diagnostics;
        const bool is_read = read_json(source, diagnostics).has_value();
        CHECK(is_read != diagnostics.has_errors());
        return is_read;
    };
    CHECK(nested(64));
    CHECK_FALSE(nested(65));
}

TEST_CASE("a JSON object gives each of its members once", "[io]") {
    Diagnostics diagnostics;
    CHECK(read_json(SourceText{"a.json", R"({"a":{"a":1},"b":[{"a":1},{"a":2}]})"}, diagnostics));
    CHECK_FALSE(read_json(SourceText{"a.json", R"({"a":1,"b":2,"a":1})"}, diagnostics));
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(diagnostics.all()[0].where == "a.json:1:14");
}

TEST_CASE("values of a long line of TOML are found in a moment", "[io]") {
    std::string text = "a = [";
    for (int i = 0; i < 200'000; ++i) text += "0,";
    text += "\"\u266D\",7]\n";
    const SourceText source{"a.toml", text};
    Diagnostics diagnostics;
    const auto data = read_toml(source, diagnostics);
    REQUIRE(data);
    CHECK(text_at(source, data->find("a")->as_array()->back().where) == "7");
}

TEST_CASE("TOML values know their place, and tables keep the order of the text", "[io]") {
    const SourceText source{"a.toml",
                            "[[drill]]\nid = \"thirds\"\ncell = \"1 3\"\n\n[[drill]]\nid = \"b\"\n"};
    Diagnostics diagnostics;
    const auto data = read_toml(source, diagnostics);
    REQUIRE(data);
    const Data::Array& drills = *data->find("drill")->as_array();
    REQUIRE(drills.size() == 2);
    CHECK(text_at(source, drills[0].find("cell")->where) == "\"1 3\"");
    CHECK((*drills[0].as_object())[0].first == "id");
}

TEST_CASE("broken TOML is reported where it breaks", "[io]") {
    Diagnostics diagnostics;
    CHECK_FALSE(read_toml(SourceText{"a.toml", "id = \"a\"\nname = [1, \n"}, diagnostics));
    REQUIRE(diagnostics.has_errors());
    CHECK(diagnostics.all()[0].where.starts_with("a.toml:"));
}

}  // namespace shedbook
