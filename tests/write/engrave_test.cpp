// Needs LilyPond; without it the tests that engrave say so and end.
#include "../../src/write/engrave.h"
#include "../../src/write/engraver_process.h"
#include "../../src/write/lilypond_book.h"
#include "../../src/write/lilypond_music.h"

#include <array>
#include <catch2/catch.hpp>
#include <filesystem>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFOutlineDocumentHelper.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>

#include "blocks.h"
#include "count_text.h"
#include "program_on_path.h"
#include "scratch_folder.h"
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
constexpr const char* kTitle = "Up and down \"the\" scale \\ # { } $ %";

WrittenMusic piece(const Instrument& instrument, int bars, bool open_key) {
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
    return music;
}

struct Sizes {
    int chords = 2;
    int drills = 5;  // of two systems each
    int drill_bars = 8;
    bool has_fingerings = false;
    Meter meter = {};
};

SectionStart section(int number, const std::string& reason = "") {
    TopicHead head;
    head.topic = topic_of("Cmaj7(#11)", "C Lydian");
    head.parts = {{head.topic.symbol, head.topic.scale, spelled(head.topic.scale)}};
    head.reason = reason;
    return {number, head};
}

std::function<void(BlockSink&)> book(const Instrument& instrument, bool is_book, Sizes sizes,
                                     const std::string& code = {}) {
    return [=](BlockSink& sink) {
        sink.begin({"The Long Way Round", "", {instrument}, code});
        if (is_book) {
            Cover cover;
            if (sizes.has_fingerings) cover.fingerings = "frets, and the string in a circle";
            sink.take(cover);
            sink.take(Caution{"Take short breaks."});
        }
        const TempoBoxes boxes{{60, 80}, true};
        for (int c = 1; c <= sizes.chords; ++c) {
            sink.take(section(c));
            for (int d = 1; d <= sizes.drills; ++d) {
                WrittenMusic music = piece(instrument, sizes.drill_bars, true);
                if (sizes.has_fingerings) add_fingerings(music, instrument);
                music.meter = sizes.meter;
                Drill drill = drill_block(std::move(music), {c, d}, kTitle);
                drill.boxes = boxes;
                sink.take(std::move(drill));
            }
            sink.take(SectionEnd{});
        }
        Etude etude = etude_block(piece(instrument, 32, false), {sizes.chords + 1, 0}, kTitle);
        etude.boxes = boxes;
        sink.take(std::move(etude));
        if (is_book) sink.take(LogPage{});
        sink.finish();
    };
}

int pages_of(const std::string& pdf) {
    const ProcessResult info = run_process({*find_program("pdfinfo"), pdf});
    const std::size_t at = info.said.find("Pages:");
    return at == std::string::npos ? 0 : std::stoi(info.said.substr(at + 6));
}

EngraverText text_of(const std::function<void(BlockSink&)>& assemble, Paper paper = Paper::A4) {
    return engraver_text(recorded(assemble), paper);
}

Engraved engraved(const EngraverText& planned, const TemporaryFolder& folder) {
    write_atomically(folder.path() + "/book.ly", [&](std::ostream& out) { out << planned.whole(); });
    const ProcessResult result =
        run_process({*find_program("lilypond"), "--loglevel=WARN", "-o", "book", "book.ly"},
                    {folder.path(), engraver_environment()});
    INFO(result.said);
    REQUIRE(result.exit_code == 0);
    return read_engraver(result.said);
}

std::vector<int> keys_at_fault(const Engraved& said) {
    std::vector<int> out;
    for (const EngravedPart& part : said.parts) {
        if (!part.is_at_fault()) continue;
        UNSCOPED_INFO("part " << part.key << ", " << part.wide << " lines wide: " << part.warning);
        out.push_back(part.key);
    }
    return out;
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
            const EngraverText planned = text_of(book(*find_instrument(name), true, {}), paper);
            const Engraved said = engraved(planned, folder);
            CHECK(said.fault == "");
            CHECK(keys_at_fault(said).empty());
            CHECK(said.pages() == planned.pages);
            if (find_program("pdfinfo")) CHECK(pages_of(folder.path() + "/book.pdf") == planned.pages);
        }
    }
    const TemporaryFolder folder;
    const Engraved sheet = engraved(text_of(book(*find_instrument("flute"), false, {1, 4, 8})), folder);
    CHECK(sheet.fault.empty());
    CHECK(keys_at_fault(sheet).empty());
    CHECK(sheet.pages() == 2);
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
            sink.begin({title, "", {*find_instrument("flute")}, ""});
            sink.take(Cover{});
            sink.take(Caution{caution});
            sink.take(LogPage{});
            sink.finish();
        };
        const TemporaryFolder folder;
        const Engraved said = engraved(text_of(title_only), folder);
        CHECK(said.fault == "");
        CHECK(said.pages() == 3);  // title, contents, log
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
        const TemporaryFolder folder;
        const EngraverText planned = text_of(book(*find_instrument(name), true, with_rows), paper);
        CHECK(planned.whole().find("fingeringRow \\lyricmode") != std::string::npos);
        CHECK(planned.whole().find("Under the notes: ") != std::string::npos);
        const Engraved said = engraved(planned, folder);
        CHECK(said.fault == "");
        CHECK(keys_at_fault(said).empty());
        CHECK(said.pages() == planned.pages);
    }
}

