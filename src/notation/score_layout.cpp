#include "shedbook/notation/score_layout.h"

#include <algorithm>
#include <cassert>
#include <utility>

#include "shedbook/notation/line_breaks.h"

namespace shedbook {
namespace {

// Heights in tenths of a millimetre: what a page of A4 holds between its margins, and what a staff takes with
// the room over it, in staves.
constexpr int kPage = 2670;
constexpr int kTitle = 400;
constexpr int kLargestStaff = 60;
constexpr int kSmallestStaff = 30;
// A teacher reads from the desk: staves get smaller than the largest rather than leave half of a page white.
constexpr int kSmallestForTwo = 36;
constexpr int kStavesAPart = 3;  // the staff itself, and twice as much for symbols and ledger lines
constexpr int kStavesBetween = 3;
// The names of the parts take room from each line (tried with scales full of accidentals).
constexpr LineRules kLines{.room = 40 * kNoteWeight};

int systems_on_page(std::size_t parts, int height) {
    const int system = (kStavesAPart * static_cast<int>(parts) + kStavesBetween) * staff_height(parts);
    return std::max(1, height / system);
}

}  // namespace

int staff_height(std::size_t parts) {
    const int staves = kStavesAPart * static_cast<int>(parts) + kStavesBetween;
    const int alone = std::clamp((kPage - kTitle) / staves, kSmallestStaff, kLargestStaff);
    const int of_two = kPage / (2 * staves);
    return of_two < alone && of_two >= kSmallestForTwo ? of_two : alone;
}

ScoreLayout::ScoreLayout(std::size_t parts)
    : systems_a_page_{systems_on_page(parts, kPage)}, room_{systems_on_page(parts, kPage - kTitle)} {}

void ScoreLayout::lay_out(std::vector<WrittenMusic>& music) {
    const std::vector<bool> starts = starts_of_lines(std::span<const WrittenMusic>{music}, kLines);
    const auto systems = static_cast<int>(std::ranges::count(starts, true));
    if (systems <= systems_a_page_ && systems > room_ && !is_first_) room_ = 0;
    is_first_ = false;
    std::vector<bool> pages;
    for (const bool starts_line : starts) {
        pages.push_back(starts_line && room_ == 0);
        if (pages.back()) room_ = systems_a_page_;
        if (starts_line) --room_;
    }
    for (WrittenMusic& part : music) {
        assert(part.measures.size() == starts.size());
        break_lines(part, starts);
        for (std::size_t bar = 0; bar < pages.size(); ++bar) part.measures[bar].new_page = pages[bar];
    }
}

}  // namespace shedbook
