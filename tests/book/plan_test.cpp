// Plans: the sittings of a book, from data to blocks.
#include "shedbook/book/plan.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <map>
#include <sstream>

#include "recording_sink.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

const char* const kPlannedTune =
    "Title: Blue Door\nKey: Bb\n[A]\n| Cm7 | F7(b9) | Bbmaj7 | % |\n| Cm7 | F7(b9) | Bbmaj7 | G7alt |\n";

std::vector<BookPlan> plans_of(const std::string& text, Diagnostics& diagnostics) {
    return read_plans(SourceText{"my.toml", text}, diagnostics);
}

RecordingSink book_by(const BookOptions& given) {
    BookOptions options = given;
    if (options.drills.empty()) options.drills = {find_drill("thirds"), find_drill("triads")};
    const Instrument& flute = *find_instrument("flute");
    const std::vector<BookPart> parts{{&flute, flute.practical}};
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_book({tune_of(kPlannedTune)}, parts, 0, options, sink, diagnostics);
    return sink;
}

std::vector<std::string> headings_of(const RecordingSink& sink) {
    std::vector<std::string> out;
    for (const SittingStart* sitting : sink.all<SittingStart>()) out.push_back(title_of(*sitting));
    return out;
}

std::vector<std::string> section_names(const RecordingSink& sink) {
    std::vector<std::string> out;
    for (const TopicHead* head : sink.heads()) out.push_back(name_of(head->topic));
    return out;
}

bool has_notes(const WrittenMusic& music, std::size_t measure) {
    return std::ranges::any_of(music.events_of(music.measures[measure]), [](const Event& event) {
        return std::holds_alternative<Sounded>(event.what);
    });
}

}  // namespace

TEST_CASE("three plans come with the program, each with sittings that can be used", "[book]") {
    CHECK(plan_names() == std::vector<std::string>{"evening", "for-good", "chords-in-an-evening",
                                                   "chords-for-good", "scale-a-week"});
    for (const BookPlan& plan : book_plans()) {
        BookOptions options;
        options.plan = &plan;
        const RecordingSink sink = book_by(options);
        REQUIRE(sink.all<PlanTable>().size() == 1);
        CHECK(sink.all<PlanTable>()[0]->rows.size() == sink.all<SittingStart>().size());
        CHECK(headings_of(sink).size() >= plan.sittings.size());
        CHECK(sink.music().size() >= plan.sittings.size());
    }
}

TEST_CASE("a sitting for each scale is one for every chord in its context", "[book]") {
    BookOptions options;
    options.plan = find_plan("scale-a-week");
    CHECK(headings_of(book_by(options)) == std::vector<std::string>{"Week 1", "Week 2", "Week 3", "Week 4"});
}

TEST_CASE("the chords that sound longest come first, the next sitting takes the others", "[book]") {
    Diagnostics diagnostics;
    const auto plans = plans_of(
        "[[plan]]\nid = \"two\"\ntitle = \"Two\"\n"
        "[[plan.sitting]]\ntitle = \"One\"\nmost = 1\n"
        "[[plan.sitting]]\ntitle = \"Two\"\nchords = \"next\"\n"
        "[[plan.sitting]]\ntitle = \"Three\"\nchords = \"same\"\n",
        diagnostics);
    REQUIRE(plans.size() == 1);
    BookOptions options;
    options.plan = &plans[0];
    const std::vector<std::string> names = section_names(book_by(options));
    CHECK(names == std::vector<std::string>{"Bbmaj7", "Cm7", "F7(b9)", "G7alt", "Cm7", "F7(b9)", "G7alt"});
}

TEST_CASE("rounds from memory have their answers at the back, under the same numbers", "[book]") {
    BookOptions options;
    options.order = Order::Mixed;
    options.memory = Memory::Cell;
    const RecordingSink sink = book_by(options);
    const auto notes_in = [](const Drill& piece) {
        return std::ranges::count_if(piece.music.front().events, [](const Event& event) {
            return std::holds_alternative<Sounded>(event.what);
        });
    };
    std::map<PieceNumber, std::vector<const Drill*>> by_number;
    for (const Drill* piece : sink.all<Drill>()) by_number[piece->number].push_back(piece);
    REQUIRE_FALSE(by_number.empty());
    for (const auto& [number, pieces] : by_number) {
        INFO(in_words(number));
        REQUIRE(pieces.size() == 2);
        CHECK(heading_of(*pieces[0]).title == heading_of(*pieces[1]).title);
        CHECK(notes_in(*pieces[0]) < notes_in(*pieces[1]));
    }
}

