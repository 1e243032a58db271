// The table of a plan on its page.
#include <algorithm>
#include <string>
#include <vector>

#include "lilypond_book.h"
#include "lilypond_text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// The pages of a sitting: "page 5", "pages 5 to 6"; empty where it has none.
std::string pages_of_sitting(const PagePlan& plan, const SittingStart* sitting) {
    int first = 0;
    int last = 0;
    for (const PlannedTune& tune : plan.tunes) {
        for (const PlannedSection& section : tune.sections) {
            if (section.sitting != sitting) continue;
            if (first == 0) first = section.first_page;
            last = std::max(last, section.first_page + std::max(section.pages, 1) - 1);
        }
    }
    if (first == 0) return {};
    if (first == last) return "page " + std::to_string(first);
    return "pages " + std::to_string(first) + " to " + std::to_string(last);
}

// Ruled lines below each row, where the table leaves half of its page.
std::size_t ruled_lines(const std::vector<PlanRowWords>& rows, const PageRoom& room) {
    constexpr std::size_t kMost = 4;
    constexpr std::size_t kHeight = 2;  // of one, in lines of text
    constexpr std::size_t kLabel = 1;   // of what stands over them
    std::size_t used = 2;
    for (const PlanRowWords& row : rows) used += lines_of(row);
    const auto page = static_cast<std::size_t>(room.sitting_lines);
    if (used >= page || rows.empty()) return 0;
    const std::size_t each = (page - used) / rows.size();
    return each <= kLabel ? 0 : std::min(kMost, (each - kLabel) / kHeight);
}

}  // namespace

// Each row: a heading with its pages and a box to tick, what else it says below, and lines to write on.
void LilypondBook::tables() {
    int page = plan_.tables_page;
    std::size_t sitting = 0;  // of those of all tables
    for (const PlanTable* table : plan_.tables) {
        const std::vector<std::size_t> starts = page_starts(*table, room_);
        const auto pages = static_cast<int>(starts.size());
        mark(with_signs(table->title), page);
        open_part(page, pages, "\\markup " + text_markup(with_signs(table->title)),
                  "ragged-bottom = ##t ragged-last-bottom = ##t markup-markup-spacing = "
                  "#'((basic-distance . 0) (padding . 0.5)) ");
        page += pages;
        *this << "\\markup \\sans \\bold \\fontsize #5 " << text_markup(with_signs(table->title))
              << "\n\\markup \\vspace #0.5\n";
        const std::vector<PlanRowWords> rows = rows_in_words(*table);
        const std::size_t ruled = pages == 1 ? ruled_lines(rows, room_) : 0;
        for (std::size_t r = 0; r < rows.size(); ++r) {
            if (r > 0 && std::ranges::find(starts, r) != starts.end()) *this << "\\pageBreak\n";
            *this << "\\markup \\fill-line { \\sans \\bold \\fontsize #1 "
                  << text_markup(with_signs(rows[r].title)) << " \\line { \\sans \\fontsize #-1 "
                  << quoted(pages_of_sitting(plan_, plan_.sittings.at(sitting++)))
                  << " \\hspace #2 \\tick \"done\" } }\n";
            for (const std::string& line : rows[r].lines) {
                *this << "\\markup \\fontsize #-0.5 \\override #'(line-width . 88) \\wordwrap-string "
                      << quoted(with_signs(line)) << "\n";
            }
            if (ruled > 0)
                *this << "\\markup \\vspace #0.4\n\\markup \\sans \\fontsize #-2.5 \"How it went, and what "
                         "to do next\"\n";
            for (std::size_t line = 0; line < ruled; ++line)
                *this << "\\markup \\vspace #1.1\n\\markup \\override #'(thickness . 0.4) \\draw-hline\n";
            *this << "\\markup \\vspace #0.5\n";
        }
        *this << "}\n";
    }
}

}  // namespace shedbook
