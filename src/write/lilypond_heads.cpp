// The heads of sections, and what sections are called.
#include <algorithm>

#include "lilypond_book.h"
#include "lilypond_music.h"
#include "lilypond_text.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/memory_page.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

std::string small_line(const std::string& label, const std::vector<std::string>& words) {
    std::string out =
        "\\override #'(word-space . 1.2) \\line { \\sans \\fontsize #-1 { \\combine \\hspace #8 " +
        quoted(label);
    for (const std::string& word : words) out += " " + text_markup(word);
    return out + " } }";
}

constexpr std::string_view kMayTurn =
    "\\context { \\Score \\override NonMusicalPaperColumn.page-break-permission = #'allow } ";

// Where a score begins that the player writes.
std::string own_score(const std::string& name) {
    return "\\score { \\header { number = \\markup \\null dname = \\markup \\drillname " + quoted(name) +
           " ticks = \\markup \\null }\n ";
}

// Of a staff to write on: bars as wide as each other, for what is not seen takes its room in each.
std::string empty_bars(const Meter& meter, int bars) {
    const std::string unit = std::to_string(meter.unit);
    std::string out;
    for (int bar = 0; bar < bars; ++bar) {
        for (int beat = 0; beat < meter.beats; ++beat) out += "r" + unit + " ";
        out += bar + 1 < bars ? "| " : "";
    }
    return out;
}

// In letters.
std::size_t length_of_name(const SectionStart& start) {
    if (const auto* unit = std::get_if<UnitHead>(&start.head)) return count_characters(unit->name);
    const auto* topic = std::get_if<TopicHead>(&start.head);
    if (topic == nullptr) return count_characters(title_of(std::get<RoundHead>(start.head)));
    const TopicInPart& read = topic->parts.front();
    return count_characters(read.symbol ? to_string(*read.symbol) : to_string(read.scale));
}

}  // namespace

std::string name_markup(const SectionStart& start) {
    if (const auto* topic = std::get_if<TopicHead>(&start.head)) return symbol_or_scale(topic->parts.front());
    if (const auto* unit = std::get_if<UnitHead>(&start.head)) return text_markup(with_signs(unit->name));
    return text_markup(title_of(std::get<RoundHead>(start.head)));
}

std::string name_in_outline(const SectionStart& start) {
    const std::string number = std::to_string(start.number) + " ";
    if (const auto* unit = std::get_if<UnitHead>(&start.head)) return number + with_signs(title_of(*unit));
    const auto* topic = std::get_if<TopicHead>(&start.head);
    if (topic == nullptr) return number + title_of(std::get<RoundHead>(start.head));
    const TopicInPart& read = topic->parts.front();
    const std::string symbol = read.symbol ? to_string(*read.symbol) + ", " : "";
    return number + with_signs(symbol + to_string(read.scale));
}

std::string name_of_own_line(const std::variant<TopicHead, RoundHead, UnitHead>& head) {
    if (const auto* topic = std::get_if<TopicHead>(&head))
        return topic->parts.front().symbol ? "Your own line on this chord" : "Your own line on this scale";
    return std::holds_alternative<UnitHead>(head) ? "Your own line through these bars" : "Your own line";
}

void LilypondBook::empty_staves(int staves, const std::string& name, const WrittenMusic& like) {
    if (staves == 0) return;
    *this << own_score(name) << "\\new Staff \\with { \\omit BarLine } { " << clef_and_key(like);
    for (int staff = 0; staff < staves; ++staff) *this << (staff > 0 ? "\\break " : "") << "s1 ";
    *this << "} \\layout { " << kMayTurn << "} }\n";
}

void LilypondBook::own_line(const PlannedSection& section) {
    if (section.empty_staves == 0) return;
    const WrittenMusic& like = section.first_music();
    *this << own_score(name_of_own_line(section.section()->head));
    if (section.is_unit()) {
        *this << music_expression(with_empty_staves(like, 0)) << layout("\\lineLayout ") << "}\n";
        return;
    }
    constexpr int kBars = 4;
    *this << "\\new Staff { " << clef_and_key(like) << "\\omit Rest \\time " << like.meter.beats << "/"
          << like.meter.unit << " ";
    for (int staff = 0; staff < section.empty_staves; ++staff)
        *this << (staff > 0 ? "\\break " : "") << empty_bars(like.meter, kBars);
    *this << "\\bar \"|.\" } " << layout("\\meterLayout " + std::string{kMayTurn}) << "}\n";
}

