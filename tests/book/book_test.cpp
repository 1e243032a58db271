#include "shedbook/book/book.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "recording_sink.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

const char* const kWholeForm =
    "Title: Blue Door\nKey: Bb\n[A]\n| Cm7 | F7 | Bbmaj7 | G7 |\n| Cm7 | F7 | Bbmaj7 | % |\n";

RecordingSink book(const std::vector<Tune>& tunes, const std::vector<BookPart>& parts, std::size_t which,
                   BookOptions options = {}) {
    if (options.drills.empty()) options.drills = usual_drills();
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_book(tunes, parts, which, options, sink, diagnostics);
    REQUIRE(sink.is_finished);
    return sink;
}

}  // namespace

TEST_CASE("a book has a section for every different chord, its bars listed, and ends with the changes",
          "[book]") {
    const RecordingSink sink = book({tune_of(kWholeForm)}, {part("flute")}, 0);
    CHECK(sink.document.head.title == "Blue Door");
    const auto heads = sink.heads();
    REQUIRE(heads.size() == 4);
    CHECK(name_of(heads[0]->topic) == "Cm7");
    CHECK(heads[0]->bars == std::vector{1, 5});
    CHECK(heads[2]->bars == std::vector{3, 7, 8});
    CHECK(sink.music().size() == 4 * usual_drills().size() + 1);
    REQUIRE(sink.all<Etude>().size() == 1);
    CHECK(heading_of(*sink.all<Etude>()[0]).title == "Blue Door: one line through the changes");
    CHECK(sink.all<Drill>().front()->number == PieceNumber{1, 1});
}

TEST_CASE("an inversion joins its chord's section, another bass makes a section of its own", "[book]") {
    const RecordingSink sink =
        book({tune_of("Title: Stairs\nKey: C\n| C | C/E | F/G | C/Bb |\n")}, {part("flute")}, 0);
    std::vector<std::string> names;
    for (const TopicHead* head : sink.heads()) names.push_back(name_of(head->topic));
    CHECK(names == std::vector<std::string>{"C", "F/G", "C/Bb"});
    CHECK(to_string(sink.heads()[2]->topic.scale) == "Bb Lydian");
}

TEST_CASE("a book carries a caution", "[book]") {
    const RecordingSink sink = book({tune_of(kWholeForm)}, {part("flute")}, 0);
    REQUIRE(sink.all<Caution>().size() == 1);
    const std::string& text = sink.all<Caution>()[0]->text;
    CHECK(text.find("Stop at pain") != std::string::npos);
    CHECK(text.find("doctor") != std::string::npos);
}

