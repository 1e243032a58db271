#include "page_plan.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>
#include <span>

#include "lilypond_music.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"

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
    const double room = std::accumulate(section.rooms.begin(), section.rooms.end(), 0.0);
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
    for (const double drill : section.rooms) {
        const double most = (page == 1 ? room.with_head : room.without_head) + stretch;
        if (used > 0 && used + drill > most) {
            ++page;
            used = 0;
        }
        used += drill;
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
    if (section.etude() != nullptr) {
        const int systems = systems_of(section);
        section.pages = divided_up(systems, room.etude);
        if (is_book && !section.is_tight) fill_up(section, systems, section.pages * room.etude, room.thin);
        return;
    }
    const auto more = [&](int pages) { return pages == 1 ? 2 : pages + (is_book && room.two_sided ? 2 : 1); };
    int pages = 1;
    const int most = static_cast<int>(section.rooms.size()) + 1;
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
    const auto can_share = [](const PlannedSection& s) { return s.etude() == nullptr && s.pages == 1; };
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
    if (tune.changes == nullptr) return;
    const int systems = count_systems(tune.changes->music.front());
    const int rows = tune.scales != nullptr ? divided_up(static_cast<int>(tune.scales->rows.size()), 2) : 0;
    // A row of the table takes about two thirds of a system.
    tune.table_apart = rows > 0 && (fault > 0 || systems * 3 + rows * 2 > room.changes_with_table * 3 + 12 ||
                                    room.changes_with_table == 0);
    tune.changes_used = divided_up(systems, room.changes - std::max(0, fault - 1));
    if (fault == 0 && !tune.table_apart)
        tune.empty_staves =
            std::clamp(room.changes - 1 - systems - divided_up(rows * 2, 3), 0, kMostForMelody);
    tune.table_pages = tune.table_apart ? divided_up(rows, room.table_rows) : 0;
    tune.changes_pages = tune.changes_used + tune.table_pages;
    const bool has_spread = !tune.sections.empty() && tune.sections.front().pages > 1;
    if (has_spread && room.two_sided) tune.changes_pages = round_up_to_odd(tune.changes_pages);
}

std::string name_in_contents(const Drill* drill) {
    return heading_of(*drill).title;
}

int contents_lines(const PlannedTune& tune, bool with_drills) {
    int lines = tune.title.empty() ? 1 : 2;
    const SittingStart* sitting = nullptr;
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

bool have_same_names(const std::vector<const Drill*>& a, const std::vector<const Drill*>& b) {
    return std::ranges::equal(a, b, {}, name_in_contents, name_in_contents);
}

// The drills of every chord of the book; none if they differ.
std::vector<const Drill*> drills_of_all(const PagePlan& plan) {
    const std::vector<const Drill*>* first = nullptr;
    for (const PlannedTune& tune : plan.tunes) {
        for (const PlannedSection& section : tune.sections) {
            if (section.etude() != nullptr) continue;
            if (first != nullptr && !have_same_names(*first, section.drills)) return {};
            first = &section.drills;
        }
    }
    return first != nullptr ? *first : std::vector<const Drill*>{};
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
    for (const PlanTable* table : plan.tables) plan.contents_pages += table_pages(*table, room);
    if (room.two_sided) plan.contents_pages = round_up_to_odd(plan.contents_pages);
}

// One walk over the blocks of a document.
class Collector {
  public:
    explicit Collector(PagePlan& plan) : plan_{plan} {}

    void operator()(const Cover& cover) { plan_.cover = &cover; }
    void operator()(const Caution& caution) { plan_.caution = &caution; }
    void operator()(const PlanTable& table) { plan_.tables.push_back(&table); }
    void operator()(const LogPage& /*on the last page*/) { plan_.has_log = true; }
    void operator()(const ChapterStart& start) {
        if (start.number > 1) plan_.tunes.emplace_back();
        tune().title = start.chapters > 1 ? start.tune.title : plan_.head->title;
    }
    void operator()(const ChapterEnd& /*the next one starts itself*/) {}
    void operator()(const SittingStart& start) { sitting_ = &start; }
    void operator()(const SittingEnd& /*what follows belongs to none*/) { sitting_ = nullptr; }
    void operator()(const AnswersStart& /*named like a sitting*/) { sitting_ = &answers(); }
    void operator()(const AnswersEnd& /*what follows belongs to none*/) { sitting_ = nullptr; }
    void operator()(const SectionStart& start) { add({&start, sitting_, {}, {}, {}}); }
    void operator()(const SectionEnd& /*nothing stands between*/) {}
    void operator()(const Drill& drill) {
        tune().sections.back().drills.push_back(&drill);
        tune().sections.back().rooms.push_back(room_on_page(drill.music.front()));
    }
    void operator()(const Etude& etude) {
        const double room = room_on_page(etude.music.front());
        if (etude.number.piece == 0) return add({&etude, sitting_, {}, {}, {room}});
        tune().sections.back().lines.push_back(&etude);
        tune().sections.back().rooms.push_back(room);
    }
    void operator()(const Changes& changes) { tune().changes = &changes; }
    void operator()(const LeadSheet& sheet) { plan_.lead_sheet = &sheet; }
    void operator()(const ScaleTable& table) { tune().scales = &table; }

  private:
    static const SittingStart& answers() {
        static const SittingStart kAnswers{"Answers", "", ""};
        return kAnswers;
    }
    [[nodiscard]] PlannedTune& tune() { return plan_.tunes.back(); }
    void add(PlannedSection section) { tune().sections.push_back(std::move(section)); }

    PagePlan& plan_;
    const SittingStart* sitting_ = nullptr;
};

}  // namespace

