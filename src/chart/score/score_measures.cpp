#include "score_measures.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "../form_words.h"
#include "../numbers.h"
#include "score_values.h"
#include "score_words.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

// A section's name that is too long for a rehearsal mark stands as words in a box.
bool is_boxed(pugi::xml_node words) {
    const std::string_view box = words.attribute("enclosure").value();
    return box == "rectangle" || box == "square";
}

constexpr int kMostAccidentalsInKey = 7;

// Bars of the same bar repeated are written with the number of bars in the pattern.
constexpr int kLongestMeasureRepeat = 8;

Key moved(Key key, Interval by) {
    return {key.tonic + by, key.mode};
}

// An interval between written and sounding key that keeps the latter within seven accidentals: a part in an
// enharmonic key (D flat for C sharp) comes home in the plain one.
Interval within_signature(Interval by, const std::optional<Key>& written) {
    if (!written) return by;
    const int fifths = signature(moved(*written, by));
    if (fifths > kMostAccidentalsInKey) return by + kDiminishedSecond;
    if (fifths < -kMostAccidentalsInKey) return by - kDiminishedSecond;
    return by;
}

std::string beat_text(Position at, const Meter& meter) {
    return to_string((at - Position{}) / meter.unit_length() + Rational{1});
}

}  // namespace

ScoreBar MeasureReader::read(const ScoreMeasure& measure, int index) {
    ScoreBar out;
    bar_ = &out;
    out.measure = index;
    out.is_implicit = std::string_view{measure.head.attribute("implicit").value()} == "yes";
    cursor_.begin_measure(index);
    bool has_other_notes = false;
    for (const pugi::xml_node element : measure.content.children()) {
        take(element);
        if (std::string_view{element.name()} != "note") continue;
        has_begun_ = true;
        const bool full_rest = std::string_view{element.child("rest").attribute("measure").value()} == "yes";
        out.has_full_rest = out.has_full_rest || full_rest;
        has_other_notes = has_other_notes || !full_rest;
    }
    out.has_full_rest = out.has_full_rest && !has_other_notes;
    out.content = cursor_.filled();
    for (const auto& [row, at] : std::exchange(after_notes_, {})) {
        if (at < Position{} + out.content)
            messages_.warning(index, {},
                              "the " + std::string{row->word} + " stands before the end of the bar",
                              "it is taken for one at the end");
    }
    out.meter = meter_;
    out.measure_repeat = measure_repeat_;
    std::ranges::stable_sort(out.bar.chords, {}, &PlacedChord::at);
    std::ranges::stable_sort(out.bar.melody, {}, &MelodyNote::at);
    has_begun_ = true;
    return out;
}

void MeasureReader::take(pugi::xml_node element) {
    using Taker = void (MeasureReader::*)(pugi::xml_node);
    static constexpr std::array<std::pair<std::string_view, Taker>, 4> kTakers{{
        {"note", &MeasureReader::take_note},
        {"harmony", &MeasureReader::take_harmony},
        {"direction", &MeasureReader::take_direction},
        {"attributes", &MeasureReader::take_attributes},
    }};
    const std::string_view name = element.name();
    for (const auto& [known, taker] : kTakers) {
        if (name == known) return (this->*taker)(element);
    }
    if (cursor_.take_move(element)) return;
    if (name == "barline") {
        take_barline(element, *bar_);
    } else if (name == "sound") {
        take_sound_marks(element, bar_->bar.marks.signs);
        take_tempo({}, element);
    }
}

void MeasureReader::take_attributes(pugi::xml_node attributes) {
    cursor_.take_divisions(attributes);
    if (const pugi::xml_node transpose = attributes.child("transpose")) take_transpose(transpose);
    if (const pugi::xml_node key = attributes.child("key")) take_key(key);
    if (const pugi::xml_node time = attributes.child("time")) take_time(time);
    for (const pugi::xml_node style : attributes.children("measure-style")) take_measure_style(style);
}

void MeasureReader::take_transpose(pugi::xml_node transpose) {
    transpose_ = interval_of(transpose);
    to_concert_ = within_signature(transpose_, written_key_);
    if (!has_begun_) header_.to_concert = transpose_;
}

