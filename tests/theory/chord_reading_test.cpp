#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <random>

#include "shedbook/base/text.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {
namespace {

std::string reading(std::string_view text) {
    const auto symbol = parse_chord_symbol(text);
    return symbol ? to_string(*symbol) : "refused";
}

// The first message and its hint, in one line.
std::string message(std::string_view text) {
    Diagnostics diagnostics;
    (void)read_chord_symbol(SourceText{"page", std::string{text}}, diagnostics);
    REQUIRE_FALSE(diagnostics.all().empty());
    const Diagnostic& first = diagnostics.all().front();
    return first.message + (first.hint.empty() ? "" : "; " + first.hint);
}

struct ReadingRow {
    std::string_view typed;
    std::string_view printed;
};

void check(const std::vector<ReadingRow>& rows) {
    for (const ReadingRow& row : rows) {
        INFO(row.typed);
        CHECK(reading(row.typed) == row.printed);
    }
}

// Numbers below n, the same everywhere (std::uniform_int_distribution is not).
class Dice {
  public:
    std::size_t below(std::size_t n) { return engine_() % n; }

  private:
    std::mt19937 engine_{20};
};

// What is read must print and read back, whatever it was.
void check_if_read(std::string_view text) {
    const auto symbol = parse_chord_symbol(text);
    if (!symbol) return;
    const auto again = parse_chord_symbol(to_string(*symbol));
    if (!again || *again != *symbol) FAIL_CHECK(text << " printed " << to_string(*symbol));
    if ((pitch_set(*symbol) & 1U) == 0) FAIL_CHECK(text << " lost its root");
}

}  // namespace

// Each row is decided by a rule of docs/chord-symbols.md.
TEST_CASE("twenty nasty symbols are read as the rules say", "[theory][chord]") {
    check({
        {"A\u266D\u207B\u2077\u207D\u266D\u2075\u207E", "Abm7b5"},  // all raised
        {"F\u266F\u00F8\u2079", "F#m9(b5)"},
        {"\uFF23\uFF4D\uFF17", "Cm7"},  // full-width letters
        {"B\u266E7", "B7"},             // a natural sign that changes nothing
        {"E\U0001D12B\u25B3", "Ebbmaj7"},
        {"  Bb - 7 b5 / Eb ", "Bbm7b5/Eb"},
        {"Cmadd9", "Cm(add9)"},  // not "ma"
        {"CMAdd9", "C(add9)"},
        {"Abb5", "Abb5"},  // all flats belong to the root
        {"Eb#5", "Eb+"},   // an opposite sign does not
        {"C6/9/E", "C6/9/E"},
        {"G9/6", "G6/9"},
        {"D7+9-5", "D7(b5,#9)"},
        {"F7(9-,5+)", "F7(#5,b9)"},
        {"C7M(9)/B", "Cmaj9/B"},
        {"Cm(+7)", "Cm(maj7)"},
        {"G#dim7(add ma7,9,b13)", "G#dim7(maj7,add9,b13)"},
        {"Bb7b9 #9 13", "Bb13(b9,#9)"},
        {"C7sus4(13)(b9)", "C13sus4(b9)"},
        {"F sharp minor seven flat five over B", "F#m7b5/B"},
    });
}

TEST_CASE("the page on chord symbols says what the reader does", "[theory][chord]") {
    std::ifstream page{SHEDBOOK_SOURCE_DIR "/docs/chord-symbols.md"};
    std::string line;
    int count = 0;
    while (std::getline(page, line)) {
        if (!line.starts_with("| `")) continue;
        const std::vector<std::string_view> cells = split(line, '|');
        REQUIRE(cells.size() >= 4);
        const std::vector<std::string_view> printed = split(cells[2], '`');
        const std::string_view expected = printed.size() > 1 ? printed[1] : trimmed(cells[2]);
        // What stands in round brackets behind a spelling is a remark.
        const std::string_view typed = cells[1].substr(0, cells[1].find("` (") + 1);
        const std::vector<std::string_view> pieces = split(typed.empty() ? cells[1] : typed, '`');
        for (std::size_t i = 1; i < pieces.size(); i += 2) {
            INFO(line);
            CHECK(reading(pieces[i]) == expected);
            if (expected == "refused" && cells.size() == 5) CHECK(message(pieces[i]) == trimmed(cells[3]));
            ++count;
        }
    }
    CHECK(count > 150);
}

