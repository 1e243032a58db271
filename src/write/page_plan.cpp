#include "page_plan.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <span>

#include "lilypond_music.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr int kMostEmptyStaves = 14;
constexpr int kMostForMelody = 4;
constexpr double kRounding = 0.3;  // a third of a system is found between the others

int round_up_to_odd(int pages) {
    return pages % 2 == 0 ? pages + 1 : pages;
}
int divided_up(int a, int b) {
    return (a + b - 1) / b;
}

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
    letter.table_rows = 12;
    letter.table_height = 116;
    letter.table_column = 51;
    letter.log_rows = 21;
    letter.title_spread = 0.8;
    PageRoom tablet;
    tablet.paper = "tablet";
    tablet.setup = kTabletSetup;
    tablet.own_style = kTabletStyle;
    tablet.two_sided = false;
    tablet.with_head = 4;
    tablet.without_head = 5;
    tablet.etude = 4;
    tablet.changes = 5;
    tablet.changes_with_table = 0;
    tablet.thin = 3;
    tablet.contents_lines = 26;
    tablet.table_rows = 7;
    tablet.table_height = 70;
    tablet.table_column = 58;
    tablet.sitting_lines = 22;
    tablet.log_rows = 11;
    tablet.title_spread = 0.3;
    return {a4, letter, tablet};
}

// In whole systems.
int systems_of(const PlannedSection& section) {
    double room = 0;
    for (const PlannedDrill& drill : section.drills) room += drill.room;
    return static_cast<int>(std::ceil(room - kRounding));
}

int capacity(int pages, const PageRoom& room) {
    return room.with_head + (pages - 1) * room.without_head;
}

// Staves for a line of the player's own, so that no page stays half empty.
void fill_up(PlannedSection& section, int systems, int most, int thin) {
    const int wanted = section.pages == 1 ? thin + 1 : most - 3;
    section.empty_staves = std::clamp(wanted - systems, 0, kMostEmptyStaves);
    if (systems + section.empty_staves > most) section.empty_staves = 0;
}

// Whether the drills fit on so many pages, in order, none of them split.
bool fits(const PlannedSection& section, int pages, const PageRoom& room, double stretch) {
    int page = 1;
    double used = 0;
    for (const PlannedDrill& drill : section.drills) {
        const double most = (page == 1 ? room.with_head : room.without_head) + stretch;
        if (used > 0 && used + drill.room > most) {
            ++page;
            used = 0;
        }
        used += drill.room;
        if (used > (page == 1 ? room.with_head : room.without_head) + stretch) return false;
    }
    return page <= pages;
}

// What fits only just is set tighter; what did not fit although it should have, first tighter, then with more
// room.
void give_pages(PlannedSection& section, PageRoom room, bool is_book, int fault) {
    constexpr double kTighter = 1;
    section.is_tight = fault > 0;
    const int fewer = std::max(0, fault - 1);
    room.with_head -= fewer;
    room.without_head -= fewer;
    room.etude -= fewer;
    if (section.is_etude) {
        const int systems = static_cast<int>(std::ceil(section.etude_room - kRounding));
        section.pages = divided_up(systems, room.etude);
        if (is_book && !section.is_tight) fill_up(section, systems, section.pages * room.etude, room.thin);
        return;
    }
    const auto more = [&](int pages) { return pages == 1 ? 2 : pages + (is_book && room.two_sided ? 2 : 1); };
    int pages = 1;
    const int most = static_cast<int>(section.drills.size()) + 1;
    while (pages < most && !fits(section, pages, room, room.slack)) {
        // A page turn in the middle of a chord is worse than staves that stand close.
        if (room.two_sided && pages == 2 && fits(section, pages, room, kTighter)) {
            section.is_tight = true;
            break;
        }
        pages = more(pages);
    }
    section.pages = pages;
    if (!section.is_tight) fill_up(section, systems_of(section), capacity(section.pages, room), room.thin);
}

