#include <catch2/catch.hpp>

#include "chart/dump.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

Chart read(const std::string& text) {
    Diagnostics diagnostics;
    auto chart = read_tune(SourceText{"test.tune", text}, diagnostics);
    std::string messages;
    for (const Diagnostic& diagnostic : diagnostics.all()) messages += render(diagnostic);
    INFO(text << "\n" << messages);
    REQUIRE(chart);
    return *std::move(chart);
}

}  // namespace

TEST_CASE("one symbol has the bar, two share four beats, more have one beat each", "[chart][tune]") {
    CHECK(chords_of(read("| Dm7 | G7 C | F G Am | C / F G |")) == "Dm7 | G7 C@3 | F G@2 Am@3 | C F@3 G@4");
}

}  // namespace shedbook