TEST_CASE("quality words may be small, capitalised or large", "[theory][chord]") {
    check({
        {"Cmajor7", "Cmaj7"}, {"CMajor7", "Cmaj7"}, {"CMAJOR7", "Cmaj7"}, {"Cma7", "Cmaj7"},
        {"CMa7", "Cmaj7"},    {"CMA7", "Cmaj7"},    {"CM7", "Cmaj7"},     {"Cm7", "Cm7"},
        {"Cmi7", "Cm7"},      {"CMi7", "Cm7"},      {"CMI7", "Cm7"},      {"CMIN7", "Cm7"},
        {"CMinor7", "Cm7"},   {"CDIM7", "Cdim7"},   {"CAug", "C+"},       {"CSUS4", "Csus4"},
        {"C7ALT", "C7alt"},   {"CDom7", "C7"},      {"Cdim.", "Cdim"},    {"Cmin.7", "Cm7"},
        {"CmAJ7", "refused"}, {"CmIN7", "refused"},
    });
}

TEST_CASE("plus and minus are a quality behind the root and an accidental elsewhere", "[theory][chord]") {
    check({
        {"C-", "Cm"},
        {"C-7", "Cm7"},
        {"C-9", "Cm9"},
        {"C-5", "C(b5)"},
        {"C+", "C+"},
        {"C+7", "C+7"},
        {"C+9", "C9(#5)"},
        {"C+5", "C+"},
        {"C7+", "C+7"},
        {"C7+5", "C+7"},
        {"C7+9", "C7(#9)"},
        {"C7-9", "C7(b9)"},
        {"C7-5-9", "C7(b5,b9)"},
        {"C9+11", "C9(#11)"},
        {"C7(-5)", "C7(b5)"},
        {"C7(+9)", "C7(#9)"},
        {"Cmaj7-5", "Cmaj7(b5)"},
        {"C-7-5", "Cm7b5"},
        {"C7+b9", "C7(#5,b9)"},
        {"Cmaj7+", "Cmaj7(#5)"},
        // Two readings are met, so none is taken.
        {"C+11", "refused"},
        {"Caug11", "refused"},
        {"C+6", "refused"},
        {"C+2", "refused"},
        {"C+4", "refused"},
        {"C6+9", "refused"},
        {"Cmj7", "refused"},
        {"Cmaug", "refused"},
    });
}

TEST_CASE("numbers name the chord, and in brackets or apart its tensions", "[theory][chord]") {
    check({
        {"C2", "C(add2)"},
        {"Cm2", "Cm(add2)"},
        {"C4", "Csus4"},
        {"Cm4", "Cm(add4)"},
        {"C5", "C5"},
        {"C67", "C7(add13)"},
        {"C6/7", "C7(add13)"},
        {"C7/6", "C7(add13)"},
        {"C/9", "C(add9)"},
        {"C(9)", "C(add9)"},
        {"Cm(9)", "Cm(add9)"},
        {"C7(9)", "C9"},
        {"Cm7(11)", "Cm11"},
        {"Cmaj7(9,13)", "Cmaj13"},
        {"C7b9,13", "C13(b9)"},
        {"C7(b9 13)", "C13(b9)"},
        {"C\u03946", "Cmaj7(add13)"},
        {"C(7)", "C7"},
        {"Csus4(9)", "Csus4(add2)"},
        {"C7(4)", "refused"},
        {"C/2", "refused"},
        {"C77", "refused"},
        {"C7 13", "refused"},
        {"C79", "refused"},
        {"Cmaj4", "C(add4)"},
        {"Cdim9", "Cdim7(add9)"},
        {"C\u00F811", "Cm11(b5)"},
        {"C7th", "C7"},
        {"C7 no 3rd", "C7(no3)"},
        {"Cm4/9", "Cm(add4,add9)"},
    });
}

TEST_CASE("suspensions drop the third unless it is added", "[theory][chord]") {
    check({
        {"Csus", "Csus4"},
        {"Csus2", "Csus2"},
        {"Csus24", "Csus4(add2)"},
        {"Csus2sus4", "Csus4(add2)"},
        {"Csus9", "C9sus4"},
        {"C7sus13", "C13sus4"},
        {"Cm7sus4", "C7sus4"},
        {"C6sus", "C6sus4"},
        {"C69sus", "C6/9sus4"},
        {"C11sus", "C9sus4"},
        {"Cmaj9sus4", "Cmaj9sus4"},
        {"C7sus4add3", "C7(add4)"},
        {"C7sus2", "C7sus2"},
        {"C+7sus4", "C7sus4(#5)"},
        {"C\u0394sus(b5)", "Cmaj7sus4(b5)"},
        {"Csusb9", "Csus4(addb9)"},
        {"Csus5", "refused"},
        {"Csusb2", "refused"},
        {"Csus#4", "refused"},
        {"Cdimsus4", "refused"},
        {"C7sus4alt", "refused"},
        {"Csussus", "refused"},
    });
}

