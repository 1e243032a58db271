#include "lilypond_music.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <numeric>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "lilypond_text.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

std::string pitch_text(Pitch pitch) {
    static constexpr std::array<const char*, 7> kSteps{"c", "d", "e", "f", "g", "a", "b"};
    std::string out = kSteps[static_cast<std::size_t>(pitch.step())];
    for (int alter = pitch.alter(); alter > 0; --alter) out += "is";
    for (int alter = pitch.alter(); alter < 0; ++alter) out += "es";
    // The engraver's c without a mark is C3.
    for (int octave = pitch.octave(); octave > 3; --octave) out += '\'';
    for (int octave = pitch.octave(); octave < 3; ++octave) out += ',';
    return out;
}

std::string value_text(NoteValue value) {
    return std::to_string(1 << value.log2) + std::string(static_cast<std::size_t>(value.dots), '.');
}

// A length as a multiple of a whole note: "1*3/4".
std::string length_text(Ticks ticks, Ticks ticks_per_quarter) {
    const Ticks whole = 4 * ticks_per_quarter;
    const Ticks common = std::gcd(ticks, whole);
    return "1*" + std::to_string(ticks / common) + "/" + std::to_string(whole / common);
}

std::string meter_text(const Meter& meter) {
    std::string groups;
    for (const int group : meter.grouping()) groups += (groups.empty() ? "" : " ") + std::to_string(group);
    return "\\time #'(" + groups + ") " + std::to_string(meter.beats) + "/" + std::to_string(meter.unit) +
           " ";
}

std::string clef_text(const Clef& clef) {
    std::string name = "treble";
    if (clef.sign == 'F') name = "bass";
    if (clef.sign == 'C') name = clef.line == 4 ? "tenor" : "alto";
    if (clef.octaves < 0) name += "_8";
    return "\\clef \"" + name + "\" ";
}

class MusicText {
  public:
    explicit MusicText(const WrittenMusic& music, std::string last_bar = "|.")
        : music_{music}, last_bar_{std::move(last_bar)} {}

    std::string staff() {
        out_ = clef_and_key(music_);
        const bool names_meter = !music_.measures.empty() && music_.measures[0].meter;
        if (names_meter) out_ += "\\undo \\omit Staff.TimeSignature \\numericTimeSignature ";
        out_ += meter_text(music_.meter);
        if (!music_.measures.empty() && music_.measures[0].is_pickup) {
            out_ += "\\partial " + length_text(length_of(music_.measures[0]), music_.ticks_per_quarter) + " ";
        }
        for (std::size_t i = 0; i < music_.measures.size(); ++i) measure(i);
        return std::move(out_);
    }

    // Chord symbols: at each change, and again at the beginning of a line.
    std::string symbols() {
        std::string out;
        std::optional<ChordSymbol> sounding;
        bool has_sounding = false;
        for (std::size_t i = 0; i < music_.measures.size(); ++i) {
            const Measure& measure = music_.measures[i];
            const Ticks length = length_of(measure);
            std::vector<ChordMark> marks(music_.chords_of(measure).begin(), music_.chords_of(measure).end());
            if (shows_percent(i)) marks.clear();
            const bool line_starts = i == 0 || measure.new_system || measure.new_page;
            if (line_starts && has_sounding && (marks.empty() || marks.front().at > 0)) {
                marks.insert(marks.begin(), ChordMark{0, sounding});
            }
            if (marks.empty() || marks.front().at > 0) {
                out += "\\skip " +
                       length_text(marks.empty() ? length : marks.front().at, music_.ticks_per_quarter) + " ";
            }
            for (std::size_t m = 0; m < marks.size(); ++m) {
                const Ticks end = m + 1 < marks.size() ? marks[m + 1].at : length;
                out += "\\markup " + chord_markup(marks[m]) + " " +
                       length_text(end - marks[m].at, music_.ticks_per_quarter) + " ";
                sounding = marks[m].symbol;
                has_sounding = true;
            }
        }
        return out;
    }

    // What stands in the row of fingerings, note by note.
    std::string fingerings() {
        std::string out;
        for (std::size_t e = 0; e < music_.events.size(); ++e) {
            const std::string length = length_text(music_.events[e].length, music_.ticks_per_quarter) + " ";
            const NoteFingering& fingering = music_.fingerings[e];
            out += fingering.text.empty() ? "\\skip " : fingering_markup(fingering) + " ";
            out += length;
        }
        return out;
    }