TEST_CASE("short sections share a page, long ones do not", "[write]") {
    const auto pages_of_sections = [](Sizes sizes, const Faults& faults) {
        const Document document = recorded(book(*find_instrument("flute"), false, sizes));
        const PagePlan plan = planned(contents_of(document), room_of(Paper::A4), faults);
        std::vector<int> out;
        for (const PlannedSection& each : plan.tunes[0].sections) {
            if (each.etude() == nullptr) out.push_back(each.first_page);
        }
        return out;
    };
    CHECK(pages_of_sections({6, 1, 4}, {}) == std::vector<int>{1, 1, 1, 1, 2, 2});
    CHECK(pages_of_sections({3, 3, 8}, {}) == std::vector<int>{1, 2, 3});
    // A crowded page is set tighter, then holds less.
    CHECK(pages_of_sections({6, 1, 4}, {{0, {1}}}) == std::vector<int>{1, 1, 1, 1, 2, 2});
    CHECK(pages_of_sections({6, 1, 4}, {{0, {4}}}) == std::vector<int>{1, 1, 1, 2, 2, 2});
    if (!has_engraver()) return;
    static constexpr std::array<std::pair<Paper, const char*>, 3> kShort{
        {{Paper::A4, "tuba"}, {Paper::Letter, "flute"}, {Paper::Tablet, "tuba"}}};
    for (const auto& [paper, name] : kShort) {
        CAPTURE(name);
        CAPTURE(room_of(paper).paper);
        const TemporaryFolder folder;
        const EngraverText planned = text_of(book(*find_instrument(name), true, {7, 1, 4}), paper);
        const Engraved said = engraved(planned, folder);
        CHECK(said.fault == "");
        CHECK(keys_at_fault(said).empty());
        CHECK(said.pages() == planned.pages);
    }
}

TEST_CASE("two short etudes share a page, and each is named on it", "[write]") {
    const auto etudes = [](int bars) {
        return recorded([&](BlockSink& sink) {
            sink.begin({"Rooms", "", {*find_instrument("flute")}, ""});
            sink.take(Cover{});
            for (int number = 1; number <= 2; ++number)
                sink.take(etude_block(piece(*find_instrument("flute"), bars, false), {number, 0}, kTitle));
            sink.take(LogPage{});
            sink.finish();
        });
    };
    const auto last_page = [&](int bars) {
        const Document document = etudes(bars);
        return planned(contents_of(document), room_of(Paper::A4)).tunes[0].sections.back().first_page;
    };
    CHECK(last_page(32) == last_page(16) + 1);
    const std::string text = engraver_text(etudes(16), Paper::A4).whole();
    CHECK(text.find("\\bold \"1\"") < text.find("\\bold \"2\""));
    CHECK(text.find("\\bold \"2\"") != std::string::npos);
    if (!has_engraver()) return;
    const TemporaryFolder folder;
    const EngraverText planned = engraver_text(etudes(16), Paper::A4);
    const Engraved said = engraved(planned, folder);
    CHECK(keys_at_fault(said).empty());
    CHECK(said.pages() == planned.pages);
}

TEST_CASE("a unit keeps to one page as long as it can, and then fills two pages evenly", "[write]") {
    const auto planned_unit = [](int lines) {
        const Document document = recorded([&](BlockSink& sink) {
            sink.begin({"Rooms", "", {*find_instrument("flute")}, ""});
            sink.take(Cover{});
            sink.take(TuneOverview{});
            const UnitHead head{"ii-V", {{Key{}, 1, 2}}, Grade::Hard, ""};
            sink.take(SectionStart{1, head});
            for (int i = 1; i <= lines; ++i) {
                Etude line = etude_block(piece(*find_instrument("flute"), 4, false));
                line.number = {1, i};
                sink.take(std::move(line));
            }
            sink.take(SectionEnd{});
            sink.finish();
        });
        return planned(contents_of(document), room_of(Paper::A4)).tunes[0].sections.front();
    };
    CHECK(planned_unit(8).pages == 1);
    CHECK_FALSE(planned_unit(8).is_tight);
    CHECK(planned_unit(9).pages == 1);
    CHECK(planned_unit(9).is_tight);
    const PlannedSection ten = planned_unit(10);
    CHECK(ten.pages == 2);
    CHECK(ten.turns == std::vector<std::size_t>{5});
    // Ten systems and two staves of the player's own.
    CHECK(ten.empty_staves == 1);
    CHECK(planned_unit(14).turns == std::vector<std::size_t>{7});
    // What two pages do not hold takes a third, and no fourth.
    CHECK(planned_unit(22).pages == 3);
    CHECK(planned_unit(14).empty_staves == 0);
}

