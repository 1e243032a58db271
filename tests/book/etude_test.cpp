#include "shedbook/book/etude.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "recording_sink.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

const char* const kBlueDoor =
    "Title: Blue Door\nKey: Bb\nTempo: 120\nFeel: swing\n[A]\n| Cm7 | F7 | Bbmaj7 | G7 |\n| Cm7 | F7 | "
    "Bbmaj7 | % |\n";

std::vector<int> sounding_notes_of(const WrittenMusic& music) {
    std::vector<int> out;
    for (const Event& event : music.events) {
        if (const auto* note = std::get_if<Sounded>(&event.what))
            out.push_back(sounding(music, note->pitch).midi());
    }
    return out;
}

}  // namespace

TEST_CASE("an etude of every kind is a piece of music with the bars of the tune", "[book]") {
    const Tune tune = tune_of(kBlueDoor);
    const std::vector<BookPart> parts{part("alto-sax")};
    CHECK(EtudeMaker(parts, {.kind = "guide-tones"}).make(tune, {0})->title == "Guide-tone line");
    for (const EtudeKind& kind : etude_kinds()) {
        const auto etude = EtudeMaker{parts, {.kind = kind.id, .choruses = 2}}.make(tune, {0});
        REQUIRE(etude);
        CHECK(etude->title == kind.title);
        CHECK(etude->id == kind.id);
        const WrittenMusic* music = &etude->music.front();
        CHECK(music->measures.size() == 16);
        CHECK(music->feel == "swing");
        CHECK(music->tempo->per_minute == 120);
        CHECK(music->chords.size() == 16 - 2);  // the bars that go on with their chord have none
    }
}

TEST_CASE(
    "the sections of the tune are named over their first bars, with double bars before them, and so is the "
    "last time",
    "[book]") {
    const std::vector<BookPart> parts{part("alto-sax")};
    const auto marks_of = [&](const char* last_bars) {
        const Tune tune =
            tune_of(std::string{"Title: Two Rooms\nKey: C\n[A]\n| C6 | Am7 |\n[B]\n"} + last_bars);
        std::vector<std::pair<std::string, bool>> out;
        const auto etude = EtudeMaker{parts, {.kind = "guide-tones"}}.make(tune, {0});
        for (const Measure& measure : etude->music.front().measures)
            out.emplace_back(measure.signs_before.empty() ? "" : measure.signs_before.front().label,
                             measure.right == Barline::Double);
        return out;
    };
    using Marks = std::vector<std::pair<std::string, bool>>;
    CHECK(marks_of("| Dm7 | G7 |\n") ==
          Marks{{"A", false}, {"", true}, {"B", false}, {"", true}, {"last time", false}});
    CHECK(marks_of("| G7 | C6 |\n") == Marks{{"A", false}, {"", true}, {"B", false}, {"", false}});
}

TEST_CASE("bars have the numbers of the chart, also where a passage is played again", "[book]") {
    const Tune tune = tune_of("Title: Again\nKey: C\n[A]\n|: C6 | Dm7 G7 :|\n[B]\n| Fmaj7 | G7 |\n");
    const std::vector<BookPart> parts{part("alto-sax")};
    const auto numbers = [&](const EtudeRequest& request) {
        std::vector<int> out;
        const auto etude = EtudeMaker{parts, request}.make(tune, {0});
        for (const Measure& measure : etude->music.front().measures)
            out.push_back(measure.number.value_or(-1));
        return out;
    };
    CHECK(numbers({.kind = "cell"}) == std::vector<int>{1, 2, 1, 2, 3, 4, 5});
    CHECK(numbers({.kind = "cell", .choruses = 2}) ==
          std::vector<int>{1, 2, 1, 2, 3, 4, 1, 2, 1, 2, 3, 4, 5});
    CHECK(numbers({.kind = "cell", .bars = std::pair{3, 4}}) == std::vector<int>{3, 4});
}

