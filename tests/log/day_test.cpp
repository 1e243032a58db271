#include "shedbook/log/day.h"

#include <catch2/catch.hpp>

namespace shedbook {
namespace {

// A Sunday.
const Day kSunday = *parse_date("2026-11-29");

std::string read(std::string_view text) {
    const auto day = parse_day(text, kSunday);
    return day ? date_text(*day) : "none";
}

}  // namespace

TEST_CASE("a day is read as players write it", "[log]") {
    CHECK(read("today") == "2026-11-29");
    CHECK(read("Yesterday") == "2026-11-28");
    CHECK(read("3 days ago") == "2026-11-26");
    CHECK(read("a week ago") == "2026-11-22");
    CHECK(read("monday") == "2026-11-23");
    CHECK(read("last sunday") == "2026-11-22");
    CHECK(read("wed") == "2026-11-25");
    CHECK(read("2027-01-20") == "2027-01-20");
    CHECK(read("20 jan") == "2027-01-20");
    CHECK(read("Jul 4") == "2026-07-04");
    CHECK(read("4 July 2025") == "2025-07-04");
    CHECK(read("29 feb 2024") == "2024-02-29");
}

TEST_CASE("what is no day is not read as one", "[log]") {
    for (const char* text : {"", "someday", "2026-02-29", "2026-13-01", "31 nov", "26-11-29", "11/29", "mo",
                             "3 days", "99999 days ago", "2026-11-29-1", "jan 20 27"}) {
        INFO(text);
        CHECK(read(text) == "none");
    }
}

TEST_CASE("a day in words names its weekday, and its year where that differs", "[log]") {
    CHECK(day_in_words(kSunday, kSunday) == "Sun 29 Nov");
    CHECK(day_in_words(*parse_date("2027-01-20"), kSunday) == "Wed 20 Jan 2027");
}

TEST_CASE("a length of time is read in minutes, or in hours and minutes", "[log]") {
    CHECK(parse_minutes("6") == 360);
    CHECK(parse_minutes("6.5") == 390);
    CHECK(parse_minutes("6,5") == 390);
    CHECK(parse_minutes("6 min") == 360);
    CHECK(parse_minutes("90s") == 90);
    CHECK(parse_minutes("1:20") == 4800);
    CHECK(parse_minutes("1h20") == 4800);
    CHECK(parse_minutes("1 h 20 min") == 4800);
    CHECK(parse_minutes("2h") == 7200);
    for (const char* text : {"", "0", "-3", "1:60", "1:2", "25:00", "six", "1.2.3", "6 x", "1441", "h"}) {
        INFO(text);
        CHECK_FALSE(parse_minutes(text).has_value());
    }
    CHECK(time_in_words(4800) == "1 hour 20 minutes");
    CHECK(time_in_words(390) == "6 minutes 30");
    CHECK(time_in_words(60) == "1 minute");
}

}  // namespace shedbook