void MeasureReader::take_key(pugi::xml_node key) {
    const std::optional<Key> written = key_of(key);
    if (!written) {
        messages_.warning(bar_->measure, {}, "this key signature is not one of fifths", "it is left out");
        return;
    }
    written_key_ = written;
    to_concert_ = within_signature(transpose_, written);
    const Key sounding = moved(*written, to_concert_);
    if (!has_begun_) {
        header_.key = sounding;
    } else if (sounding != key_) {
        bar_->bar.key = sounding;
    }
    key_ = sounding;
}

void MeasureReader::take_time(pugi::xml_node time) {
    const std::optional<Meter> meter = meter_of(time);
    if (!meter && !time.child("senza-misura")) {
        messages_.warning(bar_->measure, {}, "this meter is not understood",
                          "bars are as long as what stands in them");
    }
    meter_ = meter;
    if (!has_begun_) {
        header_.meter = meter;
    } else {
        bar_->bar.meter = meter;
    }
}

void MeasureReader::take_measure_style(pugi::xml_node style) {
    const pugi::xml_node repeat = style.child("measure-repeat");
    if (!repeat) return;
    const bool starts = std::string_view{repeat.attribute("type").value()} == "start";
    const int bars = repeat.text().as_int(1);
    measure_repeat_ = starts && bars >= 1 && bars <= kLongestMeasureRepeat ? bars : 0;
}

void MeasureReader::take_note(pugi::xml_node note) {
    const ScoreCursor::Note timed = cursor_.take_note(note);
    for (const pugi::xml_node notations : note.children("notations")) {
        for (const FormSignRow& row : form_signs()) {
            if (row.seat == SignSeat::Bar || !notations.first_element_by_path(row.xml_element.data()))
                continue;
            bar_->bar.marks.signs.put(row.sign);
            if (row.seat == SignSeat::AfterNote) after_notes_.emplace_back(&row, timed.at + timed.length);
        }
    }
    if (!note.child("grace")) take_melody(note, timed);
}

// The melody is the voice of the first note, its highest notes where it has several; small notes and slashes
// are none.
void MeasureReader::take_melody(pugi::xml_node note, const ScoreCursor::Note& timed) {
    const std::string_view voice = note.child("voice").text().get();
    const std::string_view staff = note.child("staff").text().get();
    if (melody_voice_.empty()) melody_voice_ = voice.empty() ? "1" : voice;
    if ((!voice.empty() && voice != melody_voice_) || (!staff.empty() && staff != "1")) return;
    if (note.child("cue") || timed.length <= Duration{}) return;
    MelodyNote out;
    out.at = timed.at;
    out.length = timed.length;
    if (const pugi::xml_node pitch = note.child("pitch")) {
        const std::string_view head = note.child("notehead").text().get();
        if (head == "slash" || head == "slashed") return;
        const std::optional<Pitch> written = pitch_of(pitch);
        if (!written) return;
        out.pitch = readable(*written + to_concert_);
    } else if (!note.child("rest")) {
        return;
    }
    for (const pugi::xml_node tie : note.children("tie")) {
        out.is_tied_on = out.is_tied_on || std::string_view{tie.attribute("type").value()} == "start";
    }
    std::vector<MelodyNote>& melody = bar_->bar.melody;
    if (timed.joins_chord && !melody.empty() && melody.back().at == out.at) {
        if (out.pitch && (!melody.back().pitch || *melody.back().pitch < *out.pitch)) melody.back() = out;
        return;
    }
    melody.push_back(out);
}

void MeasureReader::add_no_chord(Position at) {
    const std::vector<PlacedChord>& chords = bar_->bar.chords;
    if (!chords.empty() && chords.back().at == at && !chords.back().symbol) return;  // said in two ways
    PlacedChord chord;
    chord.at = at;
    chord.text = "N.C.";
    bar_->bar.chords.push_back(std::move(chord));
}

