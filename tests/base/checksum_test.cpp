#include "shedbook/base/checksum.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("the sum is the published one, and may be taken in pieces", "[base]") {
    // D. Eastlake, T. Hansen, G. Fowler, K.-P. Vo, L. Noll, "The FNV Non-Cryptographic Hash Algorithm"
    // (draft-eastlake-fnv), test vectors of 64 bits, FNV-1a; from memory.
    CHECK(checksum("") == 0xCBF29CE484222325U);
    CHECK(checksum("a") == 0xAF63DC4C8601EC8CU);
    CHECK(checksum("foobar") == 0x85944171F73967E8U);
    CHECK(checksum("bar", checksum("foo")) == checksum("foobar"));
}

TEST_CASE("a code has six letters and digits, none of those that look alike", "[base]") {
    for (const char* text : {"", "a", "foobar"}) {
        const std::string code = code_of(checksum(text));
        CHECK(code.size() == 6);
        CHECK(code.find_first_of("IO01") == std::string::npos);
    }
    CHECK(code_of(checksum("a")) != code_of(checksum("b")));
}

}  // namespace shedbook