TEST_CASE("a unit of two pages lies open: it begins on an even page, whatever stands before", "[write]") {
    const auto first_page_of_unit = [](int bars, int entries) {
        const Document document = recorded([&](BlockSink& sink) {
            const Instrument& flute = *find_instrument("flute");
            sink.begin({"Rooms", "", {flute}, ""});
            sink.take(Cover{});
            sink.take(TuneOverview{});
            sink.take(Changes{{"rooms", "Rooms"}, {piece(flute, bars, false)}});
            const SectionStart chord = section(1);
            const ScaleTable::Row entry{0, std::get<TopicHead>(chord.head).parts.front(), "I of C major"};
            sink.take(ScaleTable{std::vector<ScaleTable::Row>(static_cast<std::size_t>(entries), entry)});
            sink.take(SectionStart{1, UnitHead{"ii-V", {{Key{}, 1, 2}}, Grade::Hard, ""}});
            for (int i = 1; i <= 12; ++i) {
                Etude line = etude_block(piece(flute, 4, false));
                line.number = {1, i};
                sink.take(std::move(line));
            }
            sink.take(SectionEnd{});
            sink.finish();
        });
        return planned(contents_of(document), room_of(Paper::A4)).tunes[0].sections.front().first_page;
    };
    for (const int bars : {24, 32, 40, 64}) {
        for (const int entries : {8, 16, 24, 30, 44}) {
            INFO(bars << " bars, " << entries << " scales");
            CHECK(first_page_of_unit(bars, entries) % 2 == 0);
        }
    }
}

TEST_CASE(
    "changes that run over with their table are set closer, and only then take a page for it; so does the "
    "cover",
    "[write]") {
    const Document document = recorded([](BlockSink& sink) {
        const Instrument& flute = *find_instrument("flute");
        sink.begin({"Rooms", "", {flute}, ""});
        sink.take(Cover{});
        sink.take(TuneOverview{});
        sink.take(Changes{{"rooms", "Rooms"}, {piece(flute, 12, false)}});
        const ScaleTable::Row entry{0, std::get<TopicHead>(section(1).head).parts.front(), "I of C major"};
        sink.take(ScaleTable{std::vector<ScaleTable::Row>(8, entry)});
        sink.finish();
    });
    const auto with = [&](int key, int full) {
        return planned(contents_of(document), room_of(Paper::A4), {{key, {full}}});
    };
    CHECK(with(key_of_changes(0), 0).tunes[0].changes_pages == 1);
    CHECK(with(key_of_changes(0), 1).tunes[0].changes_pages == 1);
    CHECK(with(key_of_changes(0), 1).tunes[0].table.gap < with(key_of_changes(0), 0).tunes[0].table.gap);
    CHECK(with(key_of_changes(0), 2).tunes[0].changes_pages == 2);
    CHECK(with(kKeyOfCover, 1).tunes[0].overview_page == 0);
    CHECK(with(kKeyOfCover, 1).has_tight_cover);
    CHECK(with(kKeyOfCover, 2).tunes[0].overview_page == 2);
}

TEST_CASE("drills on a set of notes stand on what a unit leaves of its last page, a short etude behind them",
          "[write]") {
    const Instrument& flute = *find_instrument("flute");
    const Document document = recorded([&](BlockSink& sink) {
        sink.begin({"Rooms", "", {flute}, ""});
        sink.take(Cover{});
        sink.take(TuneOverview{});
        sink.take(SectionStart{1, UnitHead{"ii-V", {{Key{}, 1, 2}}, Grade::Hard, ""}});
        for (int i = 1; i <= 11; ++i) {
            Etude line = etude_block(piece(flute, 4, false));
            line.number = {1, i};
            sink.take(std::move(line));
        }
        sink.take(SectionEnd{});
        for (const int number : {2, 3}) {
            sink.take(section(number));
            for (int drill = 1; drill <= 3; ++drill)
                sink.take(drill_block(piece(flute, 4, true), {number, drill}));
            sink.take(SectionEnd{});
        }
        sink.take(etude_block(piece(flute, 12, false), {4, 0}));
        sink.finish();
    });
    const PagePlan plan = planned(contents_of(document), room_of(Paper::A4));
    const std::vector<PlannedSection>& sections = plan.tunes[0].sections;
    REQUIRE(sections.size() == 4);
    CHECK(sections[0].pages == 2);
    CHECK(sections[1].shares_page);
    CHECK(sections[1].first_page == sections[0].first_page + 1);
    CHECK_FALSE(sections[2].shares_page);
    CHECK(sections[3].shares_page);
    CHECK(plan.log_page == sections[2].first_page + 1);
    // The unit leaves room for them: more than half of it stands on its first page.
    CHECK(sections[0].turns == std::vector<std::size_t>{7});
}

