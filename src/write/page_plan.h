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

// A chord's section, or a line through the changes (no head).
struct PlannedSection {
    ChordHead head;
    std::vector<PlannedDrill> drills;
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
    int line_page = 0;
    int line_pages = 0;
    double line_room = 0;  // in systems
};

struct PagePlan {
    bool is_book = true;
    int contents_page = 2;
    int contents_pages = 0;  // an odd number
    int contents_used = 0;
    int log_page = 0;
    std::vector<PlannedTune> tunes;
};

// What fits on a page, in systems; from measurement on A4 and Letter at a staff of 7.2 mm.
struct PageRoom {
    int with_head = 8;
    int without_head = 9;
    int line = 8;  // of a line through the changes, which has no drill headings but looks best so
    int contents_lines = 52;
    int table_rows = 13;
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
};

// Lines of the contents that a tune takes.
[[nodiscard]] int contents_lines(const PlannedTune& tune);

}  // namespace shedbook