  private:
    // No line begins with a sign for the bar before, and no sign of the form stands over one.
    [[nodiscard]] bool shows_percent(std::size_t index) const {
        const Measure& measure = music_.measures[index];
        return measure.repeats_before && index > 0 && !measure.new_system && !measure.new_page &&
               measure.signs_before.empty() && measure.signs_after.empty();
    }

    static std::string chord_markup(const ChordMark& mark) {
        const std::string symbol = mark.symbol ? symbol_markup(*mark.symbol) : quoted("N.C.");
        return mark.is_optional ? "\\concat { \"(\" " + symbol + " \")\" }" : symbol;
    }
    // A fretted string is named in a circle, a bowed one by its letter.
    static std::string fingering_markup(const NoteFingering& fingering) {
        const std::string text = text_markup(fingering.text);
        if (fingering.string_name.empty()) return "\\markup " + text;
        const std::string name = quoted(fingering.string_name);
        return fingering.is_fret ? "\\markup \\onstring " + name + " " + text
                                 : "\\markup \\concat { \\bold " + name + " \\hspace #0.2 " + text + " }";
    }

    [[nodiscard]] Ticks length_of(const Measure& measure) const {
        const auto events = music_.events_of(measure);
        return events.empty() ? 0 : events.back().at + events.back().length;
    }

    void measure(std::size_t index) {
        const Measure& measure = music_.measures[index];
        measure_ = index;
        if (index > 0 && (measure.new_system || measure.new_page)) out_ += "\\break\n  ";
        // A pickup has none of its own for the engraver: the bar after it is the first.
        if (measure.number && *measure.number != next_number_ && !measure.is_pickup)
            out_ += "\\set Score.currentBarNumber = #" + std::to_string(*measure.number) + " ";
        next_number_ = measure.number.value_or(next_number_) + 1;
        if (measure.clef) out_ += clef_text(*measure.clef);
        if (measure.meter) out_ += meter_text(*measure.meter);
        if (measure.repeat_start) out_ += "\\bar \".|:\" ";
        brackets(index);
        for (const Sign& sign : measure.signs_before) {
            if (sign.form) {
                drawn_.push_back(&row_of(*sign.form));
            } else {
                out_ +=
                    "\\mark \\markup \\override #'(box-padding . 0.35) \\box \\sans \\bold \\fontsize #-2 " +
                    quoted(sign.label) + " ";
            }
        }
        const auto events = shows_percent(index) ? std::span<const Event>{} : music_.events_of(measure);
        // What would stand below the bar stands below the one that it repeats.
        if (shows_percent(index)) {
            while (next_text_ < music_.texts.size() && music_.texts[next_text_].measure == index)
                ++next_text_;
        }
        if (events.empty() && measure.repeats_before)
            out_ += "\\percentBar s" + length_text(length_of(measure), music_.ticks_per_quarter) + " ";
        for (const Event& event : events) {
            const bool is_last = &event == &events.back();
            for (const Sign& sign : measure.signs_after) {
                if (is_drawn(sign) && is_last && !stands_after(sign)) drawn_.push_back(&row_of(*sign.form));
            }
            this->event(event);
            if (is_last) after_note(measure.signs_after);
        }
        for (const Sign& sign : measure.signs_after) {
            if (is_drawn(sign)) continue;
            out_ += "\\tweak self-alignment-X #RIGHT \\mark \\markup \\sans \\fontsize #-1 " +
                    quoted(sign.form ? row_of(*sign.form).printed : sign.label) + " ";
        }
        const bool last = index + 1 == music_.measures.size();
        if (last && measure.ending && measure.ending->stops)
            out_ += "\\set Score.repeatCommands = #'((volta #f)) ";
        if (measure.repeat_end > 2)
            out_ += "\\textEndMark \\markup \\sans \\fontsize #-1 " +
                    quoted(std::to_string(measure.repeat_end) + "\u00D7") + " ";
        out_ += bar_line(index) + "\n  ";
    }

    // One bracket ends where the next begins: both are said at once, or the second would undo the first.
    void brackets(std::size_t index) {
        const Measure& measure = music_.measures[index];
        const Measure* before = index > 0 ? &music_.measures[index - 1] : nullptr;
        std::string commands;
        if (before != nullptr && before->ending && before->ending->stops) commands += "(volta #f)";
        if (measure.ending && measure.ending->starts)
            commands += "(volta " + quoted(measure.ending->numbers + ".") + ")";
        if (!commands.empty()) out_ += "\\set Score.repeatCommands = #'(" + commands + ") ";
    }