TEST_CASE("the first bar after a pickup is the first for the engraver too", "[write]") {
    ConcertLine line;
    for (int i = 0; i < 9; ++i)
        line.notes.push_back({*parse_pitch("G4"), Position{} + kHalf * Rational{i}, kHalf});
    line.length = kHalf * Rational{9};
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.bars = {{kHalf, {}, true},
                    {kWhole, {}, false},
                    {kWhole, {}, false},
                    {kWhole, {}, false},
                    {kWhole, {}, false}};
    WrittenMusic music = notate(line, options);
    for (std::size_t i = 0; i < music.measures.size(); ++i) music.measures[i].number = static_cast<int>(i);
    const std::string text = music_expression(music);
    CHECK(text.find("\\partial") != std::string::npos);
    CHECK(text.find("currentBarNumber") == std::string::npos);
    music.measures[2].number = 7;
    CHECK(music_expression(music).find("currentBarNumber = #7") != std::string::npos);
}

namespace {

// A book of four bars whose table of scales has this entry so many times.
std::string text_of_table(const ScaleTable::Row& entry, int times) {
    return text_of([&](BlockSink& sink) {
               const Instrument& flute = *find_instrument("flute");
               sink.begin({"", "", {flute}, ""});
               sink.take(Cover{});
               sink.take(Changes{{"", "The changes"}, {piece(flute, 4, false)}});
               sink.take(ScaleTable{std::vector<ScaleTable::Row>(static_cast<std::size_t>(times), entry)});
               sink.take(section(1, entry.reason));
               sink.take(drill_block(piece(flute, 4, true)));
               sink.take(SectionEnd{});
               sink.finish();
           })
        .whole();
}

ScaleTable::Row entry_of_table(const std::string& reason, const char* symbol = "Cmaj7",
                               const char* scale = "C Lydian") {
    const Topic topic = topic_of(symbol, scale);
    return {1, {topic.symbol, topic.scale, spelled(topic.scale)}, reason};
}

}  // namespace

TEST_CASE("a reason in the table of scales wraps; short of room it says the first thing, and is never cut",
          "[write]") {
    const std::string reason =
        "the symbol asks for altered tensions without the natural 5: all of them in one scale";
    CHECK(text_of_table(entry_of_table(reason), 1).find("\\wordwrap-string \"" + reason) !=
          std::string::npos);
    const std::string all = text_of_table(entry_of_table(reason), 26);
    CHECK(all.find("\\wordwrap-string \"the symbol asks for altered tensions without the natural 5\"") !=
          std::string::npos);
    CHECK(all.find("\u2026") == std::string::npos);
}

TEST_CASE("beside a scale in the table stand its bars, and a number of bars where those have no room",
          "[write]") {
    ScaleTable::Row entry = entry_of_table("", "F#7(b9)", "F# half-whole diminished");
    entry.drilled_as = topic_of("C7(b9)", "C half-whole diminished").scale;
    entry.bars = {8};
    const std::string one = text_of_table(entry, 1);
    CHECK(one.find("\", bar 8\"") != std::string::npos);
    CHECK(one.find("1 bars") == std::string::npos);
    entry.bars = {8, 16, 24};
    CHECK(text_of_table(entry, 1).find("\", in 3 bars\"") != std::string::npos);
    ScaleTable::Row usual = entry_of_table("");
    usual.bars = {8, 16, 24};
    CHECK(text_of_table(usual, 1).find("bars 8, 16, 24") != std::string::npos);
}