TEST_CASE("the last bar of an etude does not stand alone on a line", "[book]") {
    for (const int bars : {5, 8, 9, 13, 16, 17}) {
        std::string text = "Title: Lines\nKey: C\n|";
        for (int bar = 0; bar < bars; ++bar) text += bar % 2 == 0 ? " Dm7 G7 |" : " Cmaj7 |";
        const Tune tune = tune_of(text + "\n");
        const std::vector<BookPart> parts{part("alto-sax")};
        for (const char* kind : {"guide-tones", "unbroken-scale", "composed"}) {
            const auto etude = EtudeMaker{parts, {.kind = kind, .level = 6}}.make(tune, {0});
            CHECK_FALSE(etude->music.front().measures.back().new_system);
        }
    }
}

TEST_CASE("an etude has boxes of its own: a busy one is slower than guide tones", "[book]") {
    const Tune tune = tune_of("Title: Boxes\nKey: C\nTempo: 240\n| Dm7 | G7 | Cmaj7 | C6 |\n");
    const std::vector<BookPart> parts{part("trombone")};
    const auto boxes = [&](const char* kind, int level) {
        return EtudeMaker{parts, {.kind = kind, .level = level}}.make(tune, {0})->boxes.tempos;
    };
    CHECK(boxes("guide-tones", 3).back() == 240);
    CHECK(boxes("unbroken-scale", 3).back() < 200);
    CHECK(boxes("unbroken-scale", 3).size() == 3);
    // The heading agrees with the boxes, or says whose tempo it has.
    const auto is_of_tune = [&](const char* kind) {
        return EtudeMaker{parts, {.kind = kind, .level = 3}}.make(tune, {0})->music.front().tempo->is_of_tune;
    };
    CHECK_FALSE(is_of_tune("guide-tones"));
    CHECK(is_of_tune("unbroken-scale"));
}

TEST_CASE("parts that are made together play the same etude, each in octaves of its own", "[book]") {
    const Tune tune = tune_of(kBlueDoor);
    const std::vector<BookPart> parts{part("alto-sax"), part("trombone"), part("flute")};
    for (const EtudeKind& kind : etude_kinds()) {
        INFO(kind.id);
        EtudeMaker maker{parts, {.kind = kind.id, .seed = 3}};
        const std::vector<int> first = sounding_notes_of(maker.make(tune, {0})->music.front());
        for (std::size_t which = 0; which < parts.size(); ++which) {
            const std::vector<int> notes = sounding_notes_of(maker.make(tune, {which})->music.front());
            REQUIRE(notes.size() == first.size());
            const int by = notes.front() - first.front();
            CHECK(by % 12 == 0);
            for (std::size_t i = 0; i < notes.size(); ++i) CHECK(notes[i] - first[i] == by);
            // Made alone for that part, it is the same.
            EtudeMaker alone{parts, {.kind = kind.id, .seed = 3}};
            CHECK(sounding_notes_of(alone.make(tune, {which})->music.front()) == notes);
        }
    }
}

TEST_CASE("a sheet of etudes has one for each tune that has chords, and says where it has none", "[book]") {
    const std::vector<Tune> tunes{tune_of(kBlueDoor), tune_of("Title: Hush\nKey: C\n| N.C. | N.C. |\n")};
    const std::vector<BookPart> parts{part("clarinet")};
    EtudeMaker maker{parts, {.kind = "targets"}};
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_etudes(tunes, maker, 0, sink, diagnostics);
    CHECK(sink.is_finished);
    REQUIRE(sink.music().size() == 1);
    CHECK(heading_of(*sink.all<Etude>().front()).title == "Blue Door: targets");
    CHECK(in_words(sink.all<Etude>().front()->number) == "1");
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(diagnostics.all().front().message.find("no chord to play on") != std::string::npos);
}

TEST_CASE("an etude alone on its sheet has no number, and names the composer", "[book]") {
    const std::vector<Tune> tunes{tune_of(std::string{"Composer: A. Nobody\n"} + kBlueDoor)};
    const std::vector<BookPart> parts{part("clarinet")};
    EtudeMaker maker{parts, {.kind = "targets"}};
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_etudes(tunes, maker, 0, sink, diagnostics);
    CHECK(in_words(sink.all<Etude>().front()->number).empty());
    CHECK(sink.all<Etude>().front()->composer == "A. Nobody");
}

}  // namespace shedbook
