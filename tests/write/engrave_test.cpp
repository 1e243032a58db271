// Needs LilyPond; without it the tests that engrave say so and end.
#include "../../src/write/engrave.h"

#include <array>
#include <catch2/catch.hpp>
#include <filesystem>

#include "program_on_path.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

bool has_engraver() {
    if (find_program("lilypond")) return true;
    WARN("LilyPond is not installed: pages are not tested");
    return false;
}

// Eighths up and down a scale, so many bars of them.
WrittenMusic piece(const Instrument& instrument, const std::string& number, int bars, bool open_key) {
    static constexpr std::array<const char*, 14> kUpAndDown{"C4", "D4", "E4", "F#4", "G4",  "A4", "B4",
                                                            "C5", "B4", "A4", "G4",  "F#4", "E4", "D4"};
    ConcertLine line;
    Position at;
    for (int i = 0; i < bars * 8; ++i) {
        const std::size_t place = static_cast<std::size_t>(i) % kUpAndDown.size();
        line.notes.push_back({*parse_pitch(kUpAndDown[place]), at, kEighth});
        at += kEighth;
    }
    line.length = at - Position{};
    NotateOptions options;
    options.instrument = &instrument;
    options.key = Key{};
    options.open_key = open_key;
    options.chords = {{Position{}, parse_chord_symbol("Cmaj7(#11)")}};
    WrittenMusic music = notate(line, options);
    for (std::size_t bar = 4; bar < music.measures.size(); bar += 4) music.measures[bar].new_system = true;
    music.number = number;
    music.title = "Up and down \"the\" scale \\ # { } $ %";
    return music;
}

struct Sizes {
    int chords = 2;
    int drills = 5;  // of two systems each
    int drill_bars = 8;
    bool has_fingerings = false;
    Meter meter = {};
};

std::function<void(BlockSink&)> book(const Instrument& instrument, bool is_book, Sizes sizes) {
    return [=](BlockSink& sink) {
        DocumentHead head;
        head.title = "The Long Way Round";
        head.instrument = instrument;
        head.is_book = is_book;
        sink.begin(head);
        sink.take(Heading{1, head.title});
        if (is_book) sink.take(Text{"Take short breaks."});
        sink.take(TickBoxes{{"at 60", "at 80", "from memory"}});
        for (int c = 1; c <= sizes.chords; ++c) {
            ChordHead chord;
            chord.number = c;
            chord.symbol = parse_chord_symbol("Cmaj7(#11)");
            chord.scale_name = "C Lydian";
            sink.take(chord);
            for (int d = 1; d <= sizes.drills; ++d) {
                WrittenMusic drill =
                    piece(instrument, std::to_string(c) + "." + std::to_string(d), sizes.drill_bars, true);
                if (sizes.has_fingerings) add_fingerings(drill, instrument);
                drill.meter = sizes.meter;
                sink.take(std::move(drill));
            }
        }
        sink.take(piece(instrument, "E", 32, false));
        sink.finish();
    };
}

// Tells the first page of the row.
class RowNamer : public BlockSink {
  public:
    explicit RowNamer(BlockSink& to) : to_{to} {}
    void begin(const DocumentHead& head) override {
        DocumentHead named = head;
        named.fingerings = "frets, and the string in a circle";
        to_.begin(named);
    }
    void take(const Block& block) override { to_.take(block); }
    void finish() override { to_.finish(); }

  private:
    BlockSink& to_;
};

int pages_of(const std::string& pdf) {
    const ProcessResult info = run_process({*find_program("pdfinfo"), pdf});
    const std::size_t at = info.said.find("Pages:");
    return at == std::string::npos ? 0 : std::stoi(info.said.substr(at + 6));
}

Engraved engraved(const PlannedText& planned, const TemporaryFolder& folder) {
    write_atomically(folder.path() + "/book.ly", [&](std::ostream& out) { out << planned.text; });
    const ProcessResult result =
        run_process({*find_program("lilypond"), "--loglevel=WARN", "-o", "book", "book.ly"},
                    {folder.path(), engraver_environment()});
    INFO(result.said);
    REQUIRE(result.exit_code == 0);
    return read_engraver(result.said);
}

}  // namespace

