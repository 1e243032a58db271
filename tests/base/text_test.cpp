#include "shedbook/base/text.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("the nearest word is found over slips of the finger and swapped letters", "[base]") {
    const std::vector<std::string> words{"title", "fine", "alto-sax", "thirds", "sevenths"};
    CHECK(nearest("titel", words) == "title");
    CHECK(nearest("fien", words) == "fine");
    CHECK(nearest("alto-sex", words) == "alto-sax");
    CHECK(nearest("thrids", words) == "thirds");
    CHECK(nearest("Sevenhts", words) == "sevenths");
    CHECK(nearest("zither", words).empty());
    CHECK(nearest("", words).empty());
    CHECK(nearest(std::string(500, 'x'), words).empty());
}

// UTF-8: RFC 3629, section 3; over-long forms and surrogates are no text.
TEST_CASE("characters are counted, and bytes that are no text are known", "[base]") {
    CHECK(count_characters("B\u266D7") == 3);
    CHECK(count_characters("\xff\xfe") == 2);
    CHECK(is_valid_utf8("\U0001D12A"));
    CHECK_FALSE(is_valid_utf8("\xC0\xAF"));
    CHECK_FALSE(is_valid_utf8("\xED\xA0\x80"));
    CHECK_FALSE(is_valid_utf8("\xF4\x90\x80\x80"));
    CHECK_FALSE(is_valid_utf8("a\x80"));
}

TEST_CASE("names are compared without case and separators", "[base]") {
    CHECK(slug("  Alto  Sax ") == "alto-sax");
    CHECK(slug("half_whole") == "half-whole");
    CHECK(trimmed(" \t a b \r\n") == "a b");
    CHECK(join({"a", "b"}, ", ") == "a, b");
    CHECK(split("a||b", '|').size() == 3);
}

TEST_CASE("a name that begins with a separator has none at its beginning", "[base]") {
    CHECK(slug("-major") == "major");
    CHECK(slug("__alto sax") == "alto-sax");
    CHECK(slug("-").empty());
}

}  // namespace shedbook
