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

// A reason that is short of room says only the first of what it has to say; all of it stands at the head of
// the chord's section.
std::string reason_to_say(const std::string& reason, Reasons reasons) {
    constexpr std::size_t kLong = 40;
    if (reasons == Reasons::Whole) return reason;
    const std::string out = reason.substr(0, reason.find_first_of(":;"));
    const std::size_t comma = out.find(", ");
    return count_characters(out) > kLong && comma <= kLong ? out.substr(0, comma) : out;
}

// So many lines a column makes of it, in its characters.
int lines_in_column(const std::string& words) {
    constexpr std::size_t kMost = 38;
    int lines = 1;
    std::size_t used = 0;
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        const std::size_t word = count_characters(words.substr(at, end - at));
        if (used > 0 && used + 1 + word > kMost) {
            ++lines;
            used = 0;
        }
        used += word + (used > 0 ? 1 : 0);
        at = end + 1;
    }
    return lines;
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

double height_of(const ScaleTable::Row& entry, Reasons reasons) {
    return kTableEntry + kSecondLine * (lines_in_column(reason_to_say(entry.reason, reasons)) - 1);
}

// Of the rows, two entries each: the second column goes on where the first one ends.
std::vector<double> heights_of(const ScaleTable& table, Reasons reasons) {
    const std::size_t rows = (table.rows.size() + 1) / 2;
    std::vector<double> out;
    for (std::size_t r = 0; r < rows; ++r) {
        const double left = height_of(table.rows[r], reasons);
        const bool is_alone = rows + r >= table.rows.size();
        out.push_back(is_alone ? left : std::max(left, height_of(table.rows[rows + r], reasons)));
    }
    return out;
}

// "as F altered, p. 12, bars 3, 7": as much of it as the column holds beside the name of the scale, in
// characters of that name.
struct PlacesOfScale {
    std::string before_page;
    std::string page;
    std::string bars;
};
PlacesOfScale places_beside(const ScaleTable::Row& row, int page) {
    constexpr double kRoom = 37;
    constexpr double kSmaller = 0.8;
    const std::string of_page = page > 0 ? "p. " + std::to_string(page) : "";
    const std::string comma = page > 0 && !row.bars.empty() ? ", " : "";
    const std::string bars = first_bars(row.bars);
    const std::string count = "in " + std::to_string(row.bars.size()) + " bars";
    const std::string least = row.bars.size() > 1 && count.size() < bars.size() ? count : bars;
    std::vector<PlacesOfScale> choices;
    if (page > 0 && row.drilled_as) {
        choices.push_back({"as " + to_string(*row.drilled_as) + ", ", of_page, comma + bars});
        choices.push_back({"", "as on " + of_page, comma + bars});
        choices.push_back({"", "as on " + of_page, comma + least});
    }
    choices.push_back({"", of_page, comma + bars});
    choices.push_back({"", of_page, comma + least});
    const std::size_t name = count_characters(to_string(row.topic.scale));
    const auto fits = [&](const PlacesOfScale& places) {
        const std::size_t all = count_characters(places.before_page + places.page + places.bars);
        return static_cast<double>(name) + kSmaller * static_cast<double>(all + 1) <= kRoom;
    };
    const auto found = std::ranges::find_if(choices, fits);
    return found != choices.end() ? *found : choices.back();
}

}  // namespace

double height_below_changes(const ScaleTable& table, Reasons reasons) {
    const std::vector<double> heights = heights_of(table, reasons);
    return std::accumulate(heights.begin(), heights.end(),
                           kBelowChanges * static_cast<double>(heights.size()));
}

TablePages pages_of_table(const ScaleTable& table, const PageRoom& room, int least_pages) {
    const auto on_pages = [&](std::size_t pages, Reasons reasons) {
        TablePages out{static_cast<int>(pages), 0, kMostGap, reasons};
        const std::vector<double> heights = heights_of(table, reasons);
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
        for (const Reasons reasons : {Reasons::Whole, Reasons::Short}) {
            TablePages out = on_pages(pages, reasons);
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
        const PlacesOfScale places = places_beside(row, page);
        std::string out = "\\concat { ";
        if (!places.before_page.empty()) out += text_markup(with_signs(places.before_page)) + " ";
        if (page > 0) out += to_page(page, quoted(places.page)) + " ";
        return out + quoted(places.bars) + " }";
    };
    const TablePages pages =
        tune.table_apart ? tune.table : TablePages{0, rows, tune.table.gap, tune.table.reasons};
    const auto reason_in_cell = [&](const std::string& reason) {
        return "\\override #'(baseline-skip . 1.9) \\override #'(line-width . 35) \\wordwrap-string " +
               quoted(with_signs(reason_to_say(reason, pages.reasons)));
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
