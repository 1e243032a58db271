// Kinds of paper, and what each has room for.
#include <array>

#include "page_plan.h"
#include "shedbook/base/enum_table.h"

namespace shedbook {
namespace {

constexpr std::string_view kTabletSetup =
    "#(set! paper-alist (cons '(\"tablet\" . (cons (* 260 mm) (* 195 mm))) paper-alist))\n";
// A page at a time, and closer to the eye than paper on a stand, but on glass: staves of 8.4 mm.
constexpr std::string_view kTabletStyle =
    "#(set-global-staff-size 24)\n\\paper { two-sided = ##f left-margin = 10\\mm right-margin = 10\\mm "
    "top-margin = 8\\mm bottom-margin = 7\\mm #(define fonts (set-global-fonts #:roman \"C059\" #:sans "
    "\"Nimbus Sans\" #:factor (/ staff-height pt 20))) }\n";

std::array<PageRoom, 3> rooms() {
    PageRoom a4;
    a4.paper = "a4";
    PageRoom letter;
    letter.paper = "letter";
    letter.without_head = 8;
    letter.slack = 0;
    letter.etude = 9;
    letter.contents_lines = 49;
    letter.table_height = 122;
    letter.table_column = 51;
    letter.log_rows = 21;
    letter.title_spread = 0.8;
    letter.text_width = 101;
    letter.cover_height = 84;
    PageRoom tablet;
    tablet.paper = "tablet";
    tablet.setup = kTabletSetup;
    tablet.own_style = kTabletStyle;
    tablet.two_sided = false;
    tablet.staff = 24;
    tablet.with_head = 4;
    tablet.without_head = 5;
    tablet.etude = 4;
    tablet.changes = 5;
    tablet.changes_with_table = 0;
    tablet.thin = 3;
    tablet.contents_lines = 26;
    tablet.table_height = 68;
    tablet.table_column = 58;
    tablet.sitting_lines = 22;
    tablet.log_rows = 11;
    tablet.title_spread = 0.3;
    tablet.text_width = 113;
    tablet.cover_height = 0;
    return {a4, letter, tablet};
}

}  // namespace

const PageRoom& room_of(Paper paper) {
    static const std::array<PageRoom, 3> kRooms = rooms();
    static_assert(count_of<Paper>() == kRooms.size());
    return kRooms[row_index(paper)];
}

}  // namespace shedbook