TEST_CASE("books and sheets come out with the pages that were planned, without a word of the engraver's",
          "[write]") {
    if (!has_engraver()) return;
    for (const Paper paper : {Paper::A4, Paper::Letter, Paper::Tablet}) {
        for (const char* name : {"tuba", "flute"}) {
            CAPTURE(name);
            CAPTURE(room_of(paper).paper);
            const TemporaryFolder folder;
            const PlannedText planned =
                lilypond_text(book(*find_instrument(name), true, {}), room_of(paper), {});
            const Engraved said = engraved(planned, folder);
            CHECK(said.fault == "");
            CHECK(said.faulty.empty());
            CHECK(said.pages == planned.pages);
            if (find_program("pdfinfo")) CHECK(pages_of(folder.path() + "/book.pdf") == planned.pages);
        }
    }
    const TemporaryFolder folder;
    const Engraved sheet = engraved(
        lilypond_text(book(*find_instrument("flute"), false, {1, 4, 8}), room_of(Paper::A4), {}), folder);
    CHECK(sheet.fault.empty());
    CHECK(sheet.faulty.empty());
    CHECK(sheet.pages == 2);
}

TEST_CASE("a title of any length and width leaves room for the caution on the first page", "[write]") {
    if (!has_engraver()) return;
    const std::string caution =
        "Take short breaks. Stop at pain, numbness or tingling, and ask a teacher or a doctor. Mind the "
        "volume: "
        "protect your ears.";
    for (const char* title :
         {"Heron on the Lock Gate", "MMMM MMMM MMMM MMMM MMMM",
          "Walking Home With Many Warm Memories Meanwhile, and the Long Way Round to the Mill "
          "and Back Again, on a Morning in May, for All Who Were There and Some Who Were Not"}) {
        CAPTURE(title);
        const auto title_only = [&](BlockSink& sink) {
            DocumentHead head;
            head.title = title;
            head.instrument = *find_instrument("flute");
            sink.begin(head);
            sink.take(Text{caution});
            sink.finish();
        };
        const TemporaryFolder folder;
        const Engraved said = engraved(lilypond_text(title_only, room_of(Paper::A4), {}), folder);
        CHECK(said.fault == "");
        CHECK(said.pages == 3);  // title, contents, log
    }
}

TEST_CASE("rows of fingerings have their room, on the first page too", "[write]") {
    if (!has_engraver()) return;
    static constexpr std::array<std::pair<Paper, const char*>, 3> kRows{
        {{Paper::A4, "trumpet"}, {Paper::Letter, "guitar"}, {Paper::Tablet, "cello"}}};
    Sizes with_rows;
    with_rows.has_fingerings = true;
    for (const auto& [paper, name] : kRows) {
        CAPTURE(name);
        CAPTURE(room_of(paper).paper);
        const auto assemble = [&](BlockSink& sink) {
            const auto blocks = book(*find_instrument(name), true, with_rows);
            RowNamer namer{sink};
            blocks(namer);
        };
        const TemporaryFolder folder;
        const PlannedText planned = lilypond_text(assemble, room_of(paper), {});
        CHECK(planned.text.find("fingeringRow \\lyricmode") != std::string::npos);
        CHECK(planned.text.find("Under the notes: ") != std::string::npos);
        const Engraved said = engraved(planned, folder);
        CHECK(said.fault == "");
        CHECK(said.faulty.empty());
        CHECK(said.pages == planned.pages);
    }
}

TEST_CASE("short sections share a page, long ones do not", "[write]") {
    const auto pages_of_sections = [](Sizes sizes, const Faults& faults) {
        PagePlanner planner;
        book(*find_instrument("flute"), false, sizes)(planner);
        const PagePlan plan = planner.plan(room_of(Paper::A4), faults);
        std::vector<int> out;
        for (const PlannedSection& section : plan.tunes[0].sections) {
            if (!section.is_etude) out.push_back(section.first_page);
        }
        return out;
    };
    CHECK(pages_of_sections({6, 1, 4}, {}) == std::vector<int>{1, 1, 1, 1, 2, 2});
    CHECK(pages_of_sections({3, 2, 8}, {}) == std::vector<int>{1, 2, 3});
    // A crowded page is set tighter, then holds less.
    CHECK(pages_of_sections({6, 1, 4}, {{0, 1}}) == std::vector<int>{1, 1, 1, 1, 2, 2});
    CHECK(pages_of_sections({6, 1, 4}, {{0, 3}}) == std::vector<int>{1, 1, 1, 2, 2, 2});
    if (!has_engraver()) return;
    static constexpr std::array<std::pair<Paper, const char*>, 3> kShort{
        {{Paper::A4, "tuba"}, {Paper::Letter, "flute"}, {Paper::Tablet, "tuba"}}};
    for (const auto& [paper, name] : kShort) {
        CAPTURE(name);
        CAPTURE(room_of(paper).paper);
        const TemporaryFolder folder;
        const PlannedText planned =
            lilypond_text(book(*find_instrument(name), true, {7, 1, 4}), room_of(paper), {});
        const Engraved said = engraved(planned, folder);
        CHECK(said.fault == "");
        CHECK(said.faulty.empty());
        CHECK(said.pages == planned.pages);
    }
}