TEST_CASE("the foot of a page has room for a title of some length", "[write]") {
    const auto foot = [](const std::string& title) {
        const std::string text = text_of([&](BlockSink& sink) {
                                     sink.begin({title, "", {*find_instrument("piano")}, ""});
                                     sink.take(section(1));
                                     sink.take(drill_block(piece(*find_instrument("piano"), 4, true)));
                                     sink.take(SectionEnd{});
                                     sink.finish();
                                 }).whole();
        const std::size_t at = text.find("foottune = \\markup");
        return text.substr(at, text.find('\n', at) - at);
    };
    CHECK(foot("The Reed Cutter's Bicycle").find("Bicycle") != std::string::npos);
    CHECK(foot("The Reed Cutter's Second Bicycle and What Became of It on the Hill").find("...") !=
          std::string::npos);
}

TEST_CASE("what is to be done from a bar on stands over its notes, and below an empty staff", "[write]") {
    WrittenMusic music = piece(*find_instrument("flute"), 2, false);
    music.texts = {{0, 0, "Dorian", false}, {1, 0, "another way", true}};
    const std::string over = music_expression(music);
    const auto before = [](const std::string& text, const char* word) {
        const std::size_t at = text.rfind("\\markup \\sans", text.find(word));
        return text[at - 1];
    };
    CHECK(before(over, "Dorian") == '_');
    CHECK(before(over, "another way") == '^');
    for (Event& event : music.events) event.what = Rest{.hidden = true};
    CHECK(before(music_expression(music), "another way") == '_');
}

// The beat of 6/8 is a dotted quarter, of cut time a half (Gould, Behind Bars, from memory).
TEST_CASE("the frets of two chords a beat apart stand further from each other than those of two notes",
          "[write]") {
    const auto row_of = [](const std::string& frets) {
        WrittenMusic music = piece(*find_instrument("guitar"), 1, false);
        music.fingerings.assign(music.events.size(), NoteFingering{frets, 0, true});
        return music_expression(music);
    };
    CHECK_THAT(row_of("7 x 7 7 7 x"), Catch::Contains("\\shapeRow"));
    CHECK_THAT(row_of("7"), Catch::Contains("\\fingeringRow") && !Catch::Contains("\\shapeRow"));
}

TEST_CASE("the boxes say what their tempos count, where it is no quarter", "[write]") {
    const auto text_in = [](const char* meter) {
        Sizes sizes{1, 1, 4};
        sizes.meter = *parse_meter(meter);
        return text_of(book(*find_instrument("flute"), false, sizes)).whole();
    };
    CHECK(text_in("6/8").find("\\note {4.} #0.8 \\tick") != std::string::npos);
    CHECK(text_in("2/2").find("\\note {2} #0.8 \\tick") != std::string::npos);
    CHECK(text_in("4/4").find("#0.8 \\tick") == std::string::npos);
}

TEST_CASE("the first boxes on a page are the heads of those below; a section says its meter once",
          "[write]") {
    const std::string text = text_of(book(*find_instrument("flute"), false, {2, 2, 4})).whole();
    const auto count = [&](const std::string& what) {
        int out = 0;
        for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; ++at) ++out;
        return out;
    };
    // Two sections of two drills, and an etude.
    CHECK(count("\\tick \"at 60\"") == 3);
    CHECK(count("\\tick \\transparent \"at 60\"") == 2);
    CHECK(count("\\layout { \\meterLayout }") == 2);
}

TEST_CASE("where pages turn, boxes and meter are said anew", "[write]") {
    // More than a page, and turned by the plan.
    const Document document = recorded(book(*find_instrument("flute"), false, {1, 6, 8}));
    const PagePlan plan = planned(contents_of(document), room_of(Paper::A4));
    REQUIRE(plan.tunes[0].sections[0].turns.size() == 1);
    const std::string text = engraver_text(document, Paper::A4).whole();
    const std::size_t turn = text.find("\\pageBreak");
    REQUIRE(turn != std::string::npos);
    CHECK(text.find("\\tick \"at 60\"", turn) < text.find("\\tick \\transparent", turn));
}

TEST_CASE("drills that all chords have are named once in the contents, many entries in two columns",
          "[write]") {
    const auto contents = [](int chords) {
        const std::string text = text_of(book(*find_instrument("flute"), true, {chords, 2, 4})).whole();
        const std::size_t from = text.find("\"Contents\"\n\\markup");
        return text.substr(from, text.find("\\bookpart", from) - from);
    };
    const std::string few = contents(3);
    CHECK(few.find("Each chord has these drills:") != std::string::npos);
    CHECK(few.find("\\left-column") == std::string::npos);
    CHECK(contents(1).find("Each chord has these drills:") == std::string::npos);
    CHECK(contents(30).find("\\left-column") != std::string::npos);
}

