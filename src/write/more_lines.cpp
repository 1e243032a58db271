#include "more_lines.h"

#include <algorithm>
#include <numeric>
#include <optional>
#include <span>
#include <utility>

#include "lilypond_music.h"
#include "section_pages.h"
#include "shedbook/notation/line_breaks.h"

namespace shedbook {
namespace {

// Four bars of eighths with an accidental here and there; a line holds a quarter more.
constexpr int kEasyToRead = 38 * kNoteWeight;

std::vector<bool> starts_now(const WrittenMusic& music) {
    std::vector<bool> out;
    for (const Measure& measure : music.measures) out.push_back(out.empty() || measure.new_system);
    return out;
}

int lines_more(const WrittenMusic& music) {
    const std::vector<bool> now = starts_now(music);
    const std::vector<bool> then = parted(music, now, kEasyToRead);
    return static_cast<int>(std::ranges::count(then, true) - std::ranges::count(now, true));
}

struct PieceOnPage {
    PlannedSection* section;
    std::size_t index;  // among the pieces of the section
};

const WrittenMusic* music_of(const PieceOnPage& piece) {
    const PlannedSection& section = *piece.section;
    std::size_t index = piece.index;
    if (section.bars != nullptr && index-- == 0) return nullptr;
    if (index < section.drills.size()) return &section.drills[index]->music.front();
    index -= section.drills.size();
    return index < section.lines.size() ? &section.lines[index]->music.front() : nullptr;
}

// In notes and what stands beside them, to a line.
double crowd_of(const WrittenMusic& music) {
    return static_cast<double>(music.events.size()) / count_systems(music);
}

// What stands on one page, and how much room is left there, in systems, with the staves of the player's own.
void fill_page(std::vector<PieceOnPage> pieces, double left, PlannedSection& last) {
    std::erase_if(pieces, [](const PieceOnPage& piece) {
        const WrittenMusic* music = music_of(piece);
        return music == nullptr || !music->lower.empty() || lines_more(*music) == 0;
    });
    std::ranges::stable_sort(pieces, std::ranges::greater{},
                             [](const PieceOnPage& piece) { return crowd_of(*music_of(piece)); });
    for (const PieceOnPage& piece : pieces) {
        const int more = lines_more(*music_of(piece));
        if (more > left) continue;
        left -= more;
        piece.section->with_more_lines.push_back(piece.index);
        piece.section->rooms[piece.index] += more;
    }
    if (last.empty_staves > 0) last.empty_staves = std::clamp(static_cast<int>(left), 0, last.empty_staves);
}

// Of the first section the pieces of its last page, and all of those that share it.
void fill_last_page(std::span<PlannedSection> sections, const PageRoom& room) {
    PlannedSection& first = sections.front();
    const bool has_pages = first.pages > 1;
    const std::size_t begin = has_pages ? first.turns.back() : 0;
    double used = 0;
    std::vector<PieceOnPage> pieces;
    for (PlannedSection& section : sections) {
        const bool is_first = &section == &first;
        if (!is_first || !has_pages) used += height_of_head(section);
        for (std::size_t i = is_first ? begin : 0; i < section.rooms.size(); ++i) {
            used += section.rooms[i];
            pieces.push_back({&section, i});
        }
    }
    fill_page(std::move(pieces), room.without_head + room.slack - used, sections.back());
}

// Of the pages before its last.
void fill_first_pages(PlannedSection& section, const PageRoom& room) {
    std::size_t begin = 0;
    for (const std::size_t turn : section.turns) {
        double used = begin == 0 ? height_of_head(section) : 0;
        std::vector<PieceOnPage> pieces;
        for (std::size_t i = begin; i < turn; ++i) {
            used += section.rooms[i];
            pieces.push_back({&section, i});
        }
        PlannedSection no_staves;
        fill_page(std::move(pieces), room.without_head + room.slack - used, no_staves);
        begin = turn;
    }
}

}  // namespace

void give_more_lines(std::vector<PlannedSection>& sections, const PageRoom& room) {
    for (std::size_t first = 0; first < sections.size();) {
        std::size_t end = first + 1;
        while (end < sections.size() && sections[end].shares_page) ++end;
        PlannedSection& leading = sections[first];
        const bool are_even = leading.pages == 1 || !leading.turns.empty();
        if (!leading.is_tight && leading.etude() == nullptr && are_even) {
            fill_first_pages(leading, room);
            fill_last_page(std::span{sections}.subspan(first, end - first), room);
        }
        first = end;
    }
}

WrittenMusic with_more_lines(WrittenMusic music) {
    break_lines(music, parted(music, starts_now(music), kEasyToRead));
    return music;
}

}  // namespace shedbook
