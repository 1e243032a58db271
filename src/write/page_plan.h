// Which page everything in a book stands on: known before the first page is engraved, because the contents
// come first and every chord begins where no page has to be turned.
#pragma once

#include <limits>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/notation/document.h"
#include "shedbook/write/writers.h"

namespace shedbook {

struct PlannedDrill {
    std::string number;
    std::string title;
    double room = 1;  // in systems
};

// What follows the changes of a tune, in order: a chord with its drills, or an etude (no head, no drills).
struct PlannedSection {
    ChordHead head;
    bool is_etude = false;
    std::string title;    // of an etude
    std::string sitting;  // title of the sitting it belongs to; may be empty
    std::vector<PlannedDrill> drills;
    double etude_room = 0;  // in systems
    int first_page = 0;
    int pages = 0;
    int empty_staves = 0;      // on what is left of its last page
    bool is_tight = false;     // its staves moved together, or it would not fit
    bool shares_page = false;  // stands below the section before it
};

struct PlannedTune {
    std::string title;
    std::vector<PlannedSection> sections;
    int change_systems = 0;
    int changes_page = 0;
    int changes_pages = 0;  // in all: an odd number where spreads follow, which begin on an even page
    int changes_used = 0;   // by the rhythm part
    int table_pages = 0;    // by the scale table, where it has pages of its own
    bool table_apart = false;
    int empty_staves = 0;  // below a short form and its table
    // The sections that the scale table lists.
    [[nodiscard]] std::vector<const PlannedSection*> listed() const;
};

struct PagePlan {
    bool is_book = true;
    int contents_page = 2;
    int contents_pages = 0;  // an odd number, with the tables behind them
    int contents_used = 0;
    int contents_lines = 0;
    // The drills of every chord, where all have the same and a list under each would take a second page.
    std::vector<PlannedDrill> shared_drills;
    int tables_page = 0;
    std::vector<Table> tables;
    int log_page = 0;
    std::vector<PlannedTune> tunes;
};

// A kind of paper: the engraver's words for it, and what fits on a page in systems; from measurement.
struct PageRoom {
    std::string_view paper;  // the engraver's name of it
    std::string_view setup;  // what stands before and behind the common style
    std::string_view own_style;
    bool two_sided = true;  // what is more than a page begins on an even one
    int with_head = 8;
    int without_head = 9;
    double slack = 0.3;  // part of a system that is found between the others
    int etude = 10;
    int changes = 9;
    int changes_with_table = 6;  // with twelve entries of the scale table below
    int thin = 6;                // fewer systems than this look lost on a page
    int contents_lines = 54;
    int table_rows = 13;  // of the scale table
    double table_height = 128;
    double table_column = 50;  // where its second column begins, in staff spaces
    int sitting_lines = 46;    // of text in a table of sittings
    int log_rows = 24;
    double title_spread = 1;  // of the white on the title page
};
[[nodiscard]] const PageRoom& room_of(Paper paper);

// What did not fit when it was engraved, and how much looser to plan it. Keys: the number of a section among
// all sections of the document from 0, or key_of_changes.
using Faults = std::map<int, int>;
// Of a part whose plan cannot be loosened.
inline constexpr int kNoKey = std::numeric_limits<int>::min();
[[nodiscard]] constexpr int key_of_changes(std::size_t tune) {
    return -1 - static_cast<int>(tune);
}

// Collects what a document holds, without its notes.
class PagePlanner : public BlockSink {
  public:
    void begin(const DocumentHead& head) override;
    void take(const Block& block) override;
    void finish() override {}
    // Gives everything its page.
    [[nodiscard]] PagePlan plan(const PageRoom& room, const Faults& faults = {}) const;

  private:
    PagePlan collected_;
    std::string sitting_;
};

// The rows with which the pages of a table begin, and their number.
[[nodiscard]] std::vector<std::size_t> page_starts(const Table& table, const PageRoom& room);
// The names of drills in rows as long as the contents hold.
[[nodiscard]] std::vector<std::string> rows_of_names(const std::vector<PlannedDrill>& drills);
[[nodiscard]] int table_pages(const Table& table, const PageRoom& room);

}  // namespace shedbook