TEST_CASE(
    "a rhythm part has % where the chart has it, but not at the start of a line, and short lines end early",
    "[write]") {
    WrittenMusic music = piece(*find_instrument("flute"), 6, false);
    for (const std::size_t bar : {1U, 4U}) music.measures[bar].repeats_before = true;
    music.texts = {{0, 0, "I", true}, {1, 0, "unseen", true}, {2, 0, "ii", true}};
    const std::string text = text_of([&](BlockSink& sink) {
                                 sink.begin({"Rooms", "", {*find_instrument("flute")}, ""});
                                 sink.take(Changes{{"rooms", "Rooms"}, {music}});
                                 sink.finish();
                             }).whole();
    CHECK(text.find("\\percentBar s1") == text.rfind("\\percentBar s1"));
    CHECK(text.find("\\percentBar s1") != std::string::npos);
    CHECK(text.find("unseen") == std::string::npos);
    CHECK(text.find("\"ii\"") != std::string::npos);
    CHECK(text.find("ragged-last = ##t") != std::string::npos);
}

TEST_CASE("a sign that is drawn stands over a note of its bar or follows it, words at its line", "[write]") {
    const auto assemble = [](BlockSink& sink) {
        sink.begin({"Held", "", {*find_instrument("flute")}, ""});
        ConcertLine line;
        line.notes.push_back({*parse_pitch("C4"), Position{}, kHalf});
        line.notes.push_back({*parse_pitch("D4"), Position{} + kHalf, kHalf});
        line.length = kWhole;
        NotateOptions options;
        options.instrument = find_instrument("flute");
        WrittenMusic music = notate(line, options);
        music.measures[0].signs_before = {{FormSign::Coda, {}}};
        music.measures[0].signs_after = {
            {FormSign::Caesura, {}}, {FormSign::Fermata, {}}, {FormSign::Caesura, {}}, {FormSign::Fine, {}}};
        sink.take(LeadSheet{{std::move(music)}});
        sink.finish();
    };
    const std::string text = text_of(assemble).whole();
    const std::size_t coda = text.find("c'2^\\markup \\musicglyph \"scripts.coda\"");
    const std::size_t fermata = text.find(
        "d'2^\\markup \\musicglyph \"scripts.ufermata\" \\once \\override BreathingSign.text = "
        "\\markup \\line { \\musicglyph \"scripts.caesura.straight\" \\musicglyph "
        "\"scripts.caesura.straight\" } \\once");
    const std::size_t fine = text.find("\"Fine\"");
    REQUIRE(fine != std::string::npos);
    CHECK(coda < fermata);
    CHECK(fermata < fine);
    CHECK(text.find("\"Fermata\"") == std::string::npos);
}

TEST_CASE(
    "a section is named over its first bar in an etude; in a lead sheet a short name stands at its left and "
    "nowhere else, "
    "a word over its first bar",
    "[write]") {
    WrittenMusic music = piece(*find_instrument("flute"), 4, false);
    music.measures[0].signs_before = {{std::nullopt, "A2"}};
    music.measures[2].signs_before = {{std::nullopt, "Bridge"}};
    const auto text_with = [&](const auto& block) {
        return text_of([&](BlockSink& sink) {
                   sink.begin({"Rooms", "", {*find_instrument("flute")}, ""});
                   sink.take(block);
                   sink.finish();
               })
            .whole();
    };
    const std::string etude = text_with(etude_block(music));
    const std::string sheet = text_with(LeadSheet{{music}});
    for (const auto& [name, in_sheet] : {std::pair<std::string, std::string>{"\"A2\"", "\\letter "},
                                         {"\"Bridge\"", "\\box \\sans \\bold \\fontsize #-2 "}}) {
        INFO(name);
        CHECK(etude.find("\\box \\sans \\bold \\fontsize #-2 " + name) != std::string::npos);
        CHECK(etude.find(name) == etude.rfind(name));
        CHECK(sheet.find(in_sheet + name) != std::string::npos);
        CHECK(sheet.find(name) == sheet.rfind(name));
    }
}

TEST_CASE("a page with too much on it is found, and the part that it belongs to", "[write]") {
    if (!has_engraver()) return;
    PageRoom crowded = room_of(Paper::A4);
    crowded.with_head = 14;
    crowded.without_head = 14;
    const TemporaryFolder folder;
    const Document document = recorded(book(*find_instrument("flute"), true, {1, 7, 8}));
    const Engraved said = engraved(book_text(document, crowded), folder);
    CHECK(keys_at_fault(said) == std::vector<int>{0});
}

