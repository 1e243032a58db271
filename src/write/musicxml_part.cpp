#include "musicxml_part.h"

#include <algorithm>
#include <cassert>
#include <ostream>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

constexpr std::size_t kFlushAt = 60 * 1024;
// Longer rows of words run over the edge of the page in the readers we tried.
constexpr std::size_t kLongestLine = 80;

}  // namespace

MusicXmlPart::MusicXmlPart(std::ostream* out, int number) : out_{out} {
    append_part_start(text_, number);
}

void MusicXmlPart::say(const std::string& words) {
    for (std::string& line : wrapped(words, kLongestLine)) pending_lines_.push_back(std::move(line));
}

void MusicXmlPart::finish() {
    assert(has_music_);
    close_last_measure(true);
    text_ += "  </part>\n";
    flush();
}

void MusicXmlPart::write(const WrittenMusic& music, const PieceWords& words) {
    if (music.measures.empty()) return;
    close_last_measure(false);
    next_text_ = 0;
    for (std::size_t i = 0; i < music.measures.size(); ++i) {
        const Measure& measure = music.measures[i];
        write_measure(music, measure, i == 0 ? &words : nullptr);
        if (i + 1 < music.measures.size()) {
            right_barline(measure, false);
            text_ += "    </measure>\n";
        }
        flush_if_large();
    }
    open_measure_ = music.measures.back();
    has_music_ = true;
}

void MusicXmlPart::write_measure(const WrittenMusic& music, const Measure& measure, const PieceWords* words) {
    const bool is_first = words != nullptr;
    const bool short_start = measure.is_pickup && !has_music_ && is_first;
    if (short_start) next_number_ = 0;
    text_ += "    <measure number=\"";
    append_number(text_, next_number_++);
    text_ += short_start ? "\" implicit=\"yes\">\n" : "\">\n";
    print_element(music, measure, is_first);
    attributes(music, measure, is_first);
    left_barline(measure);
    if (is_first) heading(music, *words);
    signs(measure.signs_before);
    contents(music, measure);
}

void MusicXmlPart::print_element(const WrittenMusic& music, const Measure& measure, bool is_first) {
    if (!is_first && !measure.new_system && !measure.new_page) return;
    const bool page = measure.new_page || (is_first && std::exchange(pending_page_, false));
    if (page) {
        text_ += "      <print new-page=\"yes\">";
    } else if (has_music_ || !is_first) {
        text_ += "      <print new-system=\"yes\">";
    } else {
        text_ += "      <print>";
    }
    if (is_first) {
        text_ += music.shows_bar_numbers ? "<measure-numbering>system</measure-numbering>"
                                         : "<measure-numbering>none</measure-numbering>";
    }
    text_ += "</print>\n";
}

void MusicXmlPart::attributes(const WrittenMusic& music, const Measure& measure, bool is_first) {
    const bool file_starts = is_first && !has_music_;
    const int key = music.open_key ? 0 : music.key_fifths;
    const Meter& meter = measure.meter ? *measure.meter : is_first ? music.meter : *meter_;
    const bool hidden = music.open_key && !measure.meter;
    const bool new_key = is_first && key_ != key;
    const bool new_meter = meter_ != meter || (is_first && hidden != meter_hidden_);
    // Quintuplets ask for a finer division than the pieces around them.
    const bool new_divisions = is_first && divisions_ != music.ticks_per_quarter;
    const std::vector<ClefOfStaff> new_clefs = take_new_clefs(music, measure);
    if (!file_starts && !new_divisions && !new_key && !new_meter && new_clefs.empty()) return;
    text_ += "      <attributes>";
    if (new_divisions) {
        divisions_ = music.ticks_per_quarter;
        text_ += "<divisions>";
        append_number(text_, divisions_);
        text_ += "</divisions>";
    }
    if (new_key) {
        text_ += "<key><fifths>";
        append_number(text_, key);
        text_ += "</fifths>";
        if (music.key_mode && !music.open_key) text_ += "<mode>" + to_string(*music.key_mode) + "</mode>";
        text_ += "</key>";
        key_ = key;
    }
    if (new_meter) {
        text_ += hidden ? "<time print-object=\"no\"><beats>" : "<time><beats>";
        // A stated division ("3+2") is written as it was stated.
        const std::string written = to_string(meter);
        text_ += written.substr(0, written.find('/'));
        text_ += "</beats><beat-type>";
        append_number(text_, meter.unit);
        text_ += "</beat-type></time>";
        meter_ = meter;
        meter_hidden_ = hidden;
    }
    if (file_starts && !music.lower.empty()) text_ += "<staves>2</staves>";
    for (const ClefOfStaff& each : new_clefs) clef(each.clef, each.staff);
    if (file_starts) {
        const Transposition& t = music.transposition;
        if (t != Transposition{}) {
            text_ += "<transpose><diatonic>";
            append_number(text_, t.diatonic);
            text_ += "</diatonic><chromatic>";
            append_number(text_, t.chromatic);
            text_ += "</chromatic>";
            if (t.octaves != 0) {
                text_ += "<octave-change>";
                append_number(text_, t.octaves);
                text_ += "</octave-change>";
            }
            text_ += "</transpose>";
        }
    }
    text_ += "</attributes>\n";
}

