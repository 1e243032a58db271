// The contents of a book by chords.
#include <algorithm>
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

// Of a symbol, so that scales stand below each other; in staff spaces.
constexpr const char* kSymbolColumn = "\\combine \\hspace #11 ";

// A section in the contents: its chord and scale.
std::string entry_markup(const SectionStart& start) {
    const auto* topic = std::get_if<TopicHead>(&start.head);
    if (const auto* unit = std::get_if<UnitHead>(&start.head))
        return "\\bold " + text_markup(with_signs(title_of(*unit)));
    if (topic == nullptr) return "\\bold " + text_markup(title_of(std::get<RoundHead>(start.head)));
    const TopicInPart& read = topic->parts.front();
    if (!read.symbol) return "\\bold " + symbol_or_scale(read);
    return kSymbolColumn + std::string{"\\bold "} + symbol_or_scale(read) + " " +
           text_markup(with_signs(to_string(read.scale)));
}

// What stands together: a heading with the entry behind it, an entry with the names of its drills.
struct ContentsRow {
    std::string markup;
    int lines = 1;
    bool is_heading = false;
};

std::string names_markup(const std::vector<const Drill*>& drills) {
    std::string out;
    for (const std::string& row : rows_of_names(drills))
        out +=
            "\\markup \\fontsize #-2.5 \\sans \\line { \\hspace #4 " + text_markup(with_signs(row)) + " }\n";
    return out;
}

std::string heading_row(const std::string& title, const char* size) {
    return "\\sans \\bold \\fontsize #" + std::string{size} + " " + text_markup(with_signs(title));
}

class ContentsRows {
  public:
    void add(const std::string& what, int page) {
        rows_.push_back({"\\sans \\fill-with-pattern #0.8 #RIGHT \".\" " +
                         to_page(page, "\\line { " + what + " }") + " " +
                         to_page(page, quoted(std::to_string(page)))});
    }
    void head(std::string markup) { rows_.push_back({std::move(markup), 1, true}); }
    ContentsRow& last() { return rows_.back(); }
    [[nodiscard]] const std::vector<ContentsRow>& all() const { return rows_; }

  private:
    std::vector<ContentsRow> rows_;
};

ContentsRows rows_of(const PagePlan& plan) {
    ContentsRows out;
    for (const PlannedTune& tune : plan.tunes) {
        if (plan.tunes.size() > 1) out.head(heading_row(tune.title, "1"));
        if (tune.changes_pages > 0)
            out.add("\"The changes, and which scale on which chord\"", tune.changes_page);
        const SittingStart* sitting = nullptr;
        for (const PlannedSection& section : tune.sections) {
            if (section.sitting != sitting) {
                sitting = section.sitting;
                out.head(heading_row(sitting != nullptr ? title_of(*sitting) : "", "0.5"));
            }
            if (const Etude* etude = section.etude()) {
                out.add(text_markup(with_signs(heading_of(*etude).title)), section.first_page);
                continue;
            }
            out.add(entry_markup(*section.section()), section.first_page);
            if (!plan.shared_drills.empty()) continue;
            out.last().lines += static_cast<int>(rows_of_names(section.drills).size());
            out.last().markup += "\n" + names_markup(section.drills);
        }
    }
    out.add("\"Practice log\"", plan.log_page);
    return out;
}

// Down the left column and then down the right, on as many pages as it takes; the first has fewer lines.
std::string in_columns(const std::vector<ContentsRow>& rows, int lines, const PageRoom& room) {
    constexpr double kGap = 4;
    constexpr double kApart = 2.75;
    const auto column = [&](std::size_t begin, std::size_t end) {
        std::string out = "\\left-column { ";
        for (std::size_t i = begin; i < end; ++i)
            out += "\\override #'(line-width . " + std::to_string(room.table_column - kGap) + ") " +
                   rows[i].markup + "\n";
        return out + "} ";
    };
    std::string out;
    for (std::size_t begin = 0; begin < rows.size();) {
        const std::size_t end =
            std::min(rows.size(), begin + 2 * static_cast<std::size_t>(std::max(1, lines)));
        std::size_t middle = begin + (end - begin + 1) / 2;
        if (middle > begin + 1 && rows[middle - 1].is_heading) --middle;
        if (begin > 0) out += "\\pageBreak\n";
        out += "\\markup \\override #'(baseline-skip . " + std::to_string(kApart) + ") \\combine " +
               column(begin, middle) + "\\translate #'(" + std::to_string(room.table_column) + " . 0) " +
               column(middle, end) + "\n";
        begin = end;
        lines = room.contents_lines;
    }
    return out;
}

}  // namespace

void LilypondBook::contents() {
    // Few lines stand further apart.
    const double apart = std::clamp(
        0.5 + 1.2 * (room_.contents_lines - plan_.contents_lines) / plan_.contents_lines, 0.5, 1.8);
    mark("Contents", plan_.contents_page);
    open_part(plan_.contents_page, plan_.contents_used, "\\markup \"Contents\"",
              "ragged-bottom = ##t ragged-last-bottom = ##t markup-markup-spacing = #'((basic-distance . "
              "0) (padding . " +
                  std::to_string(apart) + ")) ");
    *this << "\\markup \\sans \\bold \\fontsize #5 \"Contents\"\n\\markup \\vspace #0.5\n";
    int lines = 2;
    if (!plan_.shared_drills.empty()) {
        *this << "\\markup \\fontsize #-1 \\sans \"Each chord has these drills:\"\n"
              << names_markup(plan_.shared_drills) << "\\markup \\vspace #0.5\n";
        lines += 1 + static_cast<int>(rows_of_names(plan_.shared_drills).size());
    }
    const ContentsRows rows = rows_of(plan_);
    if (plan_.has_two_columns) {
        *this << in_columns(rows.all(), room_.contents_lines - lines, room_) << "}\n";
        return;
    }
    for (const ContentsRow& row : rows.all()) {
        const int with_next = row.is_heading ? 1 : 0;
        if (lines + row.lines + with_next > room_.contents_lines) {
            *this << "\\pageBreak\n";
            lines = 0;
        }
        lines += row.lines;
        *this << "\\markup " << row.markup << "\n";
    }
    *this << "}\n";
}

}  // namespace shedbook