TEST_CASE("a part that did not fit is set tighter, then smaller, then given more pages; others stay",
          "[write]") {
    const Document document = recorded(book(*find_instrument("flute"), true, {2, 8, 8}));
    const PageRoom& room = room_of(Paper::A4);
    const auto sections = [&](const Faults& faults) {
        return planned(contents_of(document), room, faults).tunes[0].sections;
    };
    CHECK(sections({})[1].pages == 2);
    CHECK(sections({{1, {1}}})[1].pages == 2);
    CHECK(sections({{1, {1}}})[1].is_tight);
    CHECK_FALSE(sections({{1, {1}}})[0].is_tight);
    CHECK(sections({{1, {1}}})[1].wide == 1);
    CHECK(sections({{1, {2}}})[1].pages == 2);
    CHECK(sections({{1, {2}}})[1].wide > 1);
    CHECK(sections({{1, {5}}})[1].pages == 4);
    CHECK(sections({{1, {5}}})[1].wide == 1);
    CHECK(sections({{1, {5}}})[0].pages == 2);
}

TEST_CASE("warnings belong to the part that ends after them; a missing letter is none", "[write]") {
    const Engraved said = read_engraver(
        "shedbook-part #f 1\nwarning: too few pages: 2 (should have at least 3)\nshedbook-part 7 2\n"
        "warning: no glyph for character U+6F22\nshedbook-part -1 1\n");
    CHECK(said.pages() == 4);
    CHECK(said.fault == "");
    CHECK(keys_at_fault(said) == std::vector<int>{7});
    CHECK(read_engraver("warning: something else\nshedbook-part #f 1\n").parts.front().warning ==
          "warning: something else");
    CHECK(read_engraver("shedbook-part 1 1\nwarning: behind all\n").fault == "warning: behind all");
    const Engraved wide = read_engraver("shedbook-wide 1.02\nshedbook-wide 1.01\nshedbook-part 3 1\n");
    CHECK(wide.parts.front().wide == 1.02);
    CHECK(keys_at_fault(wide) == std::vector<int>{3});
}

TEST_CASE("the parts of a book follow each other page by page, its braces closed in each", "[write]") {
    const EngraverText text = text_of(book(*find_instrument("flute"), true, {}));
    int page = 1;
    for (const EngraverPart& part : text.parts) {
        CHECK(part.first_page == page);
        page += part.pages;
        CHECK(part.text.starts_with("\\bookpart {\n"));
        CHECK(part.text.ends_with("}\n"));
    }
    CHECK(page == text.pages + 1);
}

// A line of bars that are so full that it runs over the margin, and a drill that does not.
std::function<void(BlockSink&)> crowded_sheet(int notes) {
    return [=](BlockSink& sink) {
        const Instrument& flute = *find_instrument("flute");
        sink.begin({"Crowd", "A. Player", {flute}, ""});
        for (int c = 1; c <= 2; ++c) {
            WrittenMusic music = piece(flute, c == 2 ? notes / 8 : 4, true);
            if (c == 2) {
                for (Measure& measure : music.measures) measure.new_system = false;
                sink.take(etude_block(std::move(music), {c, 0}, kTitle));
                continue;
            }
            sink.take(section(c));
            sink.take(drill_block(std::move(music), {c, 1}, kTitle));
            sink.take(SectionEnd{});
        }
        sink.finish();
    };
}

TEST_CASE("what would stand over the margin is set smaller, and nothing else is", "[write]") {
    if (!has_engraver()) return;
    const TemporaryFolder folder;
    const Document document = recorded(crowded_sheet(56));
    const Engraved said = engraved(engraver_text(document, Paper::A4), folder);
    REQUIRE(said.parts.size() == 2);
    REQUIRE(said.parts[1].wide > 1);
    const EngraverText mended = engraver_text(document, Paper::A4, {{1, {0, said.parts[1].wide}}});
    CHECK(mended.whole().find("layout-set-staff-size") != std::string::npos);
    CHECK(engraver_text(document, Paper::A4).whole().find("layout-set-staff-size") == std::string::npos);
    const Engraved again = engraved(mended, folder);
    CAPTURE(said.parts[1].wide, again.parts[1].wide, again.parts[1].warning);
    CHECK(keys_at_fault(again).empty());
}

TEST_CASE("a drill that is crowded on its line takes two where its page has room, and one where it has none",
          "[write]") {
    const Instrument& flute = *find_instrument("flute");
    const auto pages_with = [&](int drills) {
        const Document document = recorded([&](BlockSink& sink) {
            sink.begin({"Crowd", "", {flute}, ""});
            sink.take(section(1));
            for (int i = 1; i <= drills; ++i) {
                WrittenMusic music = piece(flute, 5, true);
                for (Measure& measure : music.measures) measure.new_system = false;
                sink.take(drill_block(std::move(music), {1, i}, kTitle));
            }
            sink.take(SectionEnd{});
            sink.finish();
        });
        return engraver_text(document, Paper::A4).whole();
    };
    const std::string few = pages_with(3);
    const std::size_t first = few.find("\\dnum \"1.1\"");
    CHECK(count(few.substr(first, few.find("\\dnum \"1.2\"") - first), "\\break\n") == 1);
    // Eight of them leave room for one line.
    CHECK(count(pages_with(8), "\\break\n") == 1);
}

