#include "shedbook/log/place.h"

#include <catch2/catch.hpp>

#include "shedbook/io/errors.h"

namespace shedbook {

TEST_CASE("the log lies where the environment says", "[log]") {
    const DataEnvironment home{"", "", "/home/ada"};
    CHECK(log_file("", home) == "/home/ada/.local/share/shedbook/practice.db");
    CHECK(log_file("", {"", "/data", "/home/ada"}) == "/data/shedbook/practice.db");
    CHECK(log_file("", {"/a/my.db", "/data", "/home/ada"}) == "/a/my.db");
    CHECK(log_file("b.db", {"/a/my.db", "/data", "/home/ada"}) == "b.db");
    CHECK_THROWS_AS(log_file("", DataEnvironment{}), FileError);
}

TEST_CASE("the kind of a file system tells whether it is shared over a network", "[log]") {
    CHECK(is_network_file_system(0x6969));
    CHECK(is_network_file_system(static_cast<long>(0xFF534D42)));
    CHECK_FALSE(is_network_file_system(0xEF53));
    CHECK_FALSE(is_on_network("/proc/self/stat"));
}

}  // namespace shedbook