// Those that are others than were said last.
std::vector<MusicXmlPart::ClefOfStaff> MusicXmlPart::take_new_clefs(const WrittenMusic& music,
                                                                    const Measure& measure) {
    const auto index = static_cast<std::size_t>(&measure - music.measures.data());
    std::vector<ClefOfStaff> out;
    const auto take = [&](const WrittenMusic& staff, int number, std::optional<Clef>& said) {
        if (index >= staff.measures.size()) return;
        const std::optional<Clef> now = index == 0 ? staff.clef : staff.measures[index].clef;
        if (!now || now == said) return;
        said = now;
        out.push_back({*now, number});
    };
    take(music, music.lower.empty() ? 0 : 1, clefs_[0]);
    if (!music.lower.empty()) take(music.lower.front(), 2, clefs_[1]);
    return out;
}

void MusicXmlPart::clef(const Clef& clef, int staff) {
    text_ += staff == 0   ? "<clef><sign>"
             : staff == 1 ? "<clef number=\"1\"><sign>"
                          : "<clef number=\"2\"><sign>";
    text_ += clef.sign;
    text_ += "</sign><line>";
    append_number(text_, clef.line);
    text_ += "</line>";
    if (clef.octaves != 0) {
        text_ += "<clef-octave-change>";
        append_number(text_, clef.octaves);
        text_ += "</clef-octave-change>";
    }
    text_ += "</clef>";
}

void MusicXmlPart::lower_staff(const WrittenMusic& music, std::size_t index) {
    if (music.lower.empty() || index >= music.lower.front().measures.size()) return;
    const WrittenMusic& lower = music.lower.front();
    const auto events = lower.events_of(lower.measures[index]);
    if (events.empty()) return;
    append_backup(text_, events.back().at + events.back().length);
    for (const Event& event : events) append_event(text_, lower, event, 2);
}

void MusicXmlPart::left_barline(const Measure& measure) {
    const bool ending_starts = measure.ending && measure.ending->starts;
    if (!measure.repeat_start && !ending_starts) return;
    text_ += "      <barline location=\"left\">";
    if (measure.repeat_start) text_ += "<bar-style>heavy-light</bar-style>";
    if (ending_starts) {
        text_ += "<ending number=\"";
        append_escaped(text_, measure.ending->numbers);
        text_ += "\" type=\"start\">";
        append_escaped(text_, measure.ending->numbers);
        text_ += ".</ending>";
    }
    if (measure.repeat_start) text_ += "<repeat direction=\"forward\"/>";
    text_ += "</barline>\n";
}

void MusicXmlPart::heading(const WrittenMusic& music, const PieceWords& words) {
    append_heading(text_, music, words);
    if (!pending_boxes_.empty()) {
        // What the tempos count is said where it is no quarter.
        const NoteValue beat = note_value(music.meter.beat_length());
        if (beat != NoteValue{}) pending_boxes_ += "      (beats of a " + in_words(beat) + ")";
        pending_lines_.push_back(std::exchange(pending_boxes_, {}));
    }
    // Of several texts over one place the later stands further from the staff: the top line comes last.
    while (!pending_lines_.empty()) {
        append_words(text_, pending_lines_.back(), "normal", 11);
        pending_lines_.pop_back();
    }
}