TEST_CASE("a slash brings a bass note, one more tone or nothing", "[theory][chord]") {
    check({
        {"C/E", "C/E"},        {"C/Bb", "C/Bb"},
        {"C / G", "C/G"},      {"C\u2044E", "C/E"},
        {"C\\E", "C/E"},       {"C/C", "C"},
        {"Db/C#", "Db/C#"},    {"C6/9", "C6/9"},
        {"C6/A", "C6/A"},      {"Cm/maj7", "Cm(maj7)"},
        {"C7/#11", "C7(#11)"}, {"C over G", "C/G"},
        {"C7 on F#", "C7/F#"}, {"ConE", "C/E"},
        {"Cono5", "Cm(no5)"},  // here the o is a sign
        {"CONE", "refused"},   {"C7(b9/#9)", "C7(b9,#9)"},
        {"C/E/G", "refused"},  {"C/", "refused"},
        {"C//E", "refused"},   {"C/e", "refused"},
        {"C/X", "refused"},    {"Dm7/G7", "refused"},
        {"C/Em", "refused"},   {"C7/8", "refused"},
        {"C7/alt", "refused"}, {"C/B#b", "refused"},
    });
}

TEST_CASE("what is no chord symbol is refused", "[theory][chord]") {
    for (const std::string_view text :
         {"",         " ",       "()",      "#",       "maj7",   "H",         "h7",      "c",
          "Do#",      "Sol",     "Lam",     "IV7",     "C###",   "Cbbb",      "C#b",     "Bb#7",
          "C7(",      "C7)",     "C()",     "C7(b9",   "C7(b9]", "C((b9))",   "C7(,b9)", "C7(b9,)",
          "C,",       "C7b",     "C7#",     "Cadd",    "Cno",    "Cadd15",    "C7(b7)",  "C(#3)",
          "C7(#13)",  "C7(b11)", "C0",      "C1",      "C3",     "C8",        "C10",     "C12",
          "C7maj7",   "C7m",     "Cmm",     "Cmmaj",   "Cdimm7", "C+dim",     "Cm7dim",  "C7alt13",
          "C5#9",     "C(no7)",  "CMadd77", "C5(no5)", "C7b9b9", "Cadd9add9", "C7x",     "Cmja7",
          "Dm7 G7",   "C;F",     "CmFm",    "Coda",    "Fine",   "Verse",     "C7\xFF",  "\xE2\x99",
          "C7\u2603", "C.",      "%",       "||",      "C-F",    "CEG",       "A1"}) {
        INFO(text);
        CHECK(reading(text) == "refused");
    }
    CHECK(reading("C" + std::string(500, '(')) == "refused");
    CHECK(reading("C7" + std::string(500, ' ') + "(b9)") == "C7(b9)");
    CHECK(reading(std::string(100000, 'C')) == "refused");
}

TEST_CASE("alterations mean the same in any order and with any separation", "[theory][chord]") {
    std::vector<std::string> changes = {"#11", "#9", "b13", "b9"};
    const auto expected = parse_chord_symbol("C7(b9,#9,#11,b13)");
    REQUIRE(expected);
    do {
        for (const std::string_view between : {",", ", ", " ", "", ")(", "/"}) {
            std::string text = "C7(" + changes[0];
            for (std::size_t i = 1; i < changes.size(); ++i) text += std::string{between} + changes[i];
            INFO(text);
            CHECK(parse_chord_symbol(text + ")") == expected);
        }
    } while (std::ranges::next_permutation(changes).found);
}