TEST_CASE("a reason is as short in the table of scales as its column, and whole at the head", "[write]") {
    const auto text_with = [](const std::string& reason) {
        const auto assemble = [&](BlockSink& sink) {
            const Instrument& flute = *find_instrument("flute");
            DocumentHead head;
            head.instrument = flute;
            sink.begin(head);
            sink.take(Text{"Take short breaks."});
            RhythmPart changes{piece(flute, "", 4, false)};
            sink.take(changes);
            ChordHead chord;
            chord.symbol = parse_chord_symbol("Ab7sus4");
            chord.scale_name = "Ab half-whole diminished";
            chord.reason = reason;
            sink.take(chord);
            sink.take(piece(flute, "1.1", 4, true));
            sink.finish();
        };
        return lilypond_text(assemble, room_of(Paper::A4), {}).text;
    };
    const std::string sus = text_with("the fourth is a chord tone, the third only passes");
    CHECK(sus.find("\"the fourth is a chord tone\"") != std::string::npos);
    CHECK(sus.find("the third only passes") != std::string::npos);
    const std::string alt =
        text_with("the symbol asks for altered tensions without the natural 5: all of them in one scale");
    CHECK(alt.find("\"the symbol asks for altered tensions \u2026\"") != std::string::npos);
    CHECK(alt.find("all of them in one scale") != std::string::npos);
}

// The beat of 6/8 is a dotted quarter, of cut time a half (Gould, Behind Bars, from memory).
TEST_CASE("the boxes say what their tempos count, where it is no quarter", "[write]") {
    const auto text_in = [](const char* meter) {
        Sizes sizes{1, 1, 4};
        sizes.meter = *parse_meter(meter);
        return lilypond_text(book(*find_instrument("flute"), false, sizes), room_of(Paper::A4), {}).text;
    };
    CHECK(text_in("6/8").find("\\note {4.} #0.8 \\tick") != std::string::npos);
    CHECK(text_in("2/2").find("\\note {2} #0.8 \\tick") != std::string::npos);
    CHECK(text_in("4/4").find("#0.8 \\tick") == std::string::npos);
}

TEST_CASE("a sign that is drawn stands over a note of its bar, words at its line", "[write]") {
    const auto assemble = [](BlockSink& sink) {
        DocumentHead head;
        head.title = "Held";
        head.is_book = false;
        head.instrument = *find_instrument("flute");
        sink.begin(head);
        ConcertLine line;
        line.notes.push_back({*parse_pitch("C4"), Position{}, kHalf});
        line.notes.push_back({*parse_pitch("D4"), Position{} + kHalf, kHalf});
        line.length = kWhole;
        NotateOptions options;
        options.instrument = find_instrument("flute");
        WrittenMusic music = notate(line, options);
        music.measures[0].signs_before = {{FormSign::Coda, {}}};
        music.measures[0].signs_after = {{FormSign::Fermata, {}}, {FormSign::Fine, {}}};
        sink.take(std::move(music));
        sink.finish();
    };
    const std::string text = lilypond_text(assemble, room_of(Paper::A4), {}).text;
    const std::size_t coda = text.find("c'2^\\markup \\musicglyph \"scripts.coda\"");
    const std::size_t fermata = text.find("d'2^\\markup \\musicglyph \"scripts.ufermata\"");
    const std::size_t fine = text.find("\"Fine\"");
    REQUIRE(fine != std::string::npos);
    CHECK(coda < fermata);
    CHECK(fermata < fine);
    CHECK(text.find("\"Fermata\"") == std::string::npos);
}

TEST_CASE("a page with too much on it is found, and the part that it belongs to", "[write]") {
    if (!has_engraver()) return;
    PageRoom crowded = room_of(Paper::A4);
    crowded.with_head = 14;
    crowded.without_head = 14;
    const TemporaryFolder folder;
    const Engraved said =
        engraved(lilypond_text(book(*find_instrument("flute"), true, {1, 7, 8}), crowded, {}), folder);
    REQUIRE(said.faulty.size() == 1);
    CHECK(said.faulty[0] == 0);
}