void MusicXmlPart::signs(const std::vector<Sign>& signs) {
    for (const Sign& sign : signs) {
        if (!sign.form) {
            append_section_label(text_, sign.label);
        } else if (row_of(*sign.form).seat == SignSeat::Bar) {
            append_form_sign(text_, row_of(*sign.form));
        }
    }
}

const NoteFingering* MusicXmlPart::fingering_of(const WrittenMusic& music, const Event& event) {
    if (music.fingerings.empty()) return nullptr;
    const NoteFingering& out = music.fingerings[static_cast<std::size_t>(&event - music.events.data())];
    return out.text.empty() ? nullptr : &out;
}

void MusicXmlPart::contents(const WrittenMusic& music, const Measure& measure) {
    const auto chords = music.chords_of(measure);
    const auto index = static_cast<std::size_t>(&measure - music.measures.data());
    const auto is_before = [](const TextMark& mark, std::size_t in, Ticks at) {
        return mark.measure < in || (mark.measure == in && mark.at <= at);
    };
    std::size_t next = 0;
    for (const Event& event : music.events_of(measure)) {
        // Nothing may stand between a chord symbol and its note.
        for (; next_text_ < music.texts.size() && is_before(music.texts[next_text_], index, event.at);
             ++next_text_) {
            const TextMark& mark = music.texts[next_text_];
            if (mark.names_bars) {
                append_words(text_, mark.text, "normal", 8);
            } else {
                append_words_below(text_, mark.text);
            }
        }
        const auto* note = std::get_if<Sounded>(&event.what);
        if (note != nullptr && note->octave_line_starts) append_octave_line_start(text_, note->octave_line);
        for (; next < chords.size() && chords[next].at < event.at + event.length; ++next)
            append_chord(text_, chords[next], std::max<Ticks>(0, chords[next].at - event.at));
        const bool is_last = &event == &music.events_of(measure).back();
        append_event(text_, music, event, music.lower.empty() ? 0 : 1, fingering_of(music, event),
                     is_last ? sign_notations(measure.signs_after) : std::string{});
        if (note != nullptr && note->octave_line_stops) append_octave_line_stop(text_, note->octave_line);
    }
    lower_staff(music, index);
    signs(measure.signs_after);
}

void MusicXmlPart::right_barline(const Measure& measure, bool file_ends) {
    const bool ending_stops = measure.ending && measure.ending->stops;
    const bool repeats = measure.repeat_end > 0;
    std::string_view style;
    if (repeats || file_ends) {
        style = "light-heavy";
    } else if (measure.right != Barline::Plain) {
        style = "light-light";
    }
    if (style.empty() && !ending_stops) return;
    text_ += "      <barline location=\"right\">";
    if (!style.empty()) {
        text_ += "<bar-style>";
        text_ += style;
        text_ += "</bar-style>";
    }
    if (ending_stops) {
        text_ += "<ending number=\"";
        append_escaped(text_, measure.ending->numbers);
        text_ += measure.ending->open ? "\" type=\"discontinue\"/>" : "\" type=\"stop\"/>";
    }
    if (repeats) {
        text_ += "<repeat direction=\"backward\"";
        if (measure.repeat_end > 2) {
            text_ += " times=\"";
            append_number(text_, measure.repeat_end);
            text_ += "\"";
        }
        text_ += "/>";
    }
    text_ += "</barline>\n";
}

void MusicXmlPart::close_last_measure(bool file_ends) {
    if (!open_measure_) return;
    if (open_measure_->right == Barline::Plain) open_measure_->right = Barline::Double;
    right_barline(*open_measure_, file_ends);
    text_ += "    </measure>\n";
    open_measure_.reset();
}

void MusicXmlPart::flush_if_large() {
    if (text_.size() >= kFlushAt) flush();
}

void MusicXmlPart::flush() {
    if (out_ == nullptr) return;
    out_->write(text_.data(), static_cast<std::streamsize>(text_.size()));
    text_.clear();
}

}  // namespace shedbook