// Short sections of one sitting stand on one page, the room that is left at its end.
void share_pages(std::span<PlannedSection> sections, const PageRoom& room,
                 const std::function<int(std::size_t)>& fault_of) {
    constexpr double kHead = 1.2;  // of a section, in systems
    const auto height = [](const PlannedSection& s) { return kHead + systems_of(s); };
    const auto can_share = [](const PlannedSection& s) { return !s.is_etude && s.pages == 1; };
    for (std::size_t first = 0; first < sections.size();) {
        const double most = room.without_head + room.slack - std::max(0, fault_of(first) - 1);
        double used = height(sections[first]);
        std::size_t next = first + 1;
        for (; can_share(sections[first]) && next < sections.size(); ++next) {
            PlannedSection& section = sections[next];
            if (!can_share(section) || section.sitting != sections[first].sitting ||
                used + height(section) > most)
                break;
            used += height(section);
            section.shares_page = true;
            sections[next - 1].empty_staves = 0;
            section.empty_staves = std::clamp(room.thin + 1 - static_cast<int>(used), 0, kMostEmptyStaves);
        }
        first = next;
    }
}

void give_changes_pages(PlannedTune& tune, const PageRoom& room, int fault) {
    if (tune.change_systems == 0) return;
    const int rows = divided_up(static_cast<int>(tune.listed().size()), 2);
    // A row of the table takes about two thirds of a system.
    tune.table_apart =
        rows > 0 && (fault > 0 || tune.change_systems * 3 + rows * 2 > room.changes_with_table * 3 + 12 ||
                     room.changes_with_table == 0);
    tune.changes_used = divided_up(tune.change_systems, room.changes - std::max(0, fault - 1));
    if (fault == 0 && !tune.table_apart)
        tune.empty_staves =
            std::clamp(room.changes - 1 - tune.change_systems - divided_up(rows * 2, 3), 0, kMostForMelody);
    tune.table_pages = tune.table_apart ? divided_up(rows, room.table_rows) : 0;
    tune.changes_pages = tune.changes_used + tune.table_pages;
    const bool has_spreads =
        std::ranges::any_of(tune.sections, [](const PlannedSection& s) { return s.pages > 1; });
    if (has_spreads && room.two_sided) tune.changes_pages = round_up_to_odd(tune.changes_pages);
}

int contents_lines(const PlannedTune& tune, bool with_drills) {
    int lines = tune.title.empty() ? 1 : 2;
    std::string sitting;
    for (const PlannedSection& section : tune.sections) {
        lines += 1 + (with_drills ? static_cast<int>(rows_of_names(section.drills).size()) : 0);
        if (section.sitting != sitting) ++lines;
        sitting = section.sitting;
    }
    return lines + 1;
}

int contents_lines(const PagePlan& plan, bool with_drills) {
    int lines = 3;  // the heading, and the log
    for (const PlannedTune& tune : plan.tunes) lines += contents_lines(tune, with_drills);
    return lines;
}

bool have_same_names(const std::vector<PlannedDrill>& a, const std::vector<PlannedDrill>& b) {
    return std::ranges::equal(a, b, {}, &PlannedDrill::title, &PlannedDrill::title);
}

// The drills of every chord of the book; none if they differ.
std::vector<PlannedDrill> drills_of_all(const PagePlan& plan) {
    const std::vector<PlannedDrill>* first = nullptr;
    for (const PlannedTune& tune : plan.tunes) {
        for (const PlannedSection& section : tune.sections) {
            if (section.is_etude) continue;
            if (first != nullptr && !have_same_names(*first, section.drills)) return {};
            first = &section.drills;
        }
    }
    return first != nullptr ? *first : std::vector<PlannedDrill>{};
}

void give_contents_pages(PagePlan& plan, const PageRoom& room) {
    int lines = contents_lines(plan, true);
    if (lines > room.contents_lines) {
        plan.shared_drills = drills_of_all(plan);
        if (!plan.shared_drills.empty())
            lines =
                contents_lines(plan, false) + 1 + static_cast<int>(rows_of_names(plan.shared_drills).size());
    }
    plan.contents_lines = lines;
    plan.contents_used = divided_up(lines, room.contents_lines);
    plan.tables_page = plan.contents_page + plan.contents_used;
    plan.contents_pages = plan.contents_used;
    for (const Table& table : plan.tables) plan.contents_pages += table_pages(table, room);
    if (room.two_sided) plan.contents_pages = round_up_to_odd(plan.contents_pages);
}

}  // namespace

std::vector<const PlannedSection*> PlannedTune::listed() const {
    std::vector<const PlannedSection*> out;
    for (const PlannedSection& section : sections) {
        if (!section.is_etude && section.head.is_listed) out.push_back(&section);
    }
    return out;
}

const PageRoom& room_of(Paper paper) {
    static const std::array<PageRoom, 3> kRooms = rooms();
    static_assert(count_of<Paper>() == kRooms.size());
    return kRooms[row_index(paper)];
}

