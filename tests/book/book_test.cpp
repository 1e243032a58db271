#include "shedbook/book/book.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "recording_sink.h"

namespace shedbook {
namespace {

const char* const kTune =
    "Title: Blue Door\nKey: Bb\n[A]\n| Cm7 | F7 | Bbmaj7 | G7 |\n| Cm7 | F7 | Bbmaj7 | % |\n";

BookPart part(const char* instrument) {
    const Instrument& found = *find_instrument(instrument);
    return {&found, found.practical};
}

RecordingSink book(const std::vector<Tune>& tunes, const std::vector<BookPart>& parts, std::size_t which,
                   BookOptions options = {}) {
    if (options.drills.empty()) options.drills = usual_drills();
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_book(tunes, parts, which, options, sink, diagnostics);
    REQUIRE(sink.finished);
    return sink;
}

}  // namespace

TEST_CASE("a book has a section for every different chord, its bars listed, and ends with the changes",
          "[book]") {
    const RecordingSink sink = book({tune_of(kTune)}, {part("flute")}, 0);
    CHECK(sink.document.title == "Blue Door");
    const auto heads = sink.chord_heads();
    REQUIRE(heads.size() == 4);
    CHECK(to_string(*heads[0]->symbol) == "Cm7");
    CHECK(heads[0]->bars == "bars 1, 5");
    CHECK(heads[2]->bars == "bars 3, 7, 8");
    CHECK(sink.music().size() == 4 * usual_drills().size() + 1);
    CHECK(sink.music().back()->title == "Blue Door: one line through the changes");
    CHECK(sink.music().front()->number == "1.1");
}

TEST_CASE("an inversion joins its chord's section, another bass makes a section of its own", "[book]") {
    const RecordingSink sink =
        book({tune_of("Title: Stairs\nKey: C\n| C | C/E | F/G | C/Bb |\n")}, {part("flute")}, 0);
    std::vector<std::string> names;
    for (const ChordHead* head : sink.chord_heads()) names.push_back(to_string(*head->symbol));
    CHECK(names == std::vector<std::string>{"C", "F/G", "C/Bb"});
    CHECK(sink.chord_heads()[2]->scale_name == "C Mixolydian");
}

TEST_CASE("a book carries a caution", "[book]") {
    const RecordingSink sink = book({tune_of(kTune)}, {part("flute")}, 0);
    const auto* text = std::get_if<Text>(&sink.blocks.front());
    REQUIRE(text != nullptr);
    CHECK(text->text.find("Stop at pain") != std::string::npos);
    CHECK(text->text.find("doctor") != std::string::npos);
}

TEST_CASE("the row of fingerings stands under scales, under everything, or nowhere", "[book]") {
    const auto rows = [](const char* instrument, Fingerings wanted) {
        BookPart with_row = part(instrument);
        with_row.fingerings = wanted;
        const RecordingSink sink = book({tune_of(kTune)}, {with_row}, 0);
        CHECK(sink.document.fingerings.empty() == (wanted == Fingerings::None));
        std::size_t out = 0;
        for (const WrittenMusic* music : sink.music()) out += music->fingerings.empty() ? 0 : 1;
        return out;
    };
    CHECK(rows("trumpet", Fingerings::None) == 0);
    CHECK(rows("trumpet", Fingerings::Scales) == 4);
    CHECK(rows("trumpet", Fingerings::All) == 4 * usual_drills().size() + 1);
    // What is to be played from memory shows no fingers; its answers do.
    BookOptions from_memory;
    from_memory.memory = Memory::Cell;
    BookPart all = part("trumpet");
    all.fingerings = Fingerings::All;
    const RecordingSink sink = book({tune_of(kTune)}, {all}, 0, from_memory);
    CHECK(sink.music().front()->fingerings.empty());
    CHECK_FALSE(sink.music().back()->fingerings.empty());
}

TEST_CASE("a sheet's drills are shipped ones, and one page holds them", "[book]") {
    for (const std::string& id : sheet_drills()) CHECK(find_drill(id) != nullptr);
}

TEST_CASE("books made together share bars, chords and sound", "[book]") {
    const std::vector<BookPart> parts{part("alto-sax"), part("trombone"), part("double-bass"), part("piano"),
                                      part("guitar")};
    const std::vector<Tune> tunes{tune_of(kTune)};
    const RecordingSink first = book(tunes, parts, 0);
    for (std::size_t which = 1; which < parts.size(); ++which) {
        const RecordingSink other = book(tunes, parts, which);
        REQUIRE(other.music().size() == first.music().size());
        for (std::size_t i = 0; i < first.music().size(); ++i) {
            const WrittenMusic& a = *first.music()[i];
            const WrittenMusic& b = *other.music()[i];
            CHECK(a.measures.size() == b.measures.size());
            REQUIRE(a.chords.size() == b.chords.size());
            const Interval to_a = to_sounding(a.transposition);
            const Interval to_b = to_sounding(b.transposition);
            for (std::size_t c = 0; c < a.chords.size(); ++c) {
                CHECK((a.chords[c].symbol->root + to_a).semitone() ==
                      (b.chords[c].symbol->root + to_b).semitone());
            }
        }
    }
}

TEST_CASE("every note of a book lies in the range of its part", "[book]") {
    for (const Instrument& instrument : instruments()) {
        for (const WrittenRange& range : {instrument.student, instrument.practical}) {
            const std::vector<BookPart> parts{{&instrument, range}};
            const RecordingSink sink = book({tune_of(kTune)}, parts, 0);
            INFO(instrument.id);
            for (const WrittenMusic* music : sink.music()) {
                for (const Event& event : music->events) {
                    const auto* note = std::get_if<Sounded>(&event.what);
                    if (note == nullptr) continue;
                    const int midi = note->pitch.on_paper().midi();
                    REQUIRE(midi >= range.low.on_paper().midi());
                    REQUIRE(midi <= range.high.on_paper().midi());
                }
            }
        }
    }
}

TEST_CASE("reasons in a part speak of the chords that the player reads", "[book]") {
    const RecordingSink sink = book({tune_of(kTune)}, {part("alto-sax")}, 0);
    const auto heads = sink.chord_heads();
    CHECK(to_string(*heads[1]->symbol) == "D7");
    CHECK(heads[1]->scale_name == "D Mixolydian");
    CHECK(heads[1]->reason.find("Bb") == std::string::npos);
    CHECK(heads[1]->reason.find("G") != std::string::npos);
}

TEST_CASE("bars and chords can be chosen", "[book]") {
    BookOptions bars;
    bars.only_bars = {2, 3};
    const RecordingSink some = book({tune_of(kTune)}, {part("flute")}, 0, bars);
    CHECK(some.chord_heads().size() == 2);
    CHECK(some.music().back()->measures.size() == 2);
    BookOptions chords;
    chords.only_chords = {*parse_chord_symbol("G7")};
    CHECK(book({tune_of(kTune)}, {part("flute")}, 0, chords).chord_heads().size() == 1);
}

TEST_CASE("a book that is limited keeps what sounds longest and says what it left out", "[book]") {
    BookOptions options;
    options.drills = usual_drills();
    options.most_chords = 3;
    RecordingSink sink;
    Diagnostics diagnostics;
    const std::vector<Tune> tunes{tune_of(kTune)};
    const std::vector<BookPart> parts{part("flute")};
    assemble_book(tunes, parts, 0, options, sink, diagnostics);
    CHECK(sink.chord_heads().size() == 3);
    REQUIRE_FALSE(diagnostics.all().empty());
    CHECK(diagnostics.all()[0].message.find("left out: G7") != std::string::npos);
}

TEST_CASE("several tunes make one book with a heading each", "[book]") {
    const RecordingSink sink =
        book({tune_of(kTune), tune_of("Title: Slow Train\nKey: C\n| Dm7 | G7 | Cmaj7 | % |\n")},
             {part("flute")}, 0);
    std::vector<std::string> headings;
    for (const Block& block : sink.blocks) {
        if (const auto* heading = std::get_if<Heading>(&block)) headings.push_back(heading->text);
    }
    CHECK(headings == std::vector<std::string>{"Blue Door", "Slow Train"});
    std::set<std::string> numbers;
    for (const WrittenMusic* music : sink.music()) CHECK(numbers.insert(music->number).second);
}

// Invariants of the line: common practice, no source.
TEST_CASE(
    "the line through the changes moves by step in the scale of each moment and turns only at the range",
    "[book]") {
    const Tune tune = tune_of(
        "Title: Stairs\nKey: Eb\n| Fm7 | Bb7 | Ebmaj7 | C7alt |\n| Fm7 | E7 | Ebmaj7 | Am7b5 D7 |\n| Gm6 | % "
        "| N.C. | Bb7 |\n| "
        "Eb6 | % |\n");
    for (const char* id : {"alto-sax", "trombone", "double-bass", "flute", "alto-voice"}) {
        const RecordingSink sink = book({tune}, {part(id)}, 0);
        const WrittenMusic& music = *sink.music().back();
        INFO(id);
        int direction = 0;
        int last = -1;
        int turns = 0;
        for (const Event& event : music.events) {
            const auto* note = std::get_if<Sounded>(&event.what);
            if (note == nullptr) {
                last = -1;
                continue;
            }
            if (note->tied_from_before) continue;
            const int midi = note->pitch.on_paper().midi();
            if (last >= 0) {
                CHECK(midi != last);
                CHECK(std::abs(midi - last) <= 3);
                const int now = midi > last ? 1 : -1;
                turns += direction != 0 && now != direction ? 1 : 0;
                direction = now;
            } else {
                direction = 0;
            }
            last = midi;
        }
        CHECK(turns <= 16);
        const auto& end = std::get<Sounded>(music.events.back().what);
        const auto tones = chord_notes(*music.chords.back().symbol);
        CHECK(std::ranges::any_of(tones, [&](PitchClass tone) {
            return tone.semitone() == end.pitch.on_paper().name().semitone();
        }));
    }
}

TEST_CASE("players of one book have the same line through the changes, each in octaves of his own",
          "[book]") {
    const std::vector<BookPart> parts{part("flute"), part("alto-sax"), part("double-bass"), part("trombone")};
    const std::vector<Tune> tunes{tune_of(kTune)};
    const auto sounds = [&](std::size_t which) {
        const RecordingSink sink = book(tunes, parts, which);
        const WrittenMusic& music = *sink.music().back();
        std::vector<int> out;
        for (const Event& event : music.events) {
            if (const auto* note = std::get_if<Sounded>(&event.what))
                out.push_back(sounding(music, note->pitch).midi());
        }
        return out;
    };
    const std::vector<int> first = sounds(0);
    for (std::size_t which = 1; which < parts.size(); ++which) {
        const std::vector<int> other = sounds(which);
        REQUIRE(other.size() == first.size());
        const int apart = other[0] - first[0];
        CHECK(apart % 12 == 0);
        for (std::size_t i = 0; i < first.size(); ++i) CHECK(other[i] - first[i] == apart);
    }
}

TEST_CASE("bars are listed as a reader would say them", "[book]") {
    CHECK(bars_in_words({3}) == "bar 3");
    CHECK(bars_in_words({1, 2, 5, 6, 7}) == "bars 1, 2, 5 to 7");
}

}  // namespace shedbook