const Etude* PlannedSection::etude() const {
    const auto* const out = std::get_if<const Etude*>(&what);
    return out != nullptr ? *out : nullptr;
}

const SectionStart* PlannedSection::section() const {
    const auto* const out = std::get_if<const SectionStart*>(&what);
    return out != nullptr ? *out : nullptr;
}

int PlannedTune::page_of(int section) const {
    const auto at = std::ranges::find_if(sections, [&](const PlannedSection& planned) {
        return planned.section() != nullptr && planned.section()->number == section;
    });
    return at != sections.end() ? at->first_page : 0;
}

PagePlan contents_of(const Document& document) {
    PagePlan out;
    out.head = &document.head;
    out.tunes.emplace_back();
    out.tunes.back().title = document.head.title;
    Collector collector{out};
    for (const Block& block : document.blocks) std::visit(collector, block);
    return out;
}

const PageRoom& room_of(Paper paper) {
    static const std::array<PageRoom, 3> kRooms = rooms();
    static_assert(count_of<Paper>() == kRooms.size());
    return kRooms[row_index(paper)];
}

std::vector<std::size_t> page_starts(const PlanTable& table, const PageRoom& room) {
    constexpr std::size_t kCharactersALine = 95;
    std::vector<std::size_t> out{0};
    std::size_t used = 2;  // the title of the table
    const std::vector<PlanRowWords> rows = rows_in_words(table);
    for (std::size_t r = 0; r < rows.size(); ++r) {
        std::size_t lines = 2;  // the heading of the row and the gap below
        for (const std::string& line : rows[r].lines)
            lines += (count_characters(line) + kCharactersALine) / kCharactersALine;
        if (used + lines > static_cast<std::size_t>(room.sitting_lines) && r > out.back()) {
            out.push_back(r);
            used = 0;
        }
        used += lines;
    }
    return out;
}

std::vector<std::string> rows_of_names(const std::vector<const Drill*>& drills) {
    constexpr std::size_t kMost = 100;
    std::vector<std::string> out;
    for (const Drill* drill : drills) {
        const std::string name = name_in_contents(drill);
        if (out.empty() || count_characters(out.back()) + count_characters(name) > kMost) {
            out.push_back(name);
        } else {
            out.back() += "   \u00B7   " + name;
        }
    }
    return out;
}

int table_pages(const PlanTable& table, const PageRoom& room) {
    return static_cast<int>(page_starts(table, room).size());
}

PagePlan planned(PagePlan out, const PageRoom& room, const Faults& faults) {
    const auto fault_of = [&](int key) {
        const auto found = faults.find(key);
        return found == faults.end() ? 0 : found->second;
    };
    int page = 1;
    if (out.is_book()) {
        give_contents_pages(out, room);
        page = out.contents_page + out.contents_pages;
    }
    int number = 0;
    for (std::size_t t = 0; t < out.tunes.size(); ++t) {
        PlannedTune& tune = out.tunes[t];
        const int first_number = number;
        for (PlannedSection& section : tune.sections)
            give_pages(section, room, out.is_book(), fault_of(number++));
        share_pages(tune.sections, room,
                    [&](std::size_t section) { return fault_of(first_number + static_cast<int>(section)); });
        give_changes_pages(tune, room, fault_of(key_of_changes(t)));
        if (tune.changes_pages > 0 && page % 2 == 0 && room.two_sided) ++page;
        tune.changes_page = page;
        page += tune.changes_pages;
        for (PlannedSection& section : tune.sections) {
            // Two pages that belong together lie beside each other.
            if (section.pages > 1 && page % 2 == 1 && out.is_book() && room.two_sided) ++page;
            if (section.shares_page) page -= section.pages;
            section.first_page = page;
            page += section.pages;
        }
    }
    out.log_page = page;
    return out;
}

}  // namespace shedbook
