#include "shedbook/io/fields.h"

#include <catch2/catch.hpp>

namespace shedbook {

namespace {

enum class Colour { Red, Green };

// What is said of an entry, one message a line, and whether it was good.
template <class Read>
std::string said_of(const std::string& toml, Read read) {
    const SourceText source{"a.toml", toml};
    Diagnostics diagnostics;
    const std::optional<Data> data = read_toml(source, diagnostics);
    REQUIRE(data);
    Fields fields{source, *data, "thing", diagnostics};
    read(fields);
    std::string out = fields.finish() ? "good" : "bad";
    for (const Diagnostic& diagnostic : diagnostics.all())
        out += "; " + diagnostic.message + (diagnostic.hint.empty() ? "" : " (" + diagnostic.hint + ")");
    return out;
}

}  // namespace

template <>
inline constexpr Worded<Colour> kWords<Colour>[] = {{Colour::Red, "red"}, {Colour::Green, "green"}};

TEST_CASE("fields are read, and those that are absent are as they would be", "[io]") {
    const std::string said =
        said_of("id = \"a\"\nsize = 3\nbig = true\nlist = [\"x\", \"y\"]\none = \"z\"\ncolour = \"Green\"\n",
                [](Fields& fields) {
                    CHECK(fields.text("id") == "a");
                    CHECK(fields.text("name", "none") == "none");
                    CHECK(fields.number("size", 1, 3) == 3);
                    CHECK(fields.number("depth", 1, 6, 4) == 4);
                    CHECK(fields.flag("big", false));
                    CHECK(fields.flag("small", true));
                    CHECK(fields.texts("list") == std::vector<std::string>{"x", "y"});
                    CHECK(fields.texts("one") == std::vector<std::string>{"z"});
                    CHECK(fields.texts("no").empty());
                    CHECK(fields.word("colour", Colour::Red) == Colour::Green);
                    CHECK(fields.word("other", Colour::Green) == Colour::Green);
                    CHECK(fields.either("way", "up", "down", true));
                });
    CHECK(said == "good");
}

TEST_CASE("a number is taken up to its limits and not beyond", "[io]") {
    const auto number = [](const char* value) {
        return said_of("n = " + std::string{value},
                       [](Fields& fields) { static_cast<void>(fields.number("n", 2, 5)); });
    };
    CHECK(number("2") == "good");
    CHECK(number("5") == "good");
    CHECK(number("1") == "bad; 'n' must be a number from 2 to 5");
    CHECK(number("6") == "bad; 'n' must be a number from 2 to 5");
    CHECK(number("2.5") == "bad; 'n' must be a number from 2 to 5");
}

TEST_CASE("what is missing, of another kind or misspelt is said", "[io]") {
    CHECK(said_of("", [](Fields& fields) { static_cast<void>(fields.text("id")); }) ==
          "bad; this thing has no 'id'");
    CHECK(said_of("id = 3", [](Fields& fields) { static_cast<void>(fields.text("id")); }) ==
          "bad; 'id' must be a text");
    CHECK(said_of("id = \"\"", [](Fields& fields) { static_cast<void>(fields.text("id")); }) ==
          "bad; 'id' must be a text");
    CHECK(said_of("l = [3]", [](Fields& fields) { static_cast<void>(fields.texts("l")); }) ==
          "bad; 'l' must be a list of texts");
    CHECK(said_of("b = 1", [](Fields& fields) { static_cast<void>(fields.flag("b", false)); }) ==
          "bad; 'b' must be true or false");
    CHECK(said_of("colour = \"gren\"", [](Fields& fields) {
              CHECK(fields.word("colour", Colour::Red) == Colour::Red);
          }) == "bad; 'colour' must be one of: red, green (did you mean 'green'?)");
    CHECK(said_of("way = \"dwn\"", [](Fields& fields) {
              CHECK_FALSE(fields.either("way", "up", "down", false));
          }) == "bad; 'way' must be one of: up, down (did you mean 'down'?)");
    CHECK(said_of("size = 1\nsise = 2", [](Fields& fields) {
              static_cast<void>(fields.number("size", 0, 9));
          }) == "bad; a thing has no field 'sise' (did you mean 'size'?)");
}

}  // namespace shedbook
