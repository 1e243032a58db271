// What stands around the music of a book: title page, contents, scale table, practice log.
#include <algorithm>
#include <array>
#include <utility>

#include "lilypond_book.h"
#include "lilypond_overview.h"
#include "lilypond_text.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// How a title stands on the first page: a long one takes two lines or more, and the room above it.
struct TitleLook {
    std::size_t most;  // characters
    int size;          // steps of font size
    double space_above;
};
constexpr std::size_t kLongestTitle = 150;
constexpr std::array<TitleLook, 4> kTitleLooks{
    {{13, 12, 6}, {18, 8, 6}, {48, 8, 3.5}, {kLongestTitle, 4, 3.5}}};

const TitleLook& look_of(const std::string& title) {
    const std::size_t length = count_characters(title);
    const auto fits = [&](const TitleLook& look) { return length <= look.most; };
    const auto at = std::ranges::find_if(kTitleLooks, fits);
    return at == kTitleLooks.end() ? kTitleLooks.back() : *at;
}

// How to use a book by units.
constexpr std::array<const char*, 5> kUseOfUnits{
    "Hear the chords of the unit first: under your own hands, from a friend, from a recording.",
    "A unit at a time: guide tones until they sing, then line by line, the easier phrase first.",
    "Accented notes are targets, thirds and sevenths: sing each, then play what leads to it.",
    "Tick a tempo when the line was right three times in a row; bare boxes: as those above.",
    "Put the unit back into the tune: begin four bars before it and play on behind it."};

}  // namespace

void LilypondBook::front(const Cover& cover) {
    const PlannedTune& first = plan_.tunes.front();
    const bool has_index = plan_.tunes.size() == 1 && first.overview != nullptr;
    if (has_index && first.overview_page == 0) return tune_cover(cover, first);
    title_page(cover);
    if (!has_index) contents();
}

std::string LilypondBook::name_line(const Cover& cover) const {
    return "\\markup \\line { \\sans \"Name\" \\hspace #1 " +
           (cover.player.empty() ? std::string{"\\draw-line #'(50 . 0)"}
                                 : "\\sans \\bold " + quoted(short_title(cover.player))) +
           " \\hspace #4 \\sans \"Begun\" \\hspace #1 \\draw-line #'(24 . 0) }\n";
}

std::string LilypondBook::caution_box() const {
    return "\\markup \\translate #'(1.3 . 0) \\override #'(box-padding . 1.2) \\box \\override "
           "#'(line-width . 90) \\wordwrap-string " +
           quoted(plan_.caution != nullptr ? plan_.caution->text : "") + "\n";
}

void LilypondBook::numbered(std::span<const char* const> lines, double space) {
    for (std::size_t i = 0; i < lines.size(); ++i) {
        *this << "\\markup \\line { \\sans \\bold \"" << static_cast<int>(i) + 1 << "\" \\hspace #1 "
              << quoted(lines[i]) << " }\n\\markup \\vspace #" << space << "\n";
    }
}

// The first page of the book of one tune: what a player asks first, and the form with the pages for it.
void LilypondBook::tune_cover(const Cover& cover, const PlannedTune& tune) {
    const std::string& title = plan_.head->title;
    const std::string keys = keys_of(cover);
    std::vector<std::string> facts;
    if (!keys.empty()) facts.push_back(keys);
    facts.push_back(form_in_words(*tune.overview));
    facts.push_back("range " + in_words(cover.range));
    mark("The form, and where it is hard", 1);
    text_.parts.push_back({kKeyOfCover, 1, 1, {}, false});
    *this << "\\bookpart {\n\\paper { first-page-number = #1 page-count = #1 shedpart = #" << kKeyOfCover
          << " ragged-bottom = ##t "
             "ragged-last-bottom = ##t oddFooterMarkup = ##f evenFooterMarkup = ##f markup-markup-spacing = "
             "#'((basic-distance . 0) (padding . "
          << (plan_.has_tight_cover ? 0.35 : 0.7) << ")) }\n"
          << "\\markup \\override #'(line-width . 96) \\bold \\sans \\fontsize #"
          << std::min(look_of(title).size, 8) << " \\wordwrap-string "
          << quoted(short_title(title, kLongestTitle)) << "\n\\markup \\vspace #0.2\n"
          << "\\markup \\draw-hline\n\\markup \\vspace #0.2\n\\markup \\fill-line { \\sans \\fontsize #2 "
          << quoted(plan_.head->parts.front().name) << " \\italic "
          << quoted(short_title(plan_.head->composer)) << " }\n\\markup \\fill-line { \\sans \\fontsize #-1 "
          << text_markup(with_signs(join(facts, "  \u00B7  "))) << " "
          << (tune.changes != nullptr ? tempo_markup(tune.changes->music.front()) : "\\null") << " }\n"
          << (cover.fingerings.empty()
                  ? ""
                  : "\\markup \\sans \\fontsize #-1 " + quoted("Under the notes: " + cover.fingerings) + "\n")
          << "\\markup \\vspace #0.6\n"
          << overview_text(tune, room_, room_.cover_height)
          << "\\markup \\vspace #0.6\n\\markup \\sans \\bold \\fontsize #2 \"How to use this "
             "book\"\n\\markup \\vspace #0.3\n";
    numbered(kUseOfUnits, 0.1);
    *this << "\\markup \\vspace #0.6\n"
          << name_line(cover) << "\\markup \\vspace #0.6\n"
          << caution_box() << "}\n";
    next_page_ = 2;
}

