#include "page_plan.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>
#include <optional>
#include <span>
#include <utility>

#include "lilypond_music.h"
#include "lilypond_overview.h"
#include "more_lines.h"
#include "scale_table.h"
#include "section_pages.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

constexpr int kMostForMelody = 4;
// Of what runs over its page by little, the staves: nobody sees it.
constexpr double kSmaller = 1.05;

int round_up_to_odd(int pages) {
    return pages % 2 == 0 ? pages + 1 : pages;
}
int divided_up(int a, int b) {
    return (a + b - 1) / b;
}

// Those of the sections in front of the first that takes facing pages; nothing: none does.
std::optional<int> pages_before_spread(const PlannedTune& tune) {
    int out = 0;
    for (const PlannedSection& section : tune.sections) {
        if (section.pages > 1) return out;
        if (!section.shares_page) out += section.pages;
    }
    return std::nullopt;
}

// `page`: where they begin. What follows them in facing pages begins on an even one: the table then takes
// pages of its own, or one more.
void give_changes_pages(PlannedTune& tune, const PageRoom& room, int fault, int page) {
    if (tune.changes == nullptr) return;
    const int systems = count_systems(tune.changes->music.front());
    const int rows = tune.scales != nullptr ? divided_up(static_cast<int>(tune.scales->rows.size()), 2) : 0;
    // Two rows of words under each line of changes take their room.
    const int fewer = tune.overview != nullptr ? 1 : 0;
    tune.changes_used = divided_up(systems, room.changes - fewer);
    const std::optional<int> before = pages_before_spread(tune);
    const auto would_turn = [&](int pages) {
        return before && tune.overview != nullptr && room.two_sided && (page + pages + *before) % 2 == 1;
    };
    constexpr int kFewLines = 4;  // fewer would drift apart over a page without the table
    // Of a system, in staff spaces, where a row of the table takes two thirds of one.
    constexpr double kSystem = 14.25;
    const int most = (room.changes_with_table + 4) * tune.changes_used;
    const auto fits_below = [&](Reasons reasons) {
        tune.table.reasons = reasons;
        return systems + height_below_changes(*tune.scales, reasons) / kSystem <= most;
    };
    const bool stands_below = rows > 0 && room.changes_with_table > 0 &&
                              !(systems >= kFewLines && would_turn(tune.changes_used)) &&
                              (fits_below(Reasons::Whole) || fits_below(Reasons::Short));
    // What runs over by a little is set closer and smaller before it takes a page more.
    const bool is_close = stands_below && fault == 1;
    if (is_close) tune.wide = std::max(tune.wide, kSmaller);
    if (is_close) tune.table.reasons = Reasons::Short;
    tune.table.gap = is_close ? kCloseBelowChanges : kBelowChanges;
    tune.table_apart = rows > 0 && (!stands_below || fault > 1);
    const int looser = std::max(0, fault - (stands_below ? 2 : 1));
    tune.changes_used = divided_up(systems, room.changes - fewer - looser);
    if (tune.table_apart) {
        constexpr int kFewRows = 6;
        tune.table = pages_of_table(*tune.scales, room);
        if (rows > kFewRows && would_turn(tune.changes_used + tune.table.pages))
            tune.table = pages_of_table(*tune.scales, room, tune.table.pages + 1);
    }
    tune.table_pages = tune.table.pages;
    if (fault == 0 && !tune.table_apart && tune.overview == nullptr)
        tune.empty_staves =
            std::clamp(room.changes - 1 - systems - divided_up(rows * 2, 3), 0, kMostForMelody);
    tune.changes_pages = tune.changes_used + tune.table_pages;
    if (before == 0 && room.two_sided && tune.overview == nullptr)
        tune.changes_pages = round_up_to_odd(tune.changes_pages);
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

// The drills of every chord of the book; none if they differ, or if there is one chord only.
std::vector<const Drill*> drills_of_all(const PagePlan& plan) {
    const std::vector<const Drill*>* first = nullptr;
    int chords = 0;
    for (const PlannedTune& tune : plan.tunes) {
        for (const PlannedSection& section : tune.sections) {
            if (section.etude() != nullptr) continue;
            if (first != nullptr && !have_same_names(*first, section.drills)) return {};
            first = &section.drills;
            ++chords;
        }
    }
    return chords > 1 ? *first : std::vector<const Drill*>{};
}

// The pages of a section. Before it takes more of them it is set tighter, and then a little smaller, so that
// those behind it keep theirs. How often the planner has to loosen it.
int fit(PlannedSection& section, const PageRoom& room, bool is_book, const Fault& fault) {
    section.wide = fault.wide;
    int looser = 0;
    give_pages(section, room, is_book, looser);
    if (fault.full > 0) {
        const int steps = fault.full + (section.is_tight ? 1 : 0);
        // A unit gives way twice: a page more turns all that lie open behind it.
        const int most = section.is_unit() ? 2 : 1;
        const int smaller = std::clamp(steps - 1, 0, most);
        if (steps <= most + 1) section.wide = std::max(section.wide, std::pow(kSmaller, smaller));
        looser = std::max(1, steps - most);
        section.empty_staves = 0;
        section.turns.clear();
        give_pages(section, room, is_book, looser);
    }
    if (section.is_answer) section.empty_staves = 0;
    return looser;
}

// Behind the contents, if there are any.
void give_table_pages(PagePlan& plan, const PageRoom& room) {
    plan.tables_page = plan.contents_page + plan.contents_used;
    plan.contents_pages = plan.contents_used;
    for (const PlanTable* table : plan.tables) plan.contents_pages += table_pages(*table, room);
}

void give_contents_pages(PagePlan& plan, const PageRoom& room) {
    // So few lines look lost in two columns.
    constexpr int kFew = 24;
    plan.shared_drills = drills_of_all(plan);
    const bool are_shared = !plan.shared_drills.empty();
    plan.contents_lines = contents_lines(plan, !are_shared) +
                          (are_shared ? 1 + static_cast<int>(rows_of_names(plan.shared_drills).size()) : 0);
    plan.has_two_columns = are_shared && plan.contents_lines > kFew;
    plan.contents_used =
        divided_up(plan.contents_lines, room.contents_lines * (plan.has_two_columns ? 2 : 1));
    give_table_pages(plan, room);
    if (room.two_sided) plan.contents_pages = round_up_to_odd(plan.contents_pages);
}

}  // namespace

