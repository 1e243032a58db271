// The changes of a tune as a rhythm part, in a book or as a sheet of their own.
#include <algorithm>
#include <string>
#include <vector>

#include "lilypond_book.h"
#include "lilypond_music.h"
#include "lilypond_text.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/excerpt.h"

namespace shedbook {
namespace {

std::string label_of(const Measure& measure) {
    for (const Sign& sign : measure.signs_before) {
        if (!sign.form) return sign.label;
    }
    return {};
}

// Bars in each line.
std::vector<std::size_t> bars_of_lines(const WrittenMusic& music) {
    std::vector<std::size_t> out;
    for (const Measure& measure : music.measures) {
        if (out.empty() || measure.new_system || measure.new_page) out.push_back(0);
        ++out.back();
    }
    return out;
}

}  // namespace

void LilypondBook::changes(const PlannedTune& tune, std::size_t index) {
    const WrittenMusic& music = tune.changes->music.front();
    note_pages_until(tune.changes_page);
    mark("The changes", tune.changes_page);
    open_part(tune.changes_page, tune.changes_used, "\\markup \"The changes\"",
              "score-system-spacing = #'((basic-distance . 12) (padding . 1.6) (stretchability . 30)) "
              "score-markup-spacing = "
              "#'((basic-distance . 9) (padding . 3.5) (stretchability . 20)) markup-system-spacing = "
              "#'((basic-distance . 0) "
              "(padding . 1.6) (stretchability . 6)) ",
              key_of_changes(index));
    wide_ = tune.wide;
    *this << "\\markup " << smaller() << "\\column { \\fill-line { "
          << title_markup(tune.title + ": the changes", 32) << " " << tempo_markup(music)
          << " } \\vspace #0.2 \\draw-hline }\n";
    scores_of_sections(music);
    scale_table(tune);
    empty_staves(tune.empty_staves, "For the melody", music);
    close_part();
}

// A score a section, so that each begins on a line of its own, its letter at the left.
void LilypondBook::scores_of_sections(const WrittenMusic& music) {
    const std::vector<std::size_t> lines = bars_of_lines(music);
    const std::size_t usual = *std::ranges::max_element(lines);
    std::size_t from = 0;
    for (std::size_t i = 1; i <= music.measures.size(); ++i) {
        if (i < music.measures.size() && label_of(music.measures[i]).empty()) continue;
        StaffWords words;
        WrittenMusic section = excerpt(music, from, i);
        // The meter is said where it is new.
        if (from > 0 && !section.measures.front().meter) words.start = "\\once \\omit Staff.TimeSignature ";
        const std::string label = label_of(music.measures[from]);
        // A word has no room at the left: it stands over its first bar.
        constexpr std::size_t kMostAtLeft = 3;
        const bool is_at_left = !label.empty() && count_characters(label) <= kMostAtLeft;
        if (is_at_left)
            std::erase_if(section.measures.front().signs_before, [](const Sign& sign) { return !sign.form; });
        if (is_at_left) words.start += "\\letter " + quoted(label) + " ";
        if (i < music.measures.size()) words.last_bar = "||";
        // A short line ends where its bars do: they are as wide as those above.
        const bool is_short = bars_of_lines(section).back() < usual;
        *this << "\\score {\n"
              << music_expression(section, words)
              << layout(is_short ? "\\changesLayout ragged-last = ##t " : "\\changesLayout ") << "}\n";
        from = i;
    }
}

void LilypondBook::lead_sheet(const LeadSheet& sheet) {
    const WrittenMusic& music = sheet.music.front();
    // As many pages as it takes: nothing here stands on a page that another one names.
    open_part(1, 0, "\\markup " + text_markup(plan_.head->composer), "ragged-last-bottom = ##t ");
    *this << "\\markup \\column { \\fill-line { " << title_markup(plan_.head->title, 32) << " "
          << tempo_markup(music) << " } \\vspace #0.2 \\fill-line { \\fontsize #-1 \\italic "
          << text_markup(plan_.head->parts.front().name) << " \\fontsize #-1 "
          << text_markup(plan_.head->composer) << " } \\vspace #0.2 \\draw-hline }\n";
    scores_of_sections(music);
    close_part();
}

}  // namespace shedbook