TEST_CASE("signs that look alike are read alike", "[theory][chord]") {
    for (const std::string_view triangle : {"\u0394", "\u25B3", "\u2206", "\u25B5", "^"}) {
        CHECK(reading("C" + std::string{triangle} + "7") == "Cmaj7");
    }
    for (const std::string_view minus : {"\u2212", "\u2013", "\u2010", "\u2011", "\u207B"}) {
        CHECK(reading("C" + std::string{minus} + "7") == "Cm7");
        CHECK(reading("C7" + std::string{minus} + "9") == "C7(b9)");
    }
    for (const std::string_view circle : {"\u00B0", "\u00BA", "\u02DA", "\u2070", "o"}) {
        CHECK(reading("C" + std::string{circle} + "7") == "Cdim7");
    }
    for (const std::string_view stroke : {"\u00F8", "\u00D8", "\u2300", "\u2205"}) {
        CHECK(reading("C" + std::string{stroke}) == "Cm7b5");
    }
    for (const std::string_view blank : {"\u00A0", "\u2009", "\u202F", "\t"}) {
        CHECK(reading("C" + std::string{blank} + "7") == "C7");
    }
    CHECK(reading("C\u266F7(\u266D9)") == "C#7(b9)");
    CHECK(reading("C\U0001D12A7") == "C##7");
    CHECK(reading("Cx7") == "C##7");
}

TEST_CASE("no text makes the reader stumble, and what it reads it can print", "[theory][chord]") {
    Dice dice;
    const std::vector<std::string_view> pieces = {
        "C",      "Db",  "F#",  "B",   "m",      "maj",    "M",      "-", "+",    "dim",     "\u00F8",
        "\u00B0", "aug", "sus", "4",   "2",      "5",      "6",      "7", "9",    "11",      "13",
        "b9",     "#9",  "#11", "b13", "b5",     "#5",     "(",      ")", ",",    " ",       "/",
        "add",    "no3", "no",  "alt", "\u0394", "j",      "b",      "#", "x",    "dom",     "[",
        "]",      "/E",  "/Bb", "min", "omit5",  "\u266D", "\u266F", "H", "over", "seventh", "."};
    for (int i = 0; i < 30000; ++i) {
        std::string text{pieces[dice.below(4)]};
        for (std::size_t n = dice.below(7); n > 0; --n) text += pieces[dice.below(pieces.size())];
        check_if_read(text);
    }
    for (int i = 0; i < 10000; ++i) {
        std::string text;
        for (std::size_t n = dice.below(20); n > 0; --n) text += static_cast<char>(dice.below(256));
        check_if_read(text);
    }
}

TEST_CASE("long texts are refused at once", "[theory][chord]") {
    Dice dice;
    std::string text;
    for (int i = 0; i < 10000; ++i) text += "CDm7b9#(/ )"[dice.below(11)];
    for (int i = 0; i < 1000; ++i) {
        text[dice.below(text.size())] = static_cast<char>(dice.below(256));
        Diagnostics diagnostics;
        const auto symbol = read_chord_symbol(SourceText{"t", text}, diagnostics);
        if (symbol || diagnostics.all().size() != 1) FAIL_CHECK(i);
    }
}

TEST_CASE("texts that once broke the reader are refused with a message", "[theory][chord]") {
    for (const std::string_view text : {"EBDG~add77", "D\t[\t\t\t\t).", "CMadd77"}) {
        Diagnostics diagnostics;
        CHECK_FALSE(read_chord_symbol(SourceText{"t", std::string{text}}, diagnostics));
        CHECK(diagnostics.all().size() == 1);
    }
}

TEST_CASE("every message about a mutilated symbol points into it", "[theory][chord]") {
    Dice dice;
    const std::vector<std::string> whole = {"Bb7(#9,#11)/D",         "F#m7b5",      "Cm(maj7)/G",
                                            "E\u266Dmaj7(\u266F11)", "G13sus4(b9)", "Ddim7(add ma7,9)"};
    int refused = 0;
    for (int i = 0; i < 5000; ++i) {
        std::string text = whole[dice.below(whole.size())];
        for (std::size_t n = 1 + dice.below(3); n > 0 && !text.empty(); --n) {
            const std::size_t at = dice.below(text.size());
            if (dice.below(2) == 0)
                text.erase(at, 1);
            else
                text.insert(at, 1, static_cast<char>(32 + dice.below(95)));
        }
        check_if_read(text);
        Diagnostics diagnostics;
        if (read_chord_symbol(SourceText{"t", "| " + text + " |"}, Span{2, 2 + text.size()}, diagnostics))
            continue;
        ++refused;
        REQUIRE(diagnostics.all().size() == 1);
        const Diagnostic& diagnostic = diagnostics.all().front();
        CHECK_FALSE(diagnostic.message.empty());
        CHECK(diagnostic.marker.find('^') >= 2);
    }
    CHECK(refused > 1000);
}

}  // namespace shedbook
