// A whole document in the engraver's language, in parts that can be set each by itself.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "engraver_text.h"
#include "page_plan.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/write/writers.h"

namespace shedbook {

class LilypondBook {
  public:
    LilypondBook(const PagePlan& plan, const PageRoom& room) : plan_{plan}, room_{room} {}
    [[nodiscard]] EngraverText write();

  private:
    [[nodiscard]] std::string preamble() const;
    void foot();
    // Title page and contents, or the page that is both.
    void front(const Cover& cover);
    void tune_cover(const Cover& cover, const PlannedTune& tune);
    void title_page(const Cover& cover);
    [[nodiscard]] std::string name_line(const Cover& cover) const;
    [[nodiscard]] std::string caution_box() const;
    void numbered(std::span<const char* const> lines, double space);
    void contents();
    void overview_page(const PlannedTune& tune);
    void tables();
    void log_page();
    void lead_sheet(const LeadSheet& sheet);
    void changes(const PlannedTune& tune, std::size_t index);
    void scores_of_sections(const WrittenMusic& music);
    void scale_table(const PlannedTune& tune);
    // The sections from `first` on that share a page, and how many they are.
    std::size_t section_pages(const PlannedTune& tune, std::size_t first);
    // Where a head stands: alone on its page, first of several, or below another section's music.
    enum class HeadPlace { Alone, First, Below };
    void section(const PlannedSection& section, HeadPlace place);
    void section_head(const SectionStart& start, HeadPlace place);
    void unit_head(int number, const UnitHead& unit, HeadPlace place);
    // White over a head that stands below music; where staves stand close there is less to give.
    [[nodiscard]] std::string space_above(HeadPlace place) const;
    void drill(const Drill& drill, const SectionStart& section);
    void bars_of_unit(const UnitBars& bars);
    void line_of_unit(const Etude& etude);
    void piece(const PieceNumber& number, const PieceHeading& heading, const TempoBoxes& boxes,
               const WrittenMusic& music, std::string_view settings);
    // The layout of a score, its staff smaller where the part would not fit between the margins.
    [[nodiscard]] std::string layout(std::string_view settings) const;
    // Of a head, likewise: words before its markup.
    [[nodiscard]] std::string smaller() const;
    void etude(const PlannedSection& section, HeadPlace place);
    void note_pages_until(int page);
    // `paper`: settings of this part beside its page numbers.
    void open_part(int first_page, int pages, const std::string& footer, const std::string& paper = {},
                   int key = kNoKey);
    // An entry of the outline, for what begins on `page`.
    void mark(std::string title, int page) { text_.marks.push_back({std::move(title), page}); }
    void close_part() { *this << "}\n"; }
    // Staves to write on, under a heading; nothing for none. With the clef and key of `like`.
    void empty_staves(int staves, const std::string& name, const WrittenMusic& like);
    // For a line of the player's own: through the bars of a unit, else on some bars of the section's meter.
    void own_line(const PlannedSection& section);
    // A page or a section begins: what stood on the one before heads nothing here.
    void begin_anew() {
        headed_ = {};
        meter_ = std::nullopt;
    }

    LilypondBook& operator<<(std::string_view words) {
        text_.parts.back().text += words;
        return *this;
    }
    LilypondBook& operator<<(int number) { return *this << std::to_string(number); }
    LilypondBook& operator<<(double number);  // six digits, as streams have them

    const PagePlan& plan_;
    const PageRoom& room_;
    EngraverText text_;
    int next_page_ = 1;
    double wide_ = 1;                // of the part at hand, see Fault
    bool may_tear_ = false;          // the piece at hand is longer than a page
    bool takes_more_lines_ = false;  // the piece at hand
    bool is_tight_ = false;          // its staves stand close
    // Of the last piece above on this page.
    TempoBoxes headed_;
    std::optional<Meter> meter_;
};

// What a section is called: markup of its chord, its scale, or which round it is,
[[nodiscard]] std::string name_markup(const SectionStart& start);
// and plain words with its number.
[[nodiscard]] std::string name_in_outline(const SectionStart& start);
// What stands over the staves for a line of the player's own.
[[nodiscard]] std::string name_of_own_line(const std::variant<TopicHead, RoundHead, UnitHead>& head);
// Its feel and tempo; nothing where neither is known.
[[nodiscard]] std::string tempo_markup(const WrittenMusic& music);

// The text of a document of one part.
[[nodiscard]] EngraverText book_text(const Document& document, const PageRoom& room,
                                     const Faults& faults = {});

}  // namespace shedbook
