// Which page everything in a book stands on: known before the first page is engraved, because the contents
// come first and every chord begins where no page has to be turned.
#pragma once

#include <string>
#include <vector>

#include "shedbook/notation/document.h"

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
    int empty_staves = 0;  // on what is left of its last page
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
    // The sections that the scale table lists.
    [[nodiscard]] std::vector<const PlannedSection*> listed() const;
};

struct PagePlan {
    bool is_book = true;
    int contents_page = 2;
    int contents_pages = 0;  // an odd number, with the tables behind them
    int contents_used = 0;
    int tables_page = 0;
    std::vector<Table> tables;
    int log_page = 0;
    std::vector<PlannedTune> tunes;
};

// What fits on a page, in systems; from measurement on A4 and Letter at a staff of 7.2 mm.
struct PageRoom {
    int with_head = 8;
    int without_head = 9;
    int etude = 8;  // it has no drill headings, but looks best so
    int contents_lines = 52;
    int table_rows = 13;    // of the scale table
    int sitting_rows = 11;  // of a table of sittings
};

// Collects what a document holds, without its notes.
class PagePlanner : public BlockSink {
  public:
    void begin(const DocumentHead& head) override;
    void take(const Block& block) override;
    void finish() override {}
    // Gives everything its page.
    [[nodiscard]] PagePlan plan(const PageRoom& room) const;

  private:
    PagePlan collected_;
    std::string sitting_;
};

// Pages of a table.
[[nodiscard]] int table_pages(const Table& table, const PageRoom& room);
// Lines of the contents that a tune takes.
[[nodiscard]] int contents_lines(const PlannedTune& tune);

}  // namespace shedbook
