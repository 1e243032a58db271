#include <catch2/catch.hpp>
#include <map>

#include "shedbook/base/text.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {
namespace {

std::string messages(std::string_view text) {
    Diagnostics diagnostics;
    const SourceText source{"input", std::string{text}};
    (void)read_chord_symbol(source, diagnostics);
    std::string out;
    for (const Diagnostic& diagnostic : diagnostics.all()) out += render(diagnostic);
    return out;
}

}  // namespace

TEST_CASE("a slip of the finger is shown with the nearest spelling", "[theory][chord]") {
    CHECK(messages("Cmja7") ==
          "input:1:4: error: expected a quality, a number or an alteration after 'Cmj', but found 'a'\n"
          "    Cmja7\n"
          "       ^\n"
          "    did you mean 'Cmaj7'?\n");
    CHECK(messages("Csu4") ==
          "input:1:2: error: expected a quality, a number or an alteration after 'C', but found 'su'\n"
          "    Csu4\n"
          "     ^^\n"
          "    did you mean 'Csus4'?\n");
    CHECK(messages("C7(b9") ==
          "input:1:3: error: this bracket is not closed\n"
          "    C7(b9\n"
          "      ^^^\n"
          "    did you mean 'C7(b9)'?\n");
    CHECK(messages("C7(b9]") ==
          "input:1:6: error: nothing is open that ']' could close\n"
          "    C7(b9]\n"
          "         ^\n"
          "    did you mean 'C7(b9)'?\n");
    CHECK(messages("G7 13") ==
          "input:1:4: error: the number 13 has no meaning here\n"
          "    G7 13\n"
          "       ^^\n"
          "    did you mean 'G7(13)'?\n");
    CHECK(messages("Dminmaj") ==
          "input:1:5: error: expected 7, 9, 11 or 13 after 'maj'\n"
          "    Dminmaj\n"
          "        ^^^\n"
          "    did you mean 'Dminmaj7'?\n");
}

TEST_CASE("ten slips of the finger each have one chord to choose", "[theory][chord]") {
    // Common practice, no source: what a player who typed this will have meant.
    const std::map<std::string, std::string> meant{
        {"Abq7", "Ab7"},   {"Ebamj7", "Ebmaj7"}, {"C7atl", "C7alt"},    {"Fmja7", "Fmaj7"},
        {"Cm7b", "Cm7b5"}, {"G7(b9", "G7(b9)"},  {"Dbmaj99", "Dbmaj9"}, {"G13sus5", "G13sus4"},
        {"Cø77", "Cø7"},   {"Abm7x", "Abm7"}};
    for (const auto& [typed, chord] : meant) {
        Diagnostics diagnostics;
        const SourceText source{"input", typed};
        CHECK_FALSE(read_chord_symbol(source, diagnostics));
        REQUIRE(diagnostics.all().size() == 1);
        REQUIRE(diagnostics.all()[0].mendings.size() == 1);
        CHECK(diagnostics.all()[0].mendings[0].text == chord);
    }
}

TEST_CASE("where a slip may have meant two chords both are shown, and nothing where it may be anything",
          "[theory][chord]") {
    CHECK(messages("Cmai7") ==
          "input:1:4: error: expected a quality, a number or an alteration after 'Cma', but found 'i'\n"
          "    Cmai7\n"
          "       ^\n"
          "    did you mean 'Cmi7' or 'Cma7'?\n");
    CHECK(messages("C7q") ==
          "input:1:3: error: expected a quality, a number or an alteration after 'C7', but found 'q'\n"
          "    C7q\n"
          "      ^\n"
          "    did you mean 'C7'?\n");
    CHECK(messages("Abq7") ==
          "input:1:3: error: expected a quality, a number or an alteration after 'Ab', but found 'q'\n"
          "    Abq7\n"
          "      ^\n"
          "    did you mean 'Ab7'?\n");
    CHECK(messages("C7-sus4") ==
          "input:1:3: error: expected a quality, a number or an alteration after 'C7', but found '-'\n"
          "    C7-sus4\n"
          "      ^\n"
          "    did you mean 'C7sus4'?\n");
    CHECK(messages("Verse") ==
          "input:1:1: error: expected a root, A to G, but found 'V'\n    Verse\n    ^\n");
    CHECK(messages("C16") ==
          "input:1:2: error: no chord has the number 16; 2, 4, 5, 6, 7, 9, 11 and 13 are used\n"
          "    C16\n"
          "     ^^\n");
}

