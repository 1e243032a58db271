#include "scale_table.h"

#include <algorithm>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include "lilypond_book.h"
#include "lilypond_text.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// In a column, in characters.
constexpr std::size_t kMostInOneLine = 40;
constexpr std::size_t kMostInTwoLines = 78;

// As much of a reason as a column holds; all of it stands at the head of the chord's section.
std::string short_reason(const std::string& reason, std::size_t most) {
    if (count_characters(reason) <= most) return reason;
    std::string out = reason.substr(0, reason.find_first_of(":;"));
    if (count_characters(out) <= most) return out;
    if (const std::size_t comma = out.find(", "); comma <= most) return out.substr(0, comma);
    // Signs of two bytes make it a little shorter still.
    return out.substr(0, out.rfind(' ', most - 2)) + " \u2026";
}

std::string notes_markup(const std::vector<PitchClass>& notes) {
    std::string text;
    for (const PitchClass note : notes) text += (text.empty() ? "" : " ") + to_string(note);
    return text_markup(with_signs(text));
}

// "bars 3, 7, 13 and 5 more"
std::string first_bars(std::vector<int> bars) {
    constexpr std::size_t kMost = 4;
    if (bars.size() <= kMost) return bars_in_words(bars);
    const std::size_t more = bars.size() - (kMost - 1);
    bars.resize(kMost - 1);
    return bars_in_words(bars) + " and " + std::to_string(more) + " more";
}

// Of an entry in staff spaces, without the gap below it; from measurement.
constexpr double kTableEntry = 7.1;
constexpr double kSecondLine = 1.9;
constexpr double kLeastGap = 0.5;
constexpr double kMostGap = 4;

double height_of(const ScaleTable::Row& entry, bool two_lines) {
    return two_lines && count_characters(short_reason(entry.reason, kMostInTwoLines)) > kMostInOneLine
               ? kTableEntry + kSecondLine
               : kTableEntry;
}

// Of the rows, two entries each: the second column goes on where the first one ends.
std::vector<double> heights_of(const ScaleTable& table, bool two_lines) {
    const std::size_t rows = (table.rows.size() + 1) / 2;
    std::vector<double> out;
    for (std::size_t r = 0; r < rows; ++r) {
        const double left = height_of(table.rows[r], two_lines);
        const bool is_alone = rows + r >= table.rows.size();
        out.push_back(is_alone ? left : std::max(left, height_of(table.rows[rows + r], two_lines)));
    }
    return out;
}

}  // namespace

TablePages pages_of_table(const ScaleTable& table, const PageRoom& room, int least_pages) {
    const auto on_pages = [&](std::size_t pages, bool two_lines) {
        TablePages out{static_cast<int>(pages), 0, kMostGap, two_lines};
        const std::vector<double> heights = heights_of(table, two_lines);
        out.rows_a_page = (heights.size() + pages - 1) / pages;
        for (std::size_t from = 0; from < heights.size(); from += out.rows_a_page) {
            const std::size_t rows = std::min(out.rows_a_page, heights.size() - from);
            const auto first = heights.begin() + static_cast<std::ptrdiff_t>(from);
            const double used = std::accumulate(first, first + static_cast<std::ptrdiff_t>(rows), 0.0);
            out.gap = std::min(out.gap, (room.table_height - used) / static_cast<double>(rows));
        }
        return out;
    };
    for (auto pages = static_cast<std::size_t>(std::max(1, least_pages));; ++pages) {
        for (const bool two_lines : {true, false}) {
            TablePages out = on_pages(pages, two_lines);
            if (out.gap >= kLeastGap || out.rows_a_page <= 1) return out;
        }
    }
}

void LilypondBook::scale_table(const PlannedTune& tune) {
    if (tune.scales == nullptr || tune.scales->rows.empty()) return;
    const std::vector<ScaleTable::Row>& listed = tune.scales->rows;
    const std::size_t rows = (listed.size() + 1) / 2;
    const auto places_of = [&](const ScaleTable::Row& row) {
        const int page = row.section != 0 ? tune.page_of(row.section) : 0;
        std::string out = "\\concat { ";
        const std::string of_page = page > 0 ? "p. " + std::to_string(page) : "";
        const std::string same_as =
            page > 0 && row.drilled_as ? "as " + to_string(*row.drilled_as) + ", " : "";
        constexpr std::size_t kRoom = 40;  // with the scale, up to the other column
        std::size_t used = count_characters(to_string(row.topic.scale)) + (page > 0 ? 7 : 0);
        const bool names_it = used + count_characters(same_as) <= kRoom;
        if (page > 0 && names_it) out += text_markup(with_signs(same_as)) + " ";
        if (page > 0) out += to_page(page, quoted((names_it ? "" : "as on ") + of_page)) + " ";
        used += names_it ? count_characters(same_as) : 6;
        const std::string bars = row.bars.empty() ? "" : first_bars(row.bars);
        const bool fits = used + count_characters(bars) <= kRoom;
        if (!bars.empty())
            out += quoted((page > 0 ? ", " : "") + (fits ? bars : std::to_string(row.bars.size()) + " bars"));
        return out + " }";
    };
    // Below the changes it stands as close as can be read.
    constexpr double kBelowChanges = 2.4;
    const TablePages pages = tune.table_apart ? tune.table : TablePages{0, rows, kBelowChanges, false};
    const auto reason_in_cell = [&](const std::string& reason) {
        if (!pages.two_lines) return text_markup(with_signs(short_reason(reason, kMostInOneLine)));
        return "\\override #'(baseline-skip . 1.9) \\override #'(line-width . 35) \\wordwrap-string " +
               quoted(with_signs(short_reason(reason, kMostInTwoLines)));
    };
    const auto cell = [&](std::size_t i) {
        if (i >= listed.size()) return std::string{"\\null"};
        const ScaleTable::Row& row = listed[i];
        return "\\why " + symbol_or_scale(row.topic) + " " +
               text_markup(with_signs(to_string(row.topic.scale))) + " " + notes_markup(row.topic.notes) +
               " " + reason_in_cell(row.reason) + " " + places_of(row);
    };
    mark("Which scale on which chord", tune.table_page());
    if (tune.table_apart) {
        close_part();
        open_part(tune.table_page(), tune.table_pages, "\\markup \"The changes\"",
                  "ragged-bottom = ##t ragged-last-bottom = ##t ");
    }
    *this << "\\markup \\line { \\sans \\bold \\fontsize #2 \"Which scale on which chord\""
          << (tune.drills_some_scales()
                  ? " \\hspace #1.5 \\italic \\fontsize #-1.5 " +
                        quoted("p.: its drills; \"as X\": the same notes; else only here")
                  : "")
          << " }\n";
    for (std::size_t begin = 0; begin < rows; begin += pages.rows_a_page) {
        const std::size_t end = std::min(rows, begin + pages.rows_a_page);
        if (begin > 0) *this << "\\pageBreak\n";
        // Read down the left column, then down the right; rows as high as what stands in them.
        *this << "\\markup \\override #'(baseline-skip . 0) \\left-column { ";
        for (std::size_t r = begin; r < end; ++r) {
            *this << "\\combine " << cell(r) << " \\translate #'(" << room_.table_column << " . 0) "
                  << cell(rows + r) << "\n\\vspace #" << pages.gap / 3 << "\n";
        }
        *this << "}\n";
    }
}

}  // namespace shedbook
