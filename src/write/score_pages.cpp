#include "score_pages.h"

#include <algorithm>
#include <cassert>
#include <vector>

#include "lilypond_music.h"
#include "lilypond_style.h"
#include "lilypond_text.h"
#include "page_plan.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

constexpr const char* kMayBreakPages = "\\override NonMusicalPaperColumn.page-break-permission = #'allow ";

// A piece of one part, with the lines that stand over it.
struct Piece {
    const WrittenMusic* music = nullptr;
    std::string sounds;  // the document's text over the first staff
    std::string scale;   // as this part reads it
};

std::vector<Piece> pieces_of(const PartOfScore& part) {
    std::vector<Piece> out;
    Piece next;
    for (const Block& block : part.blocks) {
        if (const auto* text = std::get_if<Text>(&block)) next.sounds = text->text;
        if (const auto* head = std::get_if<ChordHead>(&block)) next.scale = head->scale_name;
        if (const auto* music = std::get_if<WrittenMusic>(&block)) {
            next.music = music;
            out.push_back(next);
            next = {};
        }
    }
    return out;
}

std::string staff_of(const Piece& piece, const Instrument& instrument, bool with_full_name, int first_bar) {
    const std::string& name = with_full_name ? instrument.name : instrument.short_name;
    std::string staff = "\\new Staff \\with { instrumentName = \\markup \\sans \\fontsize #-1 " +
                        quoted(name) + " shortInstrumentName = \\markup \\sans \\fontsize #-1 " +
                        quoted(instrument.short_name) + " } { \\set Score.currentBarNumber = #" +
                        std::to_string(first_bar) + " \\bar \"\" ";
    if (!piece.scale.empty())
        staff += "<>^\\markup \\sans \\fontsize #-2 " + text_markup(with_signs(piece.scale)) + " ";
    std::string out = music_expression(*piece.music);
    const std::string plain = "\\new Staff { ";
    const std::size_t at = out.find(plain);
    assert(at != std::string::npos);
    return out.replace(at, plain.size(), staff);
}

std::string heading(const Piece& piece) {
    std::string title = "\\line { \\drillname " + text_markup(with_signs(piece.music->title));
    if (!piece.music->remark.empty())
        title += " \\fontsize #-2.5 \\italic " + text_markup(with_signs(piece.music->remark));
    return "\\header { number = \\markup \\dnum " + quoted(piece.music->number) + " dname = \\markup " +
           title + " } ticks = \\markup \\sans \\fontsize #-1 " + text_markup(with_signs(piece.sounds)) +
           " }\n";
}

}  // namespace

std::string score_pages(const Score& score, Paper paper) {
    const PageRoom& room = room_of(paper);
    std::vector<std::vector<Piece>> parts;
    for (const PartOfScore& part : score.parts) parts.push_back(pieces_of(part));
    // A point is 25.4 / 72.27 mm.
    const std::string size = std::to_string(staff_height(parts.size()) * 7227 / 25400);
    std::string out = "\\version \"2.24.0\"\n" + std::string{room.setup} + "#(set-default-paper-size \"" +
                      std::string{room.paper} + "\")\n" + std::string{kLilypondStyle} +
                      "#(set-global-staff-size " + size + ")\n\\header { tagline = ##f foottune = \\markup " +
                      text_markup(with_signs(score.title)) +
                      " footpart = \\markup \"Score\" }\n\\paper { two-sided = ##f left-margin = 15\\mm "
                      "right-margin = 12\\mm ragged-bottom = ##t ragged-last-bottom = ##t }\n"
                      "\\markup \\column { \\bold \\sans \\fontsize #5 " +
                      text_markup(with_signs(score.title)) + " \\vspace #0.2 \\draw-hline \\vspace #0.5 }\n";
    int first_bar = 1;
    for (std::size_t piece = 0; piece < parts.front().size(); ++piece) {
        const std::vector<Measure>& bars = parts.front()[piece].music->measures;
        const bool is_torn =
            std::any_of(bars.begin() + 1, bars.end(), [](const Measure& m) { return m.new_page; });
        if (bars.front().new_page) out += "\\pageBreak\n";
        out += "\\score { " + heading(parts.front()[piece]) + "\\new StaffGroup <<\n";
        for (std::size_t part = 0; part < parts.size(); ++part)
            out += staff_of(parts[part][piece], score.parts[part].instrument, piece == 0, first_bar);
        first_bar += static_cast<int>(bars.size());
        out += ">>\n\\layout { short-indent = 12\\mm indent = " + std::string{piece == 0 ? "30" : "12"} +
               "\\mm \\context { \\Score " + (is_torn ? kMayBreakPages : "") +
               "barNumberVisibility = #all-bar-numbers-visible \\undo \\omit BarNumber \\override "
               "BarNumber.font-size = #-3 } }\n}\n";
    }
    return out;
}

}  // namespace shedbook