TEST_CASE("a hint for a mutilated symbol can be read and is mostly what was meant", "[theory][chord]") {
    const std::string_view letters = "abdghijlmnoqstux79-#(";
    int hints = 0;
    int meant = 0;
    for (const std::string whole : {"Cmaj7", "Cm7", "C7sus4", "Cdim7", "Caug", "Dmin9", "Bbmaj7", "F#m7b5"}) {
        const auto chord = parse_chord_symbol(whole);
        for (std::size_t at = 1; at < whole.size(); ++at) {
            for (const char letter : letters) {
                std::string text = whole;
                text.insert(at, 1, letter);
                Diagnostics diagnostics;
                if (read_chord_symbol(SourceText{"t", text}, diagnostics)) continue;
                const std::string hint = diagnostics.all().front().hint;
                if (!hint.starts_with("did you mean '")) continue;
                ++hints;
                const std::vector<std::string_view> pieces = split(hint, '\'');
                bool found = false;
                for (std::size_t i = 1; i < pieces.size(); i += 2) {
                    INFO(text << ": " << hint);
                    const auto offered = parse_chord_symbol(pieces[i]);
                    REQUIRE(offered);
                    found = found || offered == chord;
                }
                meant += found ? 1 : 0;
            }
        }
    }
    INFO(meant << " of " << hints);
    CHECK(hints > 400);
    CHECK(meant * 10 >= hints * 9);
}

TEST_CASE("names of other lands are refused with our name", "[theory][chord]") {
    CHECK(messages("Hm7") ==
          "input:1:1: error: 'H' is called B here, and the German B is Bb\n"
          "    Hm7\n"
          "    ^\n"
          "    write 'Bm7'\n");
    CHECK(messages("Es7") ==
          "input:1:1: error: 'Es' is a German name; the note is called Eb here\n"
          "    Es7\n"
          "    ^^\n"
          "    write 'Eb7'\n");
    CHECK(messages("E7/Gis") ==
          "input:1:4: error: 'Gis' is a German name; the note is called G# here\n"
          "    E7/Gis\n"
          "       ^^^\n"
          "    write 'E7/G#'\n");
    CHECK(messages("Lam7") ==
          "input:1:1: error: 'La' is a syllable; notes are called A to G here\n"
          "    Lam7\n"
          "    ^^\n"
          "    write 'Am7'\n");
    CHECK(messages("dm7") ==
          "input:1:1: error: the root of a chord is a capital letter\n"
          "    dm7\n"
          "    ^\n"
          "    write 'Dm7'\n");
    CHECK(messages("c") ==
          "input:1:1: error: the root of a chord is a capital letter\n"
          "    c\n"
          "    ^\n"
          "    write 'C', or 'Cm' for minor\n");
    CHECK(messages("Dom7") ==
          "input:1:1: error: 'Do' is a syllable; notes are called A to G here\n"
          "    Dom7\n"
          "    ^^\n"
          "    write 'Cm7'\n");
    CHECK(messages("C/bE") ==
          "input:1:3: error: an accidental stands behind its note\n"
          "    C/bE\n"
          "      ^^\n"
          "    write 'C/Eb'\n");
    CHECK(messages("\u266D2m7") ==
          "input:1:1: error: '\u266D2m7' names a degree; a chord begins with its root, A to G\n"
          "    \u266D2m7\n"
          "    ^\n"
          "    write the note, as in 'G7'\n");
    CHECK(messages("IIm7") ==
          "input:1:1: error: 'IIm7' names a degree; a chord begins with its root, A to G\n"
          "    IIm7\n"
          "    ^\n"
          "    write the note, as in 'G7'\n");
}

