#include "page_plan.h"

#include <algorithm>
#include <cmath>

#include "lilypond_music.h"

namespace shedbook {
namespace {

constexpr int kSystemsOfChanges = 6;  // with a scale table of twelve below them
constexpr int kMostChangeSystems = 9;
constexpr int kThinPage = 6;  // fewer systems than this look lost on a page
constexpr int kMostEmptyStaves = 6;
constexpr double kRounding = 0.3;  // a third of a system is found between the others

int round_up_to_odd(int pages) {
    return pages % 2 == 0 ? pages + 1 : pages;
}
int divided_up(int a, int b) {
    return (a + b - 1) / b;
}

// In whole systems.
int room_of(const PlannedSection& section) {
    double room = 0;
    for (const PlannedDrill& drill : section.drills) room += drill.room;
    return static_cast<int>(std::ceil(room - kRounding));
}

int capacity(int pages, const PageRoom& room) {
    return room.with_head + (pages - 1) * room.without_head;
}

void give_pages(PlannedSection& section, const PageRoom& room, bool is_book) {
    if (section.is_etude) {
        section.pages = divided_up(static_cast<int>(std::ceil(section.etude_room - kRounding)),
                                   is_book ? room.etude : kMostChangeSystems);
        return;
    }
    const int systems = room_of(section);
    section.pages = 1;
    while (capacity(section.pages, room) < systems)
        section.pages = section.pages == 1 ? 2 : section.pages + 2;
    // No page stays half empty: staves for a line of the player's own.
    const int wanted = section.pages == 1 ? kThinPage + 1 : capacity(section.pages, room) - 3;
    section.empty_staves = std::clamp(wanted - systems, 0, kMostEmptyStaves);
    if (systems + section.empty_staves > capacity(section.pages, room)) section.empty_staves = 0;
}

void give_changes_pages(PlannedTune& tune, const PageRoom& room) {
    if (tune.change_systems == 0) return;
    const int rows = divided_up(static_cast<int>(tune.listed().size()), 2);
    // A row of the table takes about two thirds of a system.
    tune.table_apart = tune.change_systems * 3 + rows * 2 > kSystemsOfChanges * 3 + 12;
    tune.changes_used = divided_up(tune.change_systems, kMostChangeSystems);
    tune.table_pages = tune.table_apart ? divided_up(rows, room.table_rows) : 0;
    tune.changes_pages = tune.changes_used + tune.table_pages;
    const bool has_spreads =
        std::ranges::any_of(tune.sections, [](const PlannedSection& s) { return s.pages > 1; });
    if (has_spreads) tune.changes_pages = round_up_to_odd(tune.changes_pages);
}

}  // namespace

std::vector<const PlannedSection*> PlannedTune::listed() const {
    std::vector<const PlannedSection*> out;
    for (const PlannedSection& section : sections) {
        if (!section.is_etude && section.head.is_listed) out.push_back(&section);
    }
    return out;
}

int contents_lines(const PlannedTune& tune) {
    int lines = tune.title.empty() ? 1 : 2;
    std::string sitting;
    for (const PlannedSection& section : tune.sections) {
        lines += 1 + static_cast<int>(section.drills.size() + 2) / 3;
        if (section.sitting != sitting) ++lines;
        sitting = section.sitting;
    }
    return lines + 1;
}

int table_pages(const Table& table, const PageRoom& room) {
    return divided_up(static_cast<int>(table.rows.size()), room.sitting_rows);
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

PagePlan PagePlanner::plan(const PageRoom& room) const {
    PagePlan out = collected_;
    int page = 1;
    if (out.is_book) {
        int lines = 3;  // the heading, and the log
        for (const PlannedTune& tune : out.tunes) lines += contents_lines(tune);
        out.contents_used = divided_up(lines, room.contents_lines);
        out.tables_page = out.contents_page + out.contents_used;
        int pages = out.contents_used;
        for (const Table& table : out.tables) pages += table_pages(table, room);
        out.contents_pages = round_up_to_odd(pages);
        page = out.contents_page + out.contents_pages;
    }
    for (PlannedTune& tune : out.tunes) {
        for (PlannedSection& section : tune.sections) give_pages(section, room, out.is_book);
        give_changes_pages(tune, room);
        if (tune.changes_pages > 0 && page % 2 == 0) ++page;
        tune.changes_page = page;
        page += tune.changes_pages;
        for (PlannedSection& section : tune.sections) {
            // Two pages that belong together lie beside each other.
            if (section.pages > 1 && page % 2 == 1 && out.is_book) ++page;
            section.first_page = page;
            page += section.pages;
        }
    }
    out.log_page = page;
    return out;
}

}  // namespace shedbook
