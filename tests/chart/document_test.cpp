#include <catch2/catch.hpp>

#include "chart/dump.h"
#include "chart/typed_chart.h"
#include "shedbook/chart/limits.h"
#include "shedbook/chart/readers.h"
#include "shedbook/chart/timeline.h"

namespace shedbook {
namespace {

// A score of one bar with a title, in any encoding that the tests put it.
std::string small_score(const std::string& declaration, const std::string& title) {
    return declaration + "<score-partwise><work><work-title>" + title +
           "</work-title></work><part-list><score-part "
           "id=\"P1\"><part-name>x</part-name></score-part></part-list>"
           "<part id=\"P1\"><measure "
           "number=\"1\"><harmony><root><root-step>C</root-step></root><kind>major</kind>"
           "</harmony><note><rest/><duration>4</duration></note></measure></part></score-partwise>";
}

std::string utf16(const std::string& latin, bool big_endian, bool marked) {
    std::string out;
    const auto put = [&](unsigned char c, unsigned char high) {
        out += static_cast<char>(big_endian ? high : c);
        out += static_cast<char>(big_endian ? c : high);
    };
    if (marked) put(0xFF, 0xFE);
    for (const char c : latin) put(static_cast<unsigned char>(c), 0);
    return out;
}

std::string title_read(const std::string& bytes) {
    Diagnostics diagnostics;
    const auto chart = read_chart("x.xml", bytes, {}, diagnostics);
    if (!chart) return diagnostics.all().empty() ? "nothing" : diagnostics.all().front().message;
    return chart->title;
}

std::string refusal(const std::string& text) {
    Diagnostics diagnostics;
    const auto chart = read_chart("x.xml", text, {}, diagnostics);
    CHECK(!chart);
    return diagnostics.all().empty() ? "" : diagnostics.all().front().message;
}

}  // namespace

TEST_CASE("scores are read in UTF-8, UTF-16 and the eight-bit encodings of old programs", "[chart][xml]") {
    CHECK(title_read(small_score("", "\xC3\x89tude")) == "Étude");
    CHECK(title_read("\xEF\xBB\xBF" + small_score("<?xml version=\"1.0\"?>", "\xC3\x89tude")) == "Étude");
    CHECK(title_read(small_score("<?xml version='1.0' encoding='ISO-8859-1'?>", "\xC9tude")) == "Étude");
    CHECK(title_read(small_score("<?xml version='1.0' encoding='windows-1252'?>", "\x93Quoted\x94")) ==
          "“Quoted”");
    const std::string latin = small_score("<?xml version='1.0' encoding='UTF-16'?>", "\xC9tude");
    for (const bool big_endian : {false, true}) {
        CHECK(title_read(utf16(latin, big_endian, true)) == "Étude");
        CHECK(title_read(utf16(latin, big_endian, false)) == "Étude");
    }
    // Declared as UTF-16 by a program that then wrote UTF-8.
    CHECK(title_read(small_score("<?xml version='1.0' encoding='UTF-16'?>", "\xC3\x89tude")) == "Étude");
    // Broken UTF-8 is taken for Latin-1, and said.
    CHECK(title_read(small_score("", "\xC9tude")) == "Étude");
}

TEST_CASE("text charts are read in the encodings that editors save", "[chart][xml]") {
    const auto title = [](const std::string& bytes) {
        Diagnostics diagnostics;
        const auto chart = read_chart("x.tune", bytes, {}, diagnostics);
        return chart ? chart->title : diagnostics.all().front().message;
    };
    const std::string latin = "Title: \xC9tude\n| C |\n";
    CHECK(title("Title: Étude\r\n| C |\r\n") == "Étude");
    CHECK(title("\xEF\xBB\xBFTitle: Étude\n| C |\n") == "Étude");
    CHECK(title(latin) == "Étude");
    CHECK(title(utf16(latin, false, true)) == "Étude");
    CHECK(title(utf16(latin, true, true)) == "Étude");
    Diagnostics diagnostics;
    CHECK(!read_tune(SourceText{"x.tune", latin}, diagnostics));
    CHECK(diagnostics.all().front().message == "this is no UTF-8 text");
}

TEST_CASE("a plain DOCTYPE is read past, one with declarations is refused", "[chart][xml]") {
    const std::string plain =
        "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 3.1 Partwise//EN\" "
        "\"http://www.musicxml.org/dtds/partwise.dtd\">";
    CHECK(title_read(small_score(plain, "Plain")) == "Plain");
    CHECK(refusal(small_score("<!DOCTYPE a [<!ENTITY b SYSTEM \"file:///etc/passwd\">]>", "&b;")) ==
          "the document declares entities or elements of its own");
    CHECK(refusal(small_score("<!DOCTYPE a PUBLIC '[' 'x' [ ]>", "x")) ==
          "the document declares entities or elements of its own");
}

TEST_CASE("documents that would blow up the tree are refused before it is built", "[chart][xml]") {
    CHECK(refusal(repeated("<a>", 200'000)) == "elements within elements, more than 100 deep");
    CHECK(refusal("<score-partwise>" + repeated("<a/>", kMostXmlNodes + 1) + "</score-partwise>") ==
          "more than 1500000 elements and attributes");
    CHECK(refusal("<score-partwise " + repeated("a=\"\" ", kMostXmlNodes + 1) + "/>") ==
          "more than 1500000 elements and attributes");
    // What is no markup does not count.
    CHECK(title_read(small_score("<!--" + repeated("<a>", 1'000) + "-->", "Comment")) == "Comment");
    CHECK(title_read(small_score("<?p " + repeated("<a>", 1'000) + "?>", "Instruction")) == "Instruction");
    CHECK(title_read(small_score("", "<![CDATA[" + repeated("<a>", 3) + "]]>")) == "<a><a><a>");
}

TEST_CASE("a part is chosen by its id or name, and the names are offered where there is none",
          "[chart][xml]") {
    const std::string bar = "<measure number=\"1\"><harmony><root><root-step>";
    const std::string rest =
        "</root-step></root><kind>major</kind></harmony><note><rest/><duration>4</duration></note></measure>";
    const std::string score =
        "<score-partwise><part-list><score-part id=\"P1\"><part-name>Alto Sax</part-name></score-part>"
        "<score-part id=\"P2\"><part-name>Piano</part-name></score-part></part-list><part id=\"P1\">" +
        bar + "C" + rest + "</part><part id=\"P2\">" + bar + "F" + rest + "</part></score-partwise>";
    const auto chords = [&](const std::string& part) {
        Diagnostics diagnostics;
        const auto chart = read_lead_sheet("x.xml", score, {part}, diagnostics);
        if (!chart) return render(diagnostics.all().front());
        return chords_of(*chart);
    };
    CHECK(chords("P2") == "F");
    CHECK(chords("alto sax") == "C");
    CHECK(chords("Piano") == "F");
    CHECK(chords("Tuba") ==
          "x.xml: error: no part is called 'Tuba'\n    the parts are 'P1' (Alto Sax), 'P2' (Piano)\n");
}

TEST_CASE("note lengths that no paper shows are refused, each with its bar", "[chart][xml]") {
    std::string bars;
    for (const int divisions : {999'983, 999'979, 999'961, 999'959, 999'953, 999'931}) {
        bars += "<measure number=\"1\"><attributes><divisions>" + std::to_string(divisions) +
                "</divisions></attributes><note><rest/><duration>1</duration></note></measure>";
    }
    const std::string score =
        "<score-partwise><part-list/><part id=\"P1\">" + bars + "</part></score-partwise>";
    Diagnostics diagnostics;
    CHECK(!read_lead_sheet("x.xml", score, {}, diagnostics));
    CHECK(diagnostics.error_count() == 6);
}

TEST_CASE("bars whose lengths have no sum are refused when they are unfolded", "[chart]") {
    Chart chart;
    chart.sections.emplace_back();
    for (const int part : {999'983, 999'979, 999'961, 999'959, 999'953, 999'931}) {
        Bar bar;
        bar.length = Duration{Rational{1, part}};
        chart.sections[0].bars.push_back(bar);
    }
    Diagnostics diagnostics;
    CHECK(!unfold(chart, diagnostics));
    CHECK(diagnostics.has_errors());
}

TEST_CASE("words of any number in a score are read past in a moment", "[chart][xml]") {
    std::string xml = small_score("", "x");
    const std::size_t at = xml.find("<harmony>");
    xml.insert(at, "<direction><direction-type><words>" + repeated("a ", 300'000) +
                       "D.C. al Fine</words></direction-type></direction>");
    Diagnostics diagnostics;
    CHECK(read_chart("x.xml", xml, {}, diagnostics));
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(diagnostics.all().front().message == "D.C. al Fine, but no bar has a 'Fine'");
}

TEST_CASE("rests of more bars than a chart may have are refused at their line", "[chart][abc]") {
    Diagnostics diagnostics;
    const auto chart =
        read_chart("x.abc", "X:1\nK:C\n\"C\"c4|\n" + repeated("Z1000|\n", 17'500), {}, diagnostics);
    CHECK(!chart);
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(diagnostics.all().front().where == "x.abc:203:1");
    CHECK(diagnostics.all().front().message == "more than 200000 bars");
}

}  // namespace shedbook
