#include <catch2/catch.hpp>

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
          "        ^\n");
    CHECK(messages("C#b7") ==
          "input:1:1: error: a note is sharp or flat, not both\n"
          "    C#b7\n"
          "    ^^^\n");
    CHECK(messages("") == "input:1:1: error: expected a chord symbol\n    for example 'Dm7'\n");
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
