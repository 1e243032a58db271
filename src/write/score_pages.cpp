#include "score_pages.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "lilypond_music.h"
#include "lilypond_style.h"
#include "lilypond_text.h"
#include "page_plan.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/music_text.h"
#include "shedbook/notation/score_layout.h"

namespace shedbook {
namespace {

constexpr const char* kMayBreakPages = "\\override NonMusicalPaperColumn.page-break-permission = #'allow ";

// A staff of one part. Over the first of a section stands the scale as it is read there; null: no head.
std::string staff_of(const WrittenMusic& music, const Instrument& instrument, const TopicInPart* topic,
                     bool with_full_name, int first_bar) {
    const std::string& name = with_full_name ? instrument.name : instrument.short_name;
    StaffWords words;
    words.settings = "instrumentName = \\markup \\sans \\fontsize #-1 " + quoted(name) +
                     " shortInstrumentName = \\markup \\sans \\fontsize #-1 " +
                     quoted(instrument.short_name) + " ";
    words.start = "\\set Score.currentBarNumber = #" + std::to_string(first_bar) + " \\bar \"\" ";
    if (topic != nullptr)
        words.start +=
            "<>^\\markup \\sans \\fontsize #-2 " + text_markup(with_signs(to_string(topic->scale))) + " ";
    return music_expression(music, words);
}

std::string heading_markup(const Drill& drill, const std::string& sounds) {
    const PieceHeading heading = heading_of(drill);
    std::string title = "\\line { \\drillname " + text_markup(with_signs(heading.title));
    if (!heading.remark.empty())
        title += " \\fontsize #-2.5 \\italic " + text_markup(with_signs(heading.remark));
    return "\\header { number = \\markup \\dnum " + quoted(in_words(drill.number)) + " dname = \\markup " +
           title + " } ticks = \\markup \\sans \\fontsize #-1 " + text_markup(with_signs(sounds)) + " }\n";
}

std::string preamble_of(const Document& score, const PageRoom& room) {
    // A point is 25.4 / 72.27 mm.
    const std::string size = std::to_string(staff_height(score.head.parts.size()) * 7227 / 25400);
    const std::string title = text_markup(with_signs(score.head.title));
    return "\\version \"2.24.0\"\n" + std::string{room.setup} + "#(set-default-paper-size \"" +
           std::string{room.paper} + "\")\n" + std::string{kLilypondStyle} + std::string{kLilypondReport} +
           "#(set-global-staff-size " + size + ")\n\\header { tagline = ##f foottune = \\markup " + title +
           " footpart = \\markup \"Score\" }\n\\paper { two-sided = ##f left-margin = 15\\mm "
           "right-margin = 12\\mm ragged-bottom = ##t ragged-last-bottom = ##t }\n"
           "\\markup \\column { \\bold \\sans \\fontsize #5 " +
           title + " \\vspace #0.2 \\draw-hline \\vspace #0.5 }\n";
}

// The pieces of a score one after the other.
class ScorePages {
  public:
    explicit ScorePages(const Document& score) : score_{score} {}

    std::string text() {
        for (const Block& block : score_.blocks) {
            if (const auto* start = std::get_if<SectionStart>(&block))
                head_ = std::get_if<TopicHead>(&start->head);
            if (const auto* drill = std::get_if<Drill>(&block)) add(*drill);
        }
        return std::move(out_);
    }

  private:
    void add(const Drill& drill) {
        const std::vector<Measure>& bars = drill.music.front().measures;
        const bool is_first = first_bar_ == 1;
        const bool is_torn =
            std::any_of(bars.begin() + 1, bars.end(), [](const Measure& m) { return m.new_page; });
        if (bars.front().new_page) out_ += "\\pageBreak\n";
        out_ += "\\score { " + heading_markup(drill, head_ != nullptr ? as_it_sounds(*head_) : "") +
                "\\new StaffGroup <<\n";
        for (std::size_t part = 0; part < drill.music.size(); ++part) {
            const TopicInPart* topic = head_ != nullptr ? &head_->parts[part] : nullptr;
            out_ += staff_of(drill.music[part], score_.head.parts[part], topic, is_first, first_bar_);
        }
        out_ +=
            ">>\n\\layout { short-indent = 12\\mm indent = " + std::string{is_first ? "30" : "12"} +
            "\\mm \\context { \\Score " + (is_torn ? kMayBreakPages : "") +
            "barNumberVisibility = #all-bar-numbers-visible \\undo \\omit BarNumber \\override "
            "BarNumber.font-size = #-3 }" +
            (is_first ? " \\context { \\Staff \\undo \\omit TimeSignature \\numericTimeSignature }" : "") +
            " }\n}\n";
        first_bar_ += static_cast<int>(bars.size());
        head_ = nullptr;
    }

    const Document& score_;
    const TopicHead* head_ = nullptr;  // of the section, until its first drill
    int first_bar_ = 1;
    std::string out_;
};

}  // namespace

EngraverText score_text(const Document& score, Paper paper) {
    EngraverText out;
    out.preamble = preamble_of(score, room_of(paper));
    out.title = score.head.title;
    out.author = score.head.composer;
    out.parts.push_back({kNoKey, 1, 0, ScorePages{score}.text()});
    return out;
}

}  // namespace shedbook