std::vector<std::size_t> page_starts(const Table& table, const PageRoom& room) {
    constexpr std::size_t kCharactersALine = 95;
    std::vector<std::size_t> out{0};
    std::size_t used = 2;  // the title of the table
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        std::size_t lines = 2;  // the heading of the row and the gap below
        for (std::size_t c = 1; c < table.rows[r].size(); ++c) {
            const std::string label = c < table.columns.size() ? table.columns[c] : "";
            const std::string& cell = table.rows[r][c];
            if (!cell.empty())
                lines += (count_characters(label + cell) + kCharactersALine) / kCharactersALine;
        }
        if (used + lines > static_cast<std::size_t>(room.sitting_lines) && r > out.back()) {
            out.push_back(r);
            used = 0;
        }
        used += lines;
    }
    return out;
}

std::vector<std::string> rows_of_names(const std::vector<PlannedDrill>& drills) {
    constexpr std::size_t kMost = 100;
    std::vector<std::string> out;
    for (const PlannedDrill& drill : drills) {
        const std::string name = drill.title.substr(0, drill.title.find(" ("));
        if (out.empty() || count_characters(out.back()) + count_characters(name) > kMost) {
            out.push_back(name);
        } else {
            out.back() += "   \u00B7   " + name;
        }
    }
    return out;
}

int table_pages(const Table& table, const PageRoom& room) {
    return static_cast<int>(page_starts(table, room).size());
}

void PagePlanner::begin(const DocumentHead& head) {
    sitting_.clear();
    collected_ = {};
    collected_.is_book = head.is_book;
    collected_.tunes.emplace_back();
    collected_.tunes.back().title = head.title;
}

void PagePlanner::take(const Block& block) {
    PlannedTune& tune = collected_.tunes.back();
    if (const auto* heading = std::get_if<Heading>(&block)) {
        sitting_ = heading->level == 1 ? std::string{} : heading->text;
        if (heading->level != 1) return;
        if (tune.sections.empty() && tune.change_systems == 0) {
            tune.title = heading->text;
        } else {
            collected_.tunes.emplace_back();
            collected_.tunes.back().title = heading->text;
        }
    } else if (const auto* changes = std::get_if<RhythmPart>(&block)) {
        tune.change_systems = count_systems(changes->music);
    } else if (const auto* table = std::get_if<Table>(&block)) {
        collected_.tables.push_back(*table);
    } else if (const auto* head = std::get_if<ChordHead>(&block)) {
        PlannedSection& section = tune.sections.emplace_back();
        section.head = *head;
        section.sitting = sitting_;
    } else if (const auto* music = std::get_if<WrittenMusic>(&block)) {
        if (music->open_key && !tune.sections.empty() && !tune.sections.back().is_etude) {
            tune.sections.back().drills.push_back({music->number, music->title, room_on_page(*music)});
        } else {
            PlannedSection& section = tune.sections.emplace_back();
            section.is_etude = true;
            section.title = music->title;
            section.sitting = sitting_;
            section.etude_room = room_on_page(*music);
        }
    }
}

PagePlan PagePlanner::plan(const PageRoom& room, const Faults& faults) const {
    PagePlan out = collected_;
    const auto fault_of = [&](int key) {
        const auto found = faults.find(key);
        return found == faults.end() ? 0 : found->second;
    };
    int page = 1;
    if (out.is_book) {
        give_contents_pages(out, room);
        page = out.contents_page + out.contents_pages;
    }
    int number = 0;
    for (std::size_t t = 0; t < out.tunes.size(); ++t) {
        PlannedTune& tune = out.tunes[t];
        const int first_number = number;
        for (PlannedSection& section : tune.sections)
            give_pages(section, room, out.is_book, fault_of(number++));
        share_pages(tune.sections, room,
                    [&](std::size_t section) { return fault_of(first_number + static_cast<int>(section)); });
        give_changes_pages(tune, room, fault_of(key_of_changes(t)));
        if (tune.changes_pages > 0 && page % 2 == 0 && room.two_sided) ++page;
        tune.changes_page = page;
        page += tune.changes_pages;
        for (PlannedSection& section : tune.sections) {
            // Two pages that belong together lie beside each other.
            if (section.pages > 1 && page % 2 == 1 && out.is_book && room.two_sided) ++page;
            if (section.shares_page) page -= section.pages;
            section.first_page = page;
            page += section.pages;
        }
    }
    out.log_page = page;
    return out;
}

}  // namespace shedbook