void MeasureReader::add_chord(PlacedChord chord) {
    if (bar_->bar.chords.size() >= kMostChordsInBar) {
        messages_.warning(bar_->measure, chord.text, "too many chords in one bar", "this one is left out");
        return;
    }
    for (const PlacedChord& other : bar_->bar.chords) {
        if (other.at != chord.at) continue;
        messages_.warning(bar_->measure, chord.text,
                          "two chord symbols at beat " + beat_text(chord.at, meter_.value_or(Meter{})) +
                              ", after '" + other.text + "'",
                          "they share the time up to the next one");
        break;
    }
    bar_->bar.chords.push_back(std::move(chord));
}

void MeasureReader::take_direction(pugi::xml_node direction) {
    std::string words;
    bool has_coda = false;
    bool has_metronome = false;
    bool is_label = false;
    for (const pugi::xml_node type : direction.children("direction-type")) {
        for (const pugi::xml_node child : type.children()) {
            const std::string_view name = child.name();
            if (name == "words" && is_boxed(child)) is_label = true;
            if (name == "words") words += std::string{words.empty() ? "" : " "} + child.text().get();
            for (const FormSignRow& row : form_signs()) {
                if (name != row.xml_element) continue;
                has_coda = has_coda || row.sign == FormSign::Coda;
                if (row.sign != FormSign::Coda) bar_->take_drawn(row.sign);
            }
            if (name == "metronome") {
                has_metronome = true;
                take_tempo(child, {});
            }
            if (name == "rehearsal") {
                bar_->label = plain_words(child.text().get());
                bar_->has_label = true;
            }
        }
    }
    if (const pugi::xml_node sound = direction.child("sound")) {
        take_sound_marks(sound, bar_->bar.marks.signs);
        take_tempo({}, sound);
    }
    words = plain_words(words);
    // Words that share a direction with a metronome mark say how it goes, whatever they are.
    const bool is_tempo_words = has_metronome && header_.feel.empty() && bar_->measure == 0 && !words.empty();
    if (is_tempo_words) {
        header_.feel = words;
    } else if (is_label && !words.empty()) {
        bar_->label = words;
        bar_->has_label = true;
    } else if (!words.empty()) {
        take_words(words, cursor_.place_of(direction));
    }
    const SignSet& signs = bar_->bar.marks.signs;
    if (has_coda && !signs.has(FormSign::Coda) && !signs.has(FormSign::ToCoda)) bar_->has_bare_coda = true;
}

void MeasureReader::take_words(const std::string& words, Position at) {
    if (is_no_chord(words)) return add_no_chord(at);
    if (take_form_words(words, bar_->bar.marks.signs)) return;
    if (is_section_name(words)) {
        if (!bar_->has_label) bar_->label = words.ends_with(':') ? words.substr(0, words.size() - 1) : words;
        bar_->has_label = true;
        return;
    }
    if (header_.feel.empty() && bar_->measure == 0 && is_feel(words)) {
        header_.feel = words;
        return;
    }
    if (parse_chord_symbol(words)) {
        messages_.warning(bar_->measure, words,
                          "these words look like a chord symbol, but are not written as one",
                          "they are left out");
    }
}

void MeasureReader::take_tempo(pugi::xml_node metronome, pugi::xml_node sound) {
    if (header_.tempo) return;
    // In quarters a minute, then in beats of the meter.
    std::optional<Rational> quarters;
    if (metronome) {
        static constexpr std::array<std::pair<std::string_view, int>, 5> kUnits{
            {{"whole", 1}, {"half", 2}, {"quarter", 4}, {"eighth", 8}, {"16th", 16}}};
        const auto number = parse_decimal(metronome.child("per-minute").text().get());
        const std::string_view unit = metronome.child("beat-unit").text().get();
        for (const auto& [name, parts] : kUnits) {
            if (!number || unit != name) continue;
            const Rational dotted = metronome.child("beat-unit-dot") ? Rational{3, 2} : Rational{1};
            quarters = *number * Rational{4, parts} * dotted;
        }
    } else {
        quarters = parse_decimal(sound.attribute("tempo").value());
    }
    if (quarters) header_.tempo = tempo_of(*quarters, kQuarter, meter_);
}

}  // namespace shedbook