    [[nodiscard]] std::string bar_line(std::size_t index) const {
        const Measure& measure = music_.measures[index];
        const bool last = index + 1 == music_.measures.size();
        const bool next_repeats = !last && music_.measures[index + 1].repeat_start;
        if (measure.repeat_end > 0) return next_repeats ? "\\bar \":..:\"" : "\\bar \":|.\"";
        if (last) return "\\bar \"" + last_bar_ + "\"";
        if (next_repeats) return "|";
        return measure.right == Barline::Plain ? "|" : "\\bar \"||\"";
    }

    void event(const Event& event) {
        const auto* note = std::get_if<Sounded>(&event.what);
        if (note != nullptr && note->octave_line_starts)
            out_ += "\\ottava #" + std::to_string(int{note->octave_line}) + " ";
        if (event.tuplet.actual == 1) tuplets_in_a_row_ = 0;
        if (event.tuplet.starts) {
            // In an unbroken row of them the figure is printed for the first bar; afterwards the eye knows.
            constexpr int kKnown = 4;
            if (++tuplets_in_a_row_ > kKnown && !event.tuplet.bracket) out_ += "\\once \\omit TupletNumber ";
            out_ += "\\tuplet " + std::to_string(event.tuplet.actual) + "/" +
                    std::to_string(event.tuplet.normal) + " { ";
        }
        if (const auto* rest = std::get_if<Rest>(&event.what)) {
            if (rest->hidden) out_ += "\\once \\omit Rest ";
            out_ += rest->whole_bar ? "R" + length_text(event.length, music_.ticks_per_quarter)
                                    : "r" + value_text(event.value);
        } else if (note != nullptr) {
            this->note(*note, event);
        } else {
            const auto& slash = std::get<Slash>(event.what);
            out_ += (slash.has_stem ? "\\rhythmSlash " : "\\slashed ") + pitch_text(slash.on.on_paper()) +
                    value_text(event.value);
        }
        for (const FormSignRow* row : drawn_) out_ += "^\\markup \\musicglyph " + quoted(row->glyph);
        drawn_.clear();
        for (; next_text_ < music_.texts.size() && is_due(music_.texts[next_text_], event.at); ++next_text_) {
            // Over notes, below which there may be fingers, frets or another staff; below an empty staff.
            const auto* rest = std::get_if<Rest>(&event.what);
            const bool is_over = music_.texts[next_text_].names_bars && (rest == nullptr || !rest->hidden);
            out_ += is_over ? '^' : '_';
            // As high as any other word, so that what stands below it keeps to one line.
            out_ += "\\markup \\sans \\fontsize #-3 \\combine \\transparent \"|\" " +
                    text_markup(with_signs(music_.texts[next_text_].text));
        }
        out_ += ' ';
        if (note != nullptr && note->octave_line_stops) out_ += "\\ottava #0 ";
        if (note != nullptr && note->breath_after) out_ += "\\breathe ";
        if (event.tuplet.stops) out_ += "} ";
    }

    void note(const Sounded& note, const Event& event) {
        static constexpr const char* kArticulationMarks[] = {"", "-.", "--", "->"};
        static_assert(has_a_row_each<Articulation>(kArticulationMarks));
        const auto others = music_.notes_below(note);
        if (!others.empty()) out_ += '<';
        for (auto other = others.rbegin(); other != others.rend(); ++other) {
            pitch(other->pitch, other->shown);
            out_ += ' ';
        }
        pitch(note.pitch, note.shown);
        if (!others.empty()) out_ += '>';
        out_ += value_text(event.value);
        if (note.tied_on) out_ += '~';
        beam(event);
        if (note.slur_stops) out_ += ')';
        if (note.slur_starts) out_ += '(';
        out_ += kArticulationMarks[row_index(note.articulation)];
    }

    void pitch(WrittenPitch written, Accidental shown) {
        out_ += pitch_text(written.on_paper());
        if (shown != Accidental::None) out_ += '!';
    }

    [[nodiscard]] bool is_due(const TextMark& mark, Ticks at) const {
        return mark.measure < measure_ || (mark.measure == measure_ && mark.at <= at);
    }

    // Over a note; what is said in words stands at the bar line.
    static bool stands_after(const Sign& sign) { return row_of(*sign.form).seat == SignSeat::AfterNote; }
    // LilyPond's one sign between notes, with other glyphs (Notation Reference 2.24, 1.3.2 Breath marks): at
    // one moment it draws a single one.
    void after_note(const std::vector<Sign>& signs) {
        std::string glyphs;
        for (const Sign& sign : signs) {
            if (is_drawn(sign) && stands_after(sign))
                glyphs += "\\musicglyph " + quoted(row_of(*sign.form).glyph) + " ";
        }
        if (!glyphs.empty())
            out_ += "\\once \\override BreathingSign.text = \\markup \\line { " + glyphs +
                    "} \\once \\override BreathingSign.outside-staff-priority = ##f \\breathe ";
    }
    static bool is_drawn(const Sign& sign) { return sign.form && !row_of(*sign.form).glyph.empty(); }