void LilypondBook::overview_page(const PlannedTune& tune) {
    constexpr double kPage = 138;  // in staff spaces, on A4
    note_pages_until(tune.overview_page);
    mark("The form, and where it is hard", tune.overview_page);
    open_part(tune.overview_page, 1, "\\markup \"The form\"",
              "ragged-bottom = ##t ragged-last-bottom = ##t markup-markup-spacing = "
              "#'((basic-distance . 0) (padding . 0.7)) ",
              kKeyOfCover);
    *this << "\\markup \\bold \\sans \\fontsize #5 " << text_markup(with_signs(tune.title))
          << "\n\\markup \\vspace #0.5\n"
          << overview_text(tune, room_, std::min(kPage, room_.cover_height + 40)) << "}\n";
}

void LilypondBook::title_page(const Cover& cover) {
    static constexpr std::array<const char*, 5> kUse{
        "Hear the chord first: under your own hands, from a friend, from a recording.",
        "Take one page a day. Slow enough to be right counts more than fast.",
        "Tick a tempo when it goes through three times without a slip; bare boxes: as above.",
        "Close the book for the last box: from memory, and from another note.",
        "Then play the tune, and the line through its changes at the end."};
    const auto space = [&](double lines) {
        return "\\markup \\vspace #" + std::to_string(lines * room_.title_spread) + "\n";
    };
    const std::string& title = plan_.head->title;
    const std::string keys = keys_of(cover);
    const TitleLook& look = look_of(title);
    text_.parts.push_back({kNoKey, 1, 1, {}, false});
    *this << "\\bookpart {\n\\paper { first-page-number = #1 page-count = #1 ragged-bottom = ##t "
             "ragged-last-bottom = ##t oddFooterMarkup = ##f evenFooterMarkup = ##f markup-markup-spacing = "
             "#'((basic-distance . 1) (padding . "
          << 1.6 * room_.title_spread << ")) }\n"
          << space(look.space_above) << "\\markup \\sans \\fontsize #4 \"Practice book\"\n"
          << space(0.5) << "\\markup \\override #'(line-width . 96) \\bold \\sans \\fontsize #" << look.size
          << " \\wordwrap-string " << quoted(short_title(title, kLongestTitle)) << "\n"
          << space(0.4) << "\\markup \\draw-hline\n"
          << space(0.6) << "\\markup \\sans \\fontsize #5 " << quoted(plan_.head->parts.front().name) << "\n"
          << space(0.2) << "\\markup \\sans "
          << text_markup(with_signs("Written range " + in_words(cover.range) +
                                    (keys.empty() ? "" : "   \u00B7   " + keys)))
          << "\n"
          << (cover.fingerings.empty()
                  ? ""
                  : "\\markup \\sans " + quoted("Under the notes: " + cover.fingerings) + "\n")
          << space(cover.fingerings.empty() ? 3.5 : 1)
          << "\\markup \\sans \\bold \\fontsize #2 \"How to use this book\"\n"
          << space(0.4);
    const bool is_on_units = plan_.tunes.front().overview != nullptr;
    numbered(is_on_units ? std::span<const char* const>{kUseOfUnits} : kUse, 0.2 * room_.title_spread);
    *this << space(4) << name_line(cover) << space(6) << caution_box() << "}\n";
    next_page_ = 2;
}

void LilypondBook::log_page() {
    // Widths and heights in staff spaces of 1.8 mm.
    static constexpr std::array<std::pair<const char*, double>, 7> kColumns{{{"Date", 11.1},
                                                                             {"Drills", 16.6},
                                                                             {"Tempo", 10},
                                                                             {"Right", 7.8},
                                                                             {"Wrong", 7.8},
                                                                             {"From memory", 11.7},
                                                                             {"What to do next time", 33.3}}};
    constexpr double kRow = 5.17;
    const int rows = room_.log_rows;
    mark("Practice log", plan_.log_page);
    open_part(plan_.log_page, 1, "\\markup \"Practice log\"",
              "ragged-bottom = ##t ragged-last-bottom = ##t ");
    *this << "\\markup \\sans \\bold \\fontsize #5 \"Practice log\"\n"
          << "\\markup \\vspace #0.3\n\\markup \\overlay { \\path #0.12 #'(";
    double width = 0;
    for (const auto& [name, wide] : kColumns) width += wide;
    for (int row = 0; row <= rows; ++row) {
        *this << "(moveto 0 " << -kRow * row << ")(lineto " << width << " " << -kRow * row << ")";
    }
    double x = 0;
    for (std::size_t column = 0; column <= kColumns.size(); ++column) {
        *this << "(moveto " << x << " 0)(lineto " << x << " " << -kRow * rows << ")";
        if (column < kColumns.size()) x += kColumns[column].second;
    }
    *this << ") ";
    x = 0;
    for (const auto& [name, wide] : kColumns) {
        *this << "\\translate #'(" << x + 0.6 << " . " << -kRow + 1.8 << ") \\sans \\bold \\fontsize #-3 "
              << quoted(name) << " ";
        x += wide;
    }
    *this << "}\n\\markup \\vspace #0.6\n\\markup \\fontsize #-2 \\italic "
          << quoted(plan_.caution != nullptr ? plan_.caution->text : "") << "\n}\n";
}

}  // namespace shedbook