TEST_CASE("what two people read differently is not guessed", "[theory][chord]") {
    CHECK(messages("Cmj7") ==
          "input:1:2: error: 'Cmj' is read in two ways\n"
          "    Cmj7\n"
          "     ^^\n"
          "    write 'Cmaj7' or 'Cm(maj7)'\n");
    CHECK(messages("B+11") ==
          "input:1:2: error: 'B+11' is read in two ways\n"
          "    B+11\n"
          "     ^^^\n"
          "    write 'B7(#11)' or 'B11(#5)'\n");
    CHECK(messages("Bbb9") ==
          "input:1:1: warning: 'Bbb' is taken for the root\n"
          "    Bbb9\n"
          "    ^^^^\n"
          "    for the other reading write 'Bb(b9)'\n");
    CHECK(messages("Gx7/B") ==
          "input:1:1: warning: 'x' is taken for a double sharp\n"
          "    Gx7/B\n"
          "    ^^^^^\n"
          "    write 'G##7/B' if that is meant\n");
    CHECK(messages("G\u00D77").empty());
}

TEST_CASE("messages name the fault and stand under it", "[theory][chord]") {
    CHECK(messages("Cmmaj7m") ==
          "input:1:7: error: minor is said twice\n"
          "    Cmmaj7m\n"
          "          ^\n"
          "    did you mean 'Cmmaj7'?\n");
    CHECK(messages("F+dim7") ==
          "input:1:3: error: augmented and diminished do not go together\n"
          "    F+dim7\n"
          "      ^^^\n");
    CHECK(messages("C7\u266D8") ==
          "input:1:3: error: no chord tone is called '\u266D8'\n"
          "    C7\u266D8\n"
          "      ^^\n");
    CHECK(messages("C7(b7)") ==
          "input:1:4: error: no chord tone is called 'b7'\n"
          "    C7(b7)\n"
          "       ^^\n"
          "    the flat seventh is written 7, as in 'C7'\n");
    CHECK(messages("Dm7 G7") ==
          "input:1:5: error: one chord was expected, and a second begins with 'G7'\n"
          "    Dm7 G7\n"
          "        ^^\n");
    CHECK(messages("Dm7/G7") ==
          "input:1:5: error: a chord over a chord is not read; behind '/' stands one bass note\n"
          "    Dm7/G7\n"
          "        ^^\n");
    CHECK(messages("C/E(b9)") ==
          "input:1:3: error: a chord over a chord is not read; behind '/' stands one bass note\n"
          "    C/E(b9)\n"
          "      ^^^^^\n"
          "    did you mean 'C(b9)/E'?\n");
    CHECK(messages("C/e") ==
          "input:1:3: error: expected a bass note, A to G, after '/', but found 'e'\n"
          "    C/e\n"
          "      ^\n"
          "    write 'C/E'\n");
    CHECK(messages("C7#") ==
          "input:1:3: error: expected 5, 9, 11 or 13 after '#'\n"
          "    C7#\n"
          "      ^\n");
    CHECK(messages("Gsus5") ==
          "input:1:5: error: a chord is suspended by a 2 or a 4, not by '5'\n"
          "    Gsus5\n"
          "        ^\n"
          "    did you mean 'Gsus4'?\n");
    CHECK(messages("C#b7") ==
          "input:1:1: error: a note is sharp or flat, not both\n"
          "    C#b7\n"
          "    ^^^\n");
    CHECK(messages("") == "input:1:1: error: expected a chord symbol\n    for example 'Dm7'\n");
    CHECK(messages("Fine") ==
          "input:1:2: error: 'Fine' is a direction; a chord was expected here\n"
          "    Fine\n"
          "     ^^^\n");
    CHECK(messages("N.C.") ==
          "input:1:1: error: 'N.C.' says that there is no chord; a chord was expected here\n"
          "    N.C.\n"
          "    ^\n");
}

TEST_CASE("a symbol inside a line is reported at its own place", "[theory][chord]") {
    Diagnostics diagnostics;
    const SourceText source{"waltz.tune", "Title: x\n| Dm7 | G\u266D7x | C |\n"};
    const std::size_t begin = source.text.find('G');
    CHECK_FALSE(read_chord_symbol(source, Span{begin, begin + 6}, diagnostics));
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(render(diagnostics.all().front()) ==
          "waltz.tune:2:12: error: expected a quality, a number or an alteration after 'G\u266D7', but found "
          "'x'\n"
          "    | Dm7 | G\u266D7x | C |\n"
          "               ^\n"
          "    did you mean 'G\u266D7'?\n");
}

}  // namespace shedbook