TEST_CASE("in mixed order every round gives each chord another drill", "[book]") {
    BookOptions options;
    options.order = Order::Mixed;
    options.with_line = false;
    const RecordingSink sink = book_by(options);
    const auto drills = sink.all<Drill>();
    REQUIRE(drills.size() == 8);  // 2 drills x 4 chords
    CHECK(heading_of(*drills[0]).title == "Cm7: in thirds");
    CHECK(heading_of(*drills[0]).remark.starts_with("C Dorian"));
    CHECK(drills[1]->id == "triads");
    CHECK(heading_of(*drills[4]).title.find("Cm7: triads") != std::string::npos);
    const auto* round = std::get_if<RoundHead>(&sink.all<SectionStart>()[0]->head);
    REQUIRE(round != nullptr);
    CHECK(round->round == 1);
    CHECK(sink.all<ScaleTable>()[0]->rows.empty());
}

TEST_CASE("before a chord with colours comes its plain seventh chord", "[book]") {
    BookOptions options;
    options.basic_first = true;
    const std::vector<std::string> names = section_names(book_by(options));
    CHECK(names == std::vector<std::string>{"Cm7", "F7", "F7(b9)", "Bbmaj7", "G7", "G7alt"});
}

TEST_CASE("a memory page keeps the first bar, and the whole drill is among the answers under its number",
          "[book]") {
    for (const Memory memory : {Memory::Cell, Memory::Symbol}) {
        BookOptions options;
        options.memory = memory;
        options.with_line = false;
        const RecordingSink sink = book_by(options);
        const auto music = sink.music();
        REQUIRE(music.size() == 16);
        for (std::size_t i = 0; i < 8; ++i) {
            CHECK(has_notes(*music[i], 0) == (memory == Memory::Cell));
            for (std::size_t m = 1; m < music[i]->measures.size(); ++m) {
                CHECK_FALSE(has_notes(*music[i], m));
                if (memory == Memory::Symbol) CHECK_FALSE(music[i]->measures[m].new_system);
            }
            CHECK(sink.all<Drill>()[i + 8]->number == sink.all<Drill>()[i]->number);
            CHECK(music[i + 8]->measures.size() == music[i]->measures.size());
            CHECK(has_notes(*music[i + 8], 1));
            CHECK(sink.all<Drill>()[i + 8]->boxes.empty());
        }
        CHECK(sink.all<AnswersStart>().size() == 1);
        const auto heads = sink.heads();
        for (std::size_t i = 0; i < heads.size(); ++i)
            CHECK(heads[i]->is_from_memory == (i < heads.size() / 2));
    }
}

TEST_CASE("the boxes of a book are parts of the goal tempo", "[book]") {
    BookOptions options;
    options.goal_tempo = 110;
    options.tempos = {50, 100};
    const RecordingSink sink = book_by(options);
    for (const Drill* drill : sink.all<Drill>()) {
        CHECK(labels_of(drill->boxes) == std::vector<std::string>{"at 54", "at 110", "from memory"});
        CHECK(drill->boxes.tempos == std::vector<int>{54, 110});
    }
}

TEST_CASE("no box of a drill is faster than its notes allow, whatever the goal", "[book]") {
    BookOptions options;
    options.goal_tempo = 390;
    options.tempos = {50, 100};
    const RecordingSink sink = book_by(options);
    REQUIRE_FALSE(sink.all<Drill>().empty());
    for (const Drill* drill : sink.all<Drill>()) CHECK(drill->boxes.tempos.back() < 390);
}

TEST_CASE("faults of a plan are reported at their place", "[book]") {
    Diagnostics diagnostics;
    const auto plans = plans_of(
        "[[plan]]\nid = \"x\"\ntitle = \"X\"\n[[plan.sitting]]\ntitle = \"One\"\ndrills = [\"thirs\"]\n"
        "tempos = [80, 60]\nordr = \"mixed\"\n",
        diagnostics);
    CHECK(plans.empty());
    std::string said;
    for (const Diagnostic& diagnostic : diagnostics.all()) said += render(diagnostic);
    CHECK(said.find("my.toml:6:") != std::string::npos);
    CHECK(said.find("did you mean 'thirds'?") != std::string::npos);
    CHECK(said.find("my.toml:7:") != std::string::npos);
    CHECK(said.find("did you mean 'order'?") != std::string::npos);
}

TEST_CASE("the plan in docs/plans.md is one", "[book]") {
    std::ifstream file{std::string{SHEDBOOK_SOURCE_DIR} + "/docs/plans.md"};
    std::stringstream text;
    text << file.rdbuf();
    const std::string page = text.str();
    const std::size_t from = page.find("```toml\n") + 8;
    Diagnostics diagnostics;
    const auto plans = plans_of(page.substr(from, page.find("```", from) - from), diagnostics);
    CHECK_FALSE(diagnostics.has_errors());
    REQUIRE(plans.size() == 1);
    CHECK(plans[0].sittings.size() == 2);
    CHECK(plans[0].sittings[1].order == Order::Mixed);
}

}  // namespace shedbook