TEST_CASE("a book is set in parts and joined: no page is lost, and its outline tells where all begins",
          "[write]") {
    if (!has_engraver()) return;
    const ScratchFolder folder;
    const auto assemble = book(*find_instrument("flute"), true, {6, 2, 8});
    const EngraverText planned = text_of(assemble);
    WriteOptions anew;
    anew.uses_cache = false;
    write_pdf(folder.file("book.pdf"), assemble, anew);
    QPDF pdf;
    pdf.processFile(folder.file("book.pdf").c_str());
    const auto pages = QPDFPageDocumentHelper{pdf}.getAllPages();
    CHECK(pages.size() == static_cast<std::size_t>(planned.pages));
    const auto entries = QPDFOutlineDocumentHelper{pdf}.getTopLevelOutlines();
    REQUIRE(entries.size() == planned.marks.size());
    for (std::size_t i = 0; i < entries.size(); ++i) {
        QPDFOutlineObjectHelper entry = entries[i];
        CHECK(entry.getTitle() == planned.marks[i].title);
        CHECK(entry.getDestPage().getObjGen() ==
              pages[static_cast<std::size_t>(planned.marks[i].page - 1)].getObjectHandle().getObjGen());
    }
    // ISO 32000-1, 12.3.2: a link of the contents goes to a page of this file.
    std::size_t links = 0;
    for (QPDFPageObjectHelper page : pages) {
        for (QPDFAnnotationObjectHelper& link : page.getAnnotations("/Link")) {
            CHECK(link.getObjectHandle().hasKey("/Dest"));
            ++links;
        }
    }
    CHECK(links >= 7);
    CHECK(pdf.getTrailer().getKey("/Info").getKey("/Title").getUTF8Value() == "The Long Way Round, Flute");
}

TEST_CASE("pages that were set before are not set again", "[write]") {
    if (!has_engraver()) return;
    const ScratchFolder folder;
    const auto assemble = book(*find_instrument("flute"), true, {2, 1, 8});
    write_pdf(folder.file("first.pdf"), assemble, {});
    const auto written_by = [&](const std::string& script, const auto& what) {
        const ProgramOnPath engraver{"lilypond", script};
        write_pdf(folder.file("second.pdf"), what, {});
    };
    // Another engraver sets them anew, and this one cannot.
    CHECK_THROWS_AS(written_by("exit 1", assemble), FailedProgram);
    CHECK_FALSE(std::filesystem::exists(folder.file("second.pdf")));
    write_pdf(folder.file("second.pdf"), assemble, {});
    CHECK(read_file(folder.file("second.pdf")) == read_file(folder.file("first.pdf")));
}

// The words of each page.
std::vector<std::string> words_of(const std::string& pdf) {
    std::vector<std::string> out;
    for (int page = 1; page <= pages_of(pdf); ++page) {
        const std::string number = std::to_string(page);
        out.push_back(run_process({*find_program("pdftotext"), "-f", number, "-l", number, pdf, "-"}).said);
    }
    return out;
}

TEST_CASE("a book with another code stands on the same pages, and each but the cover says its own",
          "[write]") {
    if (!has_engraver() || !find_program("pdftotext")) return;
    const ScratchFolder folder;
    const std::string counts = folder.file("counts");
    const ProgramOnPath engraver{"lilypond", "cat *.ly | grep -c 'bookpart {' >> " + counts + "; exec " +
                                                 *find_program("lilypond") + " \"$@\""};
    write_pdf(folder.file("first.pdf"), book(*find_instrument("flute"), true, {2, 1, 8}, "ABC234"), {});
    std::filesystem::remove(counts);
    write_pdf(folder.file("second.pdf"), book(*find_instrument("flute"), true, {2, 1, 8}, "XYZ789"), {});
    CHECK(read_file(counts) == "1\n");
    const std::vector<std::string> before = words_of(folder.file("first.pdf"));
    const std::vector<std::string> after = words_of(folder.file("second.pdf"));
    REQUIRE(before.size() == after.size());
    for (std::size_t page = 0; page < before.size(); ++page) {
        INFO("page " << page + 1);
        CHECK((before[page].find("ABC234") != std::string::npos) == (page > 0));
        CHECK((after[page].find("XYZ789") != std::string::npos) == (page > 0));
        CHECK(after[page].find("ABC234") == std::string::npos);
    }
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
