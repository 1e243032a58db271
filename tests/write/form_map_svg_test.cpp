#include <catch2/catch.hpp>
#include <sstream>

#include "shedbook/write/form_map_svg.h"

namespace shedbook {

TEST_CASE("a form map is drawn as SVG in black on white, its texts escaped", "[write]") {
    FormMap map;
    map.title = "You & <me>";
    MapPhrase phrase;
    phrase.label = "A";
    phrase.bars.resize(4);
    phrase.chords = {{Rational{0}, "G7", "V7", "G Mixolydian"}, {Rational{1}, "C", "I", "C Ionian"}};
    phrase.bars[0].grade = Grade::Hard;
    phrase.leads = {{Rational{0}, Rational{1}, "C"}, {Rational{1}, std::nullopt, "F"}};
    phrase.units = {{Rational{0}, Rational{2}, "V-I", false, false}};
    phrase.regions = {{Rational{0}, Rational{4}, "C major", false, false}};
    map.phrases = {phrase, phrase};
    std::ostringstream out;
    write_form_map(map, out);
    const std::string svg = out.str();
    CHECK(svg.find("You &amp; &lt;me&gt;") != std::string::npos);
    CHECK(svg.find("G Mixolydian") != std::string::npos);
    CHECK(svg.find(">to F<") != std::string::npos);
    CHECK(svg.find("stroke-dasharray") != std::string::npos);
    CHECK(svg.find(">V-I<") != std::string::npos);
    CHECK(svg.find("fill=\"rgb(199,199,199)\"") != std::string::npos);
    for (const char* colour : {"red", "blue", "grey", "gray", "#"}) {
        INFO(colour);
        CHECK(svg.find(std::string{"stroke=\""} + colour) == std::string::npos);
    }
}

}  // namespace shedbook