    void beam(const Event& event) {
        const Beam first = event.beams[0];
        if (first == Beam::Begin) out_ += '[';
        if (first == Beam::End) out_ += ']';
        if (first == Beam::None && event.value.log2 >= 3) out_ += "\\noBeam";
    }

    const WrittenMusic& music_;
    std::string last_bar_;
    std::string out_;
    std::vector<const FormSignRow*> drawn_;  // over the next event
    int tuplets_in_a_row_ = 0;               // with nothing else between them
    std::size_t measure_ = 0;
    int next_number_ = 1;
    std::size_t next_text_ = 0;
};

}  // namespace

std::string music_expression(const WrittenMusic& music, const StaffWords& words) {
    const std::string settings = words.settings ? "\\with { " + *words.settings + "} " : "";
    const std::string upper =
        "\\new Staff " + settings + "{ " + words.start + MusicText{music, words.last_bar}.staff() + "}\n";
    std::string staves = upper;
    if (!music.fingerings.empty()) {
        // The frets of a chord are a word of their own: two words a beat apart must not read as one.
        const bool has_shapes = std::ranges::any_of(music.fingerings, [](const NoteFingering& fingering) {
            return fingering.text.find(' ') != std::string::npos;
        });
        staves += std::string{"  \\new Lyrics \\with "} + (has_shapes ? "\\shapeRow" : "\\fingeringRow") +
                  " \\lyricmode { " + MusicText{music}.fingerings() + "}\n";
    }
    if (!music.lower.empty()) {
        staves = "\\new PianoStaff << " + upper + "  \\new Staff { " +
                 MusicText{music.lower.front(), words.last_bar}.staff() + "}\n>>\n";
    }
    return "<<\n  \\new Lyrics \\lyricmode { " + MusicText{music}.symbols() + "}\n  " + staves + ">>\n";
}

std::string clef_and_key(const WrittenMusic& music) {
    std::string out = clef_text(music.clef);
    if (!music.open_key)
        out += "\\key " + pitch_text(Pitch{PitchClass::from_fifths(music.key_fifths), 3}) + " \\major ";
    return out;
}

int count_systems(const WrittenMusic& music) {
    int systems = 1;
    for (std::size_t i = 1; i < music.measures.size(); ++i) systems += music.measures[i].new_system ? 1 : 0;
    return systems;
}

double room_on_page(const WrittenMusic& music) {
    // Staff spaces of ledger lines that cost nothing, and how many more cost as much as a system: measured on
    // pages of low and high instruments.
    constexpr int kFree = 3;
    constexpr double kSystemHeight = 10;
    constexpr double kOctaveLine = 0.15;
    const std::vector<Clef> clefs = music.clefs();
    double room = 0;
    int above = 0;
    int below = 0;
    bool has_octave_line = false;
    const auto end_system = [&] {
        room += 1 + std::max(0, (above + below) / 2 - kFree) / kSystemHeight;
        if (has_octave_line) room += kOctaveLine;
        above = below = 0;
        has_octave_line = false;
    };
    for (std::size_t m = 0; m < music.measures.size(); ++m) {
        if (m > 0 && music.measures[m].new_system) end_system();
        const int middle = middle_line(clefs[m]);
        for (const Event& event : music.events_of(music.measures[m])) {
            const auto* note = std::get_if<Sounded>(&event.what);
            if (note == nullptr) continue;
            const auto [low, high] = music.staff_places(*note);
            const int drawn_middle = middle + 7 * note->octave_line;
            above = std::max(above, high - drawn_middle - 4);
            below = std::max(below, drawn_middle - low - 4);
            has_octave_line = has_octave_line || note->octave_line != 0;
        }
    }
    end_system();
    // A row of fingerings is as high as two ledger lines and the gap above them.
    constexpr double kFingeringRow = 0.2;
    if (!music.fingerings.empty()) room += kFingeringRow * count_systems(music);
    // A system of two staves has one row of chords and one heading: from measurement.
    constexpr double kTwoStaves = 1.6;
    return music.lower.empty() ? room : room * kTwoStaves;
}

}  // namespace shedbook