TEST_CASE("a part that did not fit is set tighter, then given more pages; others stay", "[write]") {
    PagePlanner planner;
    book(*find_instrument("flute"), true, {2, 8, 8})(planner);
    const PageRoom& room = room_of(Paper::A4);
    const auto sections = [&](const Faults& faults) { return planner.plan(room, faults).tunes[0].sections; };
    CHECK(sections({})[1].pages == 2);
    CHECK(sections({{1, 1}})[1].pages == 2);
    CHECK(sections({{1, 1}})[1].is_tight);
    CHECK_FALSE(sections({{1, 1}})[0].is_tight);
    CHECK(sections({{1, 4}})[1].pages == 4);
    CHECK(sections({{1, 4}})[0].pages == 2);
}

TEST_CASE("warnings belong to the part that ends after them; a missing letter is none", "[write]") {
    const Engraved said = read_engraver(
        "shedbook-part #f 1\nwarning: too few pages: 2 (should have at least 3)\nshedbook-part 7 2\n"
        "warning: no glyph for character U+6F22\nshedbook-part -1 1\n");
    CHECK(said.pages == 4);
    CHECK(said.fault == "");
    CHECK(said.faulty == std::vector<int>{7});
    CHECK(read_engraver("warning: something else\nshedbook-part #f 1\n").fault == "warning: something else");
}

TEST_CASE("a text falls into parts at its pages, and nothing is lost", "[write]") {
    const PlannedText planned =
        lilypond_text(book(*find_instrument("flute"), true, {}), room_of(Paper::A4), {});
    const TextParts parts = parts_of(planned.text);
    std::string together{parts.preamble};
    int page = 0;
    for (const TextPart& part : parts.parts) {
        CHECK(part.first_page > page);
        page = part.first_page;
        together += part.text;
    }
    CHECK(page == planned.pages);
    CHECK(together == planned.text);
}

TEST_CASE("a big book is set in halves and joined: no page is lost", "[write]") {
    if (!has_engraver()) return;
    if (!find_program("qpdf") || !find_program("pdfinfo")) {
        WARN("qpdf or pdfinfo is not installed: joined pages are not tested");
        return;
    }
    const TemporaryFolder folder;
    const auto assemble = book(*find_instrument("flute"), true, {58, 2, 8});
    const PlannedText planned = lilypond_text(assemble, room_of(Paper::A4), {});
    REQUIRE(planned.pages > 60);
    write_pdf(folder.path() + "/big.pdf", assemble, {});
    CHECK(pages_of(folder.path() + "/big.pdf") == planned.pages);
}

TEST_CASE("an engraver that is killed, fails or leaves no pages is told, and nothing is written", "[write]") {
    const auto told = [](const std::string& script) {
        const ProgramOnPath engraver{"lilypond", script};
        const ScratchFolder folder;
        std::string out = "nothing";
        try {
            write_pdf(folder.file("book.pdf"), book(*find_instrument("flute"), false, {1}), {});
        } catch (const FailedProgram& failed) {
            out = failed.what();
        }
        CHECK(folder.count_files() == 0);
        return out;
    };
    CHECK_THAT(told("echo setting; kill -9 $$"), Catch::StartsWith("the engraver was ended by signal 9 ("));
    CHECK(told("exit 0") == "the engraver ended without its pages; nothing was written");
    CHECK(told("echo no fonts; exit 1") == "the engraver could not set these pages: no fonts\n");
}

TEST_CASE("one page can be a picture", "[write]") {
    if (!has_engraver()) return;
    const TemporaryFolder folder;
    WriteOptions options;
    options.page = 2;
    const auto assemble = book(*find_instrument("flute"), false, {1, 8, 8});
    write_svg(folder.path() + "/page.svg", assemble, options);
    CHECK(read_file(folder.path() + "/page.svg", 10'000'000).find("<svg") != std::string::npos);
    write_png(folder.path() + "/page.png", assemble, options);
    // PNG specification (W3C), 5.2: the signature that every file begins with.
    CHECK(read_file(folder.path() + "/page.png", 10'000'000).starts_with("\x89PNG\r\n\x1a\n"));
    options.page = 9;
    CHECK_THROWS_AS(write_svg(folder.path() + "/none.svg", assemble, options), UnusableRequest);
    CHECK_FALSE(std::filesystem::exists(folder.path() + "/none.svg"));
}

}  // namespace shedbook
