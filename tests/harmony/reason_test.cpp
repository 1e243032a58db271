// Reasons are data and become words at the pitch of their reader. Written pitch of an alto saxophone: a major
// sixth up; of a clarinet: a whole step up (any orchestration book; MusicXML 4.0, "transpose").
#include "shedbook/harmony/reason.h"

#include "analysed.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr Interval kAlto{5, 9};
constexpr Interval kClarinet{1, 2};

std::string on_alto(const Analysed& tune, std::size_t n) {
    return in_words(tune[n].scale.reason, kAlto);
}

}  // namespace

TEST_CASE("a reason names its chords and its key in the pitch that it is asked for", "[harmony]") {
    const Analysed home = analysed("| Dm7 G7 | Cmaj7 |");
    CHECK(home.why(1) == "V7 going home to Cmaj7: the notes of C major");
    CHECK(on_alto(home, 1) == "V7 going home to Amaj7: the notes of A major");
    CHECK(on_alto(home, 0) == "ii of A major: the key's own notes");
    const Analysed bass = analysed("| Dm7 | G7/C# | Cmaj7 | % |");
    CHECK(on_alto(bass, 1).find("C#") == std::string::npos);
}

TEST_CASE("the melody note of a reason is moved too, its degree is not", "[harmony]") {
    Reason sung{.words = "the melody holds {melody}"};
    sung.melody.push_back({*parse_pitch_class("F#"), "#4", "4"});
    sung.melody.push_back({*parse_pitch_class("B"), "7", {}});
    CHECK(in_words(sung) == "the melody holds F#: #4 and not 4, B: 7");
    CHECK(in_words(sung, kClarinet) == "the melody holds G#: #4 and not 4, C#: 7");
}

TEST_CASE("in written pitch a reason keeps to names that players read", "[harmony]") {
    Reason reason{.words = "{numeral} of {key}, before {next} over {bass}", .numeral = "V7"};
    reason.key = *parse_key("B major");
    reason.next = *parse_chord_symbol("G#m7");
    reason.bass = *parse_pitch_class("A#");
    CHECK(in_words(reason, kAlto) == "V7 of Ab major, before Fm7 over G");
}

// The diminished chord a half step above IV that leads back to I of a blues: common practice, no source.
TEST_CASE("a diminished chord between IV and I of a blues says that it passes", "[harmony]") {
    const Analysed blues =
        analysed("| C7 | F7 | C7 | Gm7 C7 | F7 | F#dim7 | C7 | Em7b5 A7b9 | Dm7 | G7 | C7 A7 | Dm7 G7 |");
    CHECK(blues.why(6) == "passes from IV back to I, C7: whole step, half step by turns holds all its notes");
    const Analysed alone = analysed("| Cmaj7 | F#dim7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |");
    CHECK(alone.why(1).find("IV") == std::string::npos);
}

TEST_CASE("a sentence without holes is its own words", "[harmony]") {
    CHECK(in_words({"the scale of the key"}, kAlto) == "the scale of the key");
    CHECK(in_words({}).empty());
    CHECK(in_words({.words = "{goal}"}).empty());
    CHECK(in_words({.words = "#4 {as ever"}) == "#4 {as ever");  // a scale of the player's own may say so
}

// What is said in written pitch is what the same tune says that is written so.
TEST_CASE("every reason of the sample charts reads like that of the transposed chart", "[harmony]") {
    for (const Chart& chart : sample_charts()) {
        const Analysed concert = analysed(chart);
        const Analysed written = analysed(transposed(chart, kClarinet));
        for (std::size_t i = 0; i < concert.analysis.readings.size(); ++i) {
            INFO(chart.id << " chord " << i);
            CHECK(in_words(concert[i].scale.reason, kClarinet) == written.why(i));
        }
    }
}

}  // namespace shedbook