TEST_CASE("the row of fingerings stands under scales, under everything, or nowhere", "[book]") {
    const auto rows = [](const char* instrument, Fingerings wanted) {
        BookPart with_row = part(instrument);
        with_row.fingerings = wanted;
        const RecordingSink sink = book({tune_of(kWholeForm)}, {with_row}, 0);
        CHECK(sink.all<Cover>()[0]->fingerings.empty() == (wanted == Fingerings::None));
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
    const RecordingSink sink = book({tune_of(kWholeForm)}, {all}, 0, from_memory);
    CHECK(sink.music().front()->fingerings.empty());
    CHECK_FALSE(sink.music().back()->fingerings.empty());
}

TEST_CASE("a sheet's drills are shipped ones, and one page holds them", "[book]") {
    for (const std::string& id : sheet_drills()) CHECK(find_drill(id) != nullptr);
}

TEST_CASE("books made together share bars, chords and sound", "[book]") {
    const std::vector<BookPart> parts{part("alto-sax"), part("trombone"), part("double-bass"), part("piano"),
                                      part("guitar")};
    const std::vector<Tune> tunes{tune_of(kWholeForm)};
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
            const RecordingSink sink = book({tune_of(kWholeForm)}, parts, 0);
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
    const RecordingSink sink = book({tune_of(kWholeForm)}, {part("alto-sax")}, 0);
    const auto heads = sink.heads();
    CHECK(name_with_scale(heads[1]->parts.front()) == "D7, D Mixolydian");
    CHECK(name_with_scale(heads[1]->topic) == "F7, F Mixolydian");
    CHECK(heads[1]->reason.find("Bb") == std::string::npos);
    CHECK(heads[1]->reason.find("G") != std::string::npos);
}

TEST_CASE("bars and chords can be chosen", "[book]") {
    BookOptions bars;
    bars.only_bars = {2, 3};
    const RecordingSink some = book({tune_of(kWholeForm)}, {part("flute")}, 0, bars);
    CHECK(some.heads().size() == 2);
    CHECK(some.music().back()->measures.size() == 2);
    BookOptions chords;
    chords.only_chords = {*parse_chord_symbol("G7")};
    CHECK(book({tune_of(kWholeForm)}, {part("flute")}, 0, chords).heads().size() == 1);
}

TEST_CASE("a book that is limited keeps what sounds longest and says what it left out", "[book]") {
    BookOptions options;
    options.drills = usual_drills();
    options.most_chords = 3;
    RecordingSink sink;
    Diagnostics diagnostics;
    const std::vector<Tune> tunes{tune_of(kWholeForm)};
    const std::vector<BookPart> parts{part("flute")};
    assemble_book(tunes, parts, 0, options, sink, diagnostics);
    CHECK(sink.heads().size() == 3);
    REQUIRE_FALSE(diagnostics.all().empty());
    CHECK(diagnostics.all()[0].message.find("left out: G7") != std::string::npos);
}

TEST_CASE("several tunes make one book with a heading each", "[book]") {
    const RecordingSink sink =
        book({tune_of(kWholeForm), tune_of("Title: Slow Train\nKey: C\n| Dm7 | G7 | Cmaj7 | % |\n")},
             {part("flute")}, 0);
    std::vector<std::string> titles;
    for (const ChapterStart* chapter : sink.all<ChapterStart>()) titles.push_back(chapter->tune.title);
    CHECK(titles == std::vector<std::string>{"Blue Door", "Slow Train"});
    std::set<PieceNumber> numbers;
    for (const Block& block : sink.document.blocks) {
        if (const auto number = number_of(block)) CHECK(numbers.insert(*number).second);
    }
    CHECK(numbers.size() == sink.music().size());
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
    const std::vector<Tune> tunes{tune_of(kWholeForm)};
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

TEST_CASE("what encloses pieces in a book has its end, in the right order", "[book]") {
    BookOptions from_memory;
    from_memory.memory = Memory::Cell;
    from_memory.plan = find_plan("chords-in-an-evening");
    for (const BookOptions& options : {BookOptions{}, from_memory}) {
        const RecordingSink sink = book({tune_of(kWholeForm)}, {part("flute")}, 0, options);
        std::vector<const char*> open;
        const auto ends = [&](const char* what) {
            REQUIRE_FALSE(open.empty());
            CHECK(std::string{open.back()} == what);
            open.pop_back();
        };
        for (const Block& block : sink.document.blocks) {
            if (std::holds_alternative<ChapterStart>(block)) open.push_back("chapter");
            if (std::holds_alternative<SittingStart>(block)) open.push_back("sitting");
            if (std::holds_alternative<AnswersStart>(block)) open.push_back("answers");
            if (std::holds_alternative<SectionStart>(block)) open.push_back("section");
            if (std::holds_alternative<ChapterEnd>(block)) ends("chapter");
            if (std::holds_alternative<SittingEnd>(block)) ends("sitting");
            if (std::holds_alternative<AnswersEnd>(block)) ends("answers");
            if (std::holds_alternative<SectionEnd>(block)) ends("section");
            if (std::holds_alternative<Drill>(block)) CHECK(std::string{open.back()} == "section");
        }
        CHECK(open.empty());
    }
}

TEST_CASE("a book's code is that of its request: another seed, range or tune has another", "[book]") {
    const auto code = [](const char* tune, const char* instrument, const BookOptions& options) {
        return book({tune_of(tune)}, {part(instrument)}, 0, options).document.head.code;
    };
    BookOptions seeded;
    seeded.etude.seed = 2;
    const std::string first = code(kWholeForm, "flute", {});
    CHECK(first.size() == 6);
    CHECK(code(kWholeForm, "flute", {}) == first);
    CHECK(code(kWholeForm, "alto-sax", {}) != first);
    CHECK(code(kWholeForm, "flute", seeded) != first);
    CHECK(code("Title: Blue Door\nKey: Bb\n| Cm7 | F7 | Bb6 | G7 |\n", "flute", {}) != first);
}

TEST_CASE("a score has music for every part, bar under bar, and sections only where a drill fits", "[book]") {
    const std::vector<BookPart> parts{part("alto-sax"), part("trombone"), part("flute")};
    BookOptions options;
    options.drills = {find_drill("thirds")};
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_score(tune_of(kWholeForm), parts, options, sink, diagnostics);
    CHECK(sink.document.head.parts.size() == 3);
    REQUIRE(sink.all<Drill>().size() == 4);
    CHECK(sink.all<SectionStart>().size() == 4);
    for (const Drill* drill : sink.all<Drill>()) {
        REQUIRE(drill->music.size() == 3);
        for (const WrittenMusic& music : drill->music) {
            REQUIRE(music.measures.size() == drill->music[0].measures.size());
            for (std::size_t m = 0; m < music.measures.size(); ++m) {
                CHECK(music.measures[m].new_system == drill->music[0].measures[m].new_system);
                CHECK(music.measures[m].new_page == drill->music[0].measures[m].new_page);
            }
        }
    }
    CHECK(name_of(sink.heads()[0]->parts[0]) == "Am7");
    CHECK(name_of(sink.heads()[0]->parts[1]) == "Cm7");
}

// A tenth is ten letters wide, the first one counted: Open Music Theory v1, "Intervals".
TEST_CASE("hands in tenths strike together, ten letters apart", "[book]") {
    BookOptions options;
    options.drills = {find_drill("thirds")};
    options.with_line = false;
    const RecordingSink sink = book({tune_of("Title: T\nKey: C\n| Dm7 | G7 | Cmaj7 | % |\n")},
                                    {part("piano-in-tenths")}, 0, options);
    int pairs = 0;
    for (const WrittenMusic* music : sink.music()) {
        REQUIRE(music->lower.size() == 1);
        const WrittenMusic& lower = music->lower.front();
        REQUIRE(lower.events.size() == music->events.size());
        for (std::size_t i = 0; i < music->events.size(); ++i) {
            const auto* right = std::get_if<Sounded>(&music->events[i].what);
            const auto* left = std::get_if<Sounded>(&lower.events[i].what);
            REQUIRE((right == nullptr) == (left == nullptr));
            if (right == nullptr) continue;
            CHECK((right->pitch.on_paper() - left->pitch.on_paper()).steps() == 9);
            ++pairs;
        }
    }
    CHECK(pairs > 50);
}

}  // namespace shedbook