std::size_t lines_of(const PlanRowWords& row) {
    constexpr std::size_t kCharactersALine = 95;
    std::size_t out = 2;  // the heading and the gap
    for (const std::string& line : row.lines)
        out += (count_characters(line) + kCharactersALine) / kCharactersALine;
    return out;
}

std::vector<std::size_t> page_starts(const PlanTable& table, const PageRoom& room) {
    std::vector<std::size_t> out{0};
    std::size_t used = 2;  // the title of the table
    const std::vector<PlanRowWords> rows = rows_in_words(table);
    for (std::size_t r = 0; r < rows.size(); ++r) {
        const std::size_t lines = lines_of(rows[r]);
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

PagePlan planned(PagePlan contents, const PageRoom& room, const Faults& faults) {
    PagePlan out = std::move(contents);
    const auto fault_of = [&](int key) {
        const auto found = faults.find(key);
        return found == faults.end() ? Fault{} : found->second;
    };
    int page = 1;
    if (out.is_book()) {
        const bool has_index = out.tunes.size() == 1 && out.tunes.front().overview != nullptr;
        if (has_index) {
            give_table_pages(out, room);
        } else {
            give_contents_pages(out, room);
        }
        page = out.contents_page + out.contents_pages;
    }
    for (std::size_t t = 0; t < out.tunes.size(); ++t) {
        PlannedTune& tune = out.tunes[t];
        std::map<int, int> looser;  // by key
        for (PlannedSection& section : tune.sections)
            looser[section.key] = fit(section, room, out.is_book(), fault_of(section.key));
        share_pages(tune.sections, room, tune.overview != nullptr,
                    [&](const PlannedSection& section) { return looser.at(section.key); });
        // A book of units is to be read through: a staff of one's own is enough.
        constexpr int kMostOfOwn = 1;
        for (PlannedSection& section : tune.sections) {
            if (tune.overview != nullptr && !section.is_unit())
                section.empty_staves = std::min(section.empty_staves, kMostOfOwn);
        }
        give_more_lines(tune.sections, room);
        tune.wide = fault_of(key_of_changes(t)).wide;
        // Closer together rather than on a page of its own, with which all others would turn.
        constexpr int kMostFaults = 1;
        out.has_tight_cover = fault_of(kKeyOfCover).full > 0;
        const bool fits_cover = out.tunes.size() == 1 && tune.overview != nullptr &&
                                fault_of(kKeyOfCover).full <= kMostFaults &&
                                least_height(*tune.overview) <= room.cover_height;
        if (tune.overview != nullptr && !fits_cover) tune.overview_page = page++;
        const bool may_turn = tune.overview != nullptr || !room.two_sided || !out.is_book();
        if (tune.changes != nullptr && page % 2 == 0 && room.two_sided && !may_turn) ++page;
        tune.changes_page = page;
        give_changes_pages(tune, room, fault_of(key_of_changes(t)).full, page);
        page += tune.changes_pages;
        for (PlannedSection& section : tune.sections) {
            // Two pages that belong together lie beside each other; the order of a book of units sees to it.
            if (section.pages > 1 && page % 2 == 1 && !may_turn) ++page;
            if (section.shares_page) page -= section.pages;
            section.first_page = page;
            page += section.pages;
        }
    }
    out.log_page = page;
    return out;
}

}  // namespace shedbook
