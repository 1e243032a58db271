// Which page everything in a book stands on: known before the first page is engraved, because the contents
// come first and every chord begins where no page has to be turned.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "shedbook/notation/document_words.h"
#include "shedbook/notation/pieces.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// What follows the changes of a tune, in order: a section of drills, or an etude. It points into the
// document.
struct PlannedSection {
    std::variant<const SectionStart*, const Etude*> what;
    int key = 0;                            // among all sections of the document, from 0 and in its order
    const SittingStart* sitting = nullptr;  // that it belongs to; null: none
    std::vector<const Drill*> drills;
    const UnitBars* bars = nullptr;   // of a unit; null: not shown
    std::vector<const Etude*> lines;  // of a unit
    std::vector<double> rooms;        // of each piece, or of the etude alone: in systems
    int first_page = 0;
    int pages = 0;
    std::vector<std::size_t> turns;            // pieces that begin a new page; empty: the engraver may choose
    std::vector<std::size_t> with_more_lines;  // pieces, where the page has room
    int empty_staves = 0;                      // on what is left of its last page
    bool is_tight = false;                     // its staves moved together, or it would not fit
    double wide = 1;                           // see Fault
    bool is_answer = false;                    // of what is played from memory
    bool shares_page = false;                  // stands below the section before it
    [[nodiscard]] const Etude* etude() const;  // null: a section of drills
    [[nodiscard]] const SectionStart* section() const;  // null: an etude
    [[nodiscard]] bool is_unit() const;
    [[nodiscard]] const WrittenMusic& first_music() const;  // of a section that has pieces
};

// Of the scale table: whole ones, in as many lines as they take, or the first of what they say.
enum class Reasons { Whole, Short };
// The scale table on pages of its own.
struct TablePages {
    int pages = 0;
    std::size_t rows_a_page = 0;  // of two entries each
    double gap = 0;               // below each row, in staff spaces
    Reasons reasons = Reasons::Whole;
};

struct PlannedTune {
    std::string title;
    const Changes* changes = nullptr;  // null: none
    const ScaleTable* scales = nullptr;
    const TuneOverview* overview = nullptr;
    std::vector<PlannedSection> sections;
    int overview_page = 0;  // 0: it has none, or stands on the cover
    int changes_page = 0;
    int changes_pages = 0;  // in all: an odd number where a spread follows, which begins on an even page
    int changes_used = 0;   // by the rhythm part
    int table_pages = 0;    // by the scale table, where it has pages of its own
    bool table_apart = false;
    TablePages table;
    int empty_staves = 0;  // below a short form and its table
    double wide = 1;       // of the changes, see Fault
    // The page of the section of that number.
    [[nodiscard]] int page_of(int section) const;
    // Where the scale table begins.
    [[nodiscard]] int table_page() const { return changes_page + (table_apart ? changes_used : 0); }
    // Some scales have drills, and others stand in the table only.
    [[nodiscard]] bool drills_some_scales() const;
};

// A document in the order of its pages.
struct PagePlan {
    const DocumentHead* head = nullptr;
    const Cover* cover = nullptr;  // null: a sheet, with neither contents nor log
    const Caution* caution = nullptr;
    const LeadSheet* lead_sheet = nullptr;
    bool has_log = false;
    bool has_tight_cover = false;  // where the form stands on it
    int contents_page = 2;
    int contents_pages = 0;  // an odd number, with the tables behind them
    int contents_used = 0;
    int contents_lines = 0;
    // The drills of every chord, where all have the same: they are named once.
    std::vector<const Drill*> shared_drills;
    bool has_two_columns = false;  // the contents
    int tables_page = 0;
    std::vector<const PlanTable*> tables;
    std::vector<const SittingStart*> sittings;  // as the rows of all tables have them
    int log_page = 0;
    std::vector<PlannedTune> tunes;
    [[nodiscard]] bool is_book() const { return cover != nullptr; }
};

// A kind of paper: the engraver's words for it, and what fits on a page in systems; from measurement.
struct PageRoom {
    std::string_view paper;  // the engraver's name of it
    std::string_view setup;  // what stands before and behind the common style
    std::string_view own_style;
    bool two_sided = true;  // what is more than a page begins on an even one
    double staff = 20.5;    // its height, in points
    int with_head = 8;
    int without_head = 9;
    double slack = 0.3;  // part of a system that is found between the others
    int etude = 10;
    int changes = 9;
    int changes_with_table = 6;  // with twelve entries of the scale table below
    int thin = 6;                // fewer systems than this look lost on a page
    int contents_lines = 54;
    double table_height = 136;  // of the scale table
    double table_column = 50;   // where its second column begins, in staff spaces
    int sitting_lines = 46;     // of text in a table of sittings
    int log_rows = 24;
    double title_spread = 1;   // of the white on the title page
    double text_width = 98;    // in staff spaces
    double cover_height = 98;  // for the form on the cover, in staff spaces
};
[[nodiscard]] const PageRoom& room_of(Paper paper);

// What did not fit when it was engraved, and how much looser to plan it. Keys: those of sections, or
// key_of_changes.
struct Fault {
    int full = 0;     // how often it was over-full
    double wide = 1;  // its widest system, as a multiple of the line
};
using Faults = std::map<int, Fault>;
[[nodiscard]] constexpr int key_of_changes(std::size_t tune) {
    return -1 - static_cast<int>(tune);
}
// Of the first page, where the form stands on it.
inline constexpr int kKeyOfCover = -1'000'000;

// What a document holds, still without pages: the one walk over its blocks, for the plan and for those who
// write by it. Points into the document, which must outlive it.
[[nodiscard]] PagePlan contents_of(const Document& document);
// The head of a section has the only chord of its music: that is not said again over every line.
[[nodiscard]] bool says_its_chords(const SectionStart& section, const WrittenMusic& music);
// Gives everything its page.
[[nodiscard]] PagePlan planned(PagePlan contents, const PageRoom& room, const Faults& faults = {});

// How many lines of text a row of a table takes, with the gap below it.
[[nodiscard]] std::size_t lines_of(const PlanRowWords& row);
// The rows with which the pages of a table begin, and the number of those pages.
[[nodiscard]] std::vector<std::size_t> page_starts(const PlanTable& table, const PageRoom& room);
[[nodiscard]] int table_pages(const PlanTable& table, const PageRoom& room);
// The names of drills in rows as long as the contents hold.
[[nodiscard]] std::vector<std::string> rows_of_names(const std::vector<const Drill*>& drills);

}  // namespace shedbook