std::string LilypondBook::space_above(HeadPlace place) const {
    if (place != HeadPlace::Below) return "";
    return is_tight_ ? "\\vspace #0.3 " : "\\vspace #0.5 ";
}

void LilypondBook::section_head(const SectionStart& start, HeadPlace place) {
    const bool is_alone = place == HeadPlace::Alone;
    // What a letter of the name takes, and what stands beside it may.
    const double letter = is_alone ? 2.2 : 1.6;
    // On a sheet that stands alone it says at the right whose it is.
    const std::string player = plan_.is_book() ? "" : plan_.head->parts.front().name;
    const double right = 0.9 * static_cast<double>(count_characters(player));
    const double beside = std::min(86.0, 97 - right - letter * static_cast<double>(length_of_name(start)));
    if (const auto* unit = std::get_if<UnitHead>(&start.head)) return unit_head(start.number, *unit, place);
    *this << "\\markup " << smaller() << "\\column { " << space_above(place)
          << (player.empty() ? "" : "\\fill-line { ") << "\\line { \\bold \\sans \\fontsize #"
          << (is_alone ? 8 : 5) << " " << name_markup(start) << " \\hspace #3 \\column { ";
    std::string why;
    if (const auto* topic = std::get_if<TopicHead>(&start.head)) {
        const TopicInPart& read = topic->parts.front();
        if (read.symbol)
            *this << "\\line { \\sans \\fontsize #3 " << text_markup(with_signs(to_string(read.scale)))
                  << " } ";
        std::vector<std::string> notes;
        for (const PitchClass note : read.notes) notes.push_back(with_signs(to_string(note)));
        if (!topic->is_from_memory) {
            *this << small_line("Degrees", topic->degrees) << " " << small_line("Notes", notes) << " ";
            why = topic->reason;
        }
        const bool are_told = topic->reason_tells_bars && !topic->is_from_memory;
        if (!topic->bars.empty() && !are_told)
            why += (why.empty() ? "" : " \u00B7 ") + bars_in_words(topic->bars);
        if (const std::string shared = shared_notes(*topic); !shared.empty())
            *this << "\\fontsize #-1.5 \\override #'(baseline-skip . 1.8) \\override #'(line-width . "
                  << std::min(70.0, beside) << ") \\wordwrap-string " << quoted(with_signs(shared))
                  << " \\vspace #0.1 ";
    } else {
        why = reason_of(std::get<RoundHead>(start.head));
    }
    if (!why.empty())
        *this << "\\fontsize #-1.5 \\italic \\override #'(baseline-skip . 1.8) \\override #'(line-width . "
              << beside << ") \\wordwrap-string " << quoted(with_signs(why)) << " ";
    *this << "} } ";
    if (!player.empty()) *this << "\\fontsize #-1 \\italic " << text_markup(player) << " } ";
    *this << "\\vspace #0.3 \\draw-hline }\n";
}

void LilypondBook::unit_head(int number, const UnitHead& unit, HeadPlace place) {
    *this << "\\markup " << smaller() << "\\column { " << space_above(place)
          << "\\line { \\bold \\sans \\fontsize #" << (place == HeadPlace::Alone ? 5 : 3) << " { "
          << quoted(std::to_string(number)) << " \\hspace #0.6 " << text_markup(with_signs(title_of(unit)))
          << " } } ";
    if (const std::string why = reason_of(unit); !why.empty())
        *this << "\\fontsize #-1.5 \\italic \\override #'(baseline-skip . 2.2) \\override #'(line-width . "
              << room_.text_width << ") \\wordwrap-string " << quoted(with_signs(why)) << " ";
    *this << "\\vspace #0.4 \\draw-hline }\n";
}

}  // namespace shedbook
