#include "shedbook/base/source_text.h"

#include <catch2/catch.hpp>

#include "shedbook/base/text.h"

namespace shedbook {

TEST_CASE("a byte and its place lead to each other in every line", "[base]") {
    std::string text;
    for (int i = 0; i < 300; ++i)
        text += i % 7 == 0 ? "\n" : i % 3 == 0 ? "\u266D" : i % 50 == 1 ? "\x80" : "a";
    const SourceText source{"a", text};
    Place expected;
    for (std::size_t at = 0; at < text.size(); at += character_length(text, at)) {
        const Place place = source.place_of(at);
        CHECK(place.line == expected.line);
        CHECK(place.column == expected.column);
        CHECK(source.byte_of(place) == at);
        expected = text[at] == '\n' ? Place{expected.line + 1, 1} : Place{expected.line, expected.column + 1};
    }
    CHECK(source.byte_of({9'999, 1}) == text.size());
    CHECK(source.byte_of({1, 9'999}) == text.size());
    CHECK(source.byte_of({0, 0}) == 0);
    CHECK(SourceText{"a", ""}.byte_of({1, 1}) == 0);
}

}  // namespace shedbook
