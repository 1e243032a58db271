#include "chart_json_bars.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "../numbers.h"
#include "../sign_words.h"
#include "beat_number.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"

namespace shedbook {

JsonKey read_json_key(const Data& data) {
    if (data.is_null()) return {};
    if (const auto text = data.as_string()) {
        const std::optional<Key> key = parse_key(*text);
        return {key, !key};
    }
    const Data* tonic_data = data.find("tonic");
    const Data* mode_data = data.find("mode");
    if (tonic_data == nullptr || mode_data == nullptr) return {std::nullopt, data.as_object() == nullptr};
    const auto tonic_text = tonic_data->as_string();
    const auto mode_text = mode_data->as_string();
    if (!tonic_text || !mode_text) return {std::nullopt, !tonic_data->is_null() && !mode_data->is_null()};
    const auto tonic = parse_pitch_class(*tonic_text);
    if (!tonic) return {std::nullopt, true};
    const auto mode = parse_mode(*mode_text);
    if (!mode) return {};
    return {Key{*tonic, *mode}, false};
}

void JsonBarReader::fault(const Data& at, std::string message, std::string hint) {
    diagnostics_.error(source_, at.where, std::move(message), std::move(hint));
}

bool JsonBarReader::flag(const Data& data, std::string_view name) {
    const Data* member = data.find(name);
    if (member == nullptr || member->is_null()) return false;
    const std::optional<bool> value = member->as_bool();
    if (!value) fault(*member, "'" + std::string{name} + "' is true or false", {});
    return value.value_or(false);
}

Bar JsonBarReader::read(const Data& data, Meter& meter) {
    Bar bar;
    bar.where = data.where;
    if (data.as_array() != nullptr) {
        read_chords(data, bar, meter);
    } else if (data.as_object() != nullptr) {
        read_object(data, bar, meter);
    } else {
        fault(data, "a bar is a list of chords, or an object with 'chords'", {});
    }
    check_places(data, bar, meter);
    return bar;
}

void JsonBarReader::read_object(const Data& data, Bar& bar, Meter& meter) {
    members_.check(data, JsonPart::Bar);
    if (const Data* text = data.find("meter"); text != nullptr && !text->is_null()) {
        bar.meter = parse_meter(text->as_string().value_or(""));
        if (!bar.meter) fault(*text, "this is no meter", "as in: \"3/4\"");
        if (bar.meter) meter = *bar.meter;
    }
    if (const Data* key = data.find("key")) {
        members_.check(*key, JsonPart::Key);
        const JsonKey found = read_json_key(*key);
        if (found.is_faulty) fault(*key, "this is no key", "as in: {\"tonic\":\"Bb\",\"mode\":\"major\"}");
        bar.key = found.key;
    }
    bar.is_pickup = flag(data, "pickup");
    if (const Data* length = data.find("length"); length != nullptr && !length->is_null()) {
        bar.length = parse_length(length->as_string().value_or(""));
        if (!bar.length) fault(*length, "this is no length", "a fraction of a whole note: \"3/8\"");
    }
    if (bar.is_pickup && !bar.length) {
        bar.length = meter.beat_length();
        diagnostics_.warning(source_, data.where, "how long the pickup is is not said; one beat is taken",
                             "as in: \"pickup\":true,\"length\":\"1/4\"");
    }
    if (const Data* simile = data.find("simile"); simile != nullptr && !simile->is_null()) {
        const auto count = simile->as_int();
        if (!count || *count < 0 || *count > 2) fault(*simile, "'simile' is 1 or 2 bars", {});
        bar.simile = count && *count >= 0 && *count <= 2 ? static_cast<int>(*count) : 0;
    }
    read_marks(data, bar.marks);
    if (const Data* chords = data.find("chords"); chords != nullptr && !chords->is_null()) {
        read_chords(*chords, bar, meter);
    }
    if (const Data* melody = data.find("melody"); melody != nullptr && !melody->is_null()) {
        read_melody(*melody, bar, meter);
    }
    if (const Data* comments = data.find("comments");
        comments != nullptr && comments->as_array() != nullptr) {
        for (const Data& comment : *comments->as_array())
            bar.comments.push_back(comment.as_string().value_or(""));
    }
    if (const Data* remark = data.find("remark")) bar.remark = remark->as_string().value_or("");
}

void JsonBarReader::read_marks(const Data& data, BarMarks& marks) {
    if (const Data* repeat = data.find("repeat"); repeat != nullptr && !repeat->is_null()) {
        const std::string word = repeat->as_string().value_or("");
        if (word != "start" && word != "end" && word != "both") {
            fault(*repeat, "'repeat' is \"start\", \"end\" or \"both\"", {});
        }
        marks.repeat_start = word == "start" || word == "both";
        marks.repeat_end = word == "end" || word == "both" ? 2 : 0;
    }
    if (const Data* times = data.find("times"); times != nullptr && !times->is_null()) {
        const auto count = times->as_int();
        if (!count || *count < 1 || *count > kMostTimes) {
            fault(*times, "a passage is played 2 to " + std::to_string(kMostTimes) + " times", {});
        } else if (marks.repeat_end > 0) {
            marks.repeat_end = *count == 1 ? 0 : static_cast<int>(*count);  // once is no repeat
        }
    }
    read_endings(data, marks);
    read_jump(data, marks);
    for (const FormSignRow& row : form_signs()) {
        if (!row.jump && flag(data, row.id)) marks.signs.put(row.sign);
    }
    marks.double_bar = flag(data, "double_bar");
}

void JsonBarReader::read_endings(const Data& data, BarMarks& marks) {
    const Data* ending = data.find("ending");
    if (ending == nullptr || ending->is_null()) return;
    const Data::Array single{*ending};
    const Data::Array& numbers = ending->as_array() != nullptr ? *ending->as_array() : single;
    for (const Data& number : numbers) {
        const auto value = number.as_int();
        if (!value || *value < 1 || *value > kHighestEnding) {
            fault(number, "endings are numbered from 1 to " + std::to_string(kHighestEnding),
                  "as in: \"ending\":[1,2]");
            return;
        }
        marks.endings.push_back(static_cast<int>(*value));
    }
    marks.ending_start = flag(data, "ending_start");
}

void JsonBarReader::read_jump(const Data& data, BarMarks& marks) {
    const Data* jump = data.find("jump");
    if (jump == nullptr || jump->is_null()) return;
    const std::string text = jump->as_string().value_or("");
    std::vector<std::string_view> words = split(trimmed(text), ' ');
    std::erase_if(words, [](std::string_view word) { return word.empty(); });
    const auto found = find_sign(words);
    if (!found || found->words != words.size()) {
        const std::string near = nearest(text, sign_words());
        fault(*jump, "no jump is called '" + text + "'",
              near.empty() ? "as in: \"D.C. al Fine\"" : "did you mean '" + near + "'?");
        return;
    }
    marks.signs.put(found->sign);
}

void JsonBarReader::read_chords(const Data& chords, Bar& bar, const Meter& meter) {
    if (chords.as_array() == nullptr) {
        fault(chords, "'chords' is a list", "as in: [{\"beat\":1,\"symbol\":\"F7\"}]");
        return;
    }
    if (chords.as_array()->size() > kMostChordsInBar) {
        fault(chords, "more than " + std::to_string(kMostChordsInBar) + " chords in one bar", {});
        return;
    }
    for (const Data& chord : *chords.as_array()) read_chord(chord, bar, meter);
    std::ranges::stable_sort(bar.chords, {}, &PlacedChord::at);
}

void JsonBarReader::read_chord(const Data& data, Bar& bar, const Meter& meter) {
    PlacedChord chord;
    chord.where = data.where;
    members_.check(data, JsonPart::Chord);
    const Data* symbol = data.as_object() != nullptr ? data.find("symbol") : &data;
    if (symbol == nullptr || (!symbol->as_string() && !symbol->is_null())) {
        fault(data, "a chord has a 'symbol'", "as in: {\"beat\":1,\"symbol\":\"F7\"}");
        return;
    }
    const Data* beat = data.find("beat");
    if (beat != nullptr && !beat->is_null()) {
        const auto number = beat->as_number();
        const auto place = number ? place_of_beat(*number, meter) : std::nullopt;
        if (!place) {
            fault(*beat, "this is no beat", "beats are numbers from 1: 1, 2.5, 3.333");
            return;
        }
        chord.at = *place;
    } else if (!bar.chords.empty()) {
        fault(data, "which beat this chord falls on is not said", "as in: {\"beat\":3,\"symbol\":\"F7\"}");
        return;
    }
    if (symbol->as_string()) read_symbol(*symbol, chord);
    if (chord.text.empty()) chord.text = "N.C.";
    read_chord_details(data, chord);
    bar.chords.push_back(std::move(chord));
}

void JsonBarReader::read_symbol(const Data& symbol, PlacedChord& chord) {
    chord.text = *symbol.as_string();
    chord.where = symbol.where;
    if (is_no_chord(chord.text)) return;
    // Where the text stands in the file as it is, messages point into it; else (escapes) at the whole string.
    const Span inside{symbol.where.begin + 1, symbol.where.begin + 1 + chord.text.size()};
    if (inside.end <= source_.text.size() &&
        source_.text.compare(inside.begin, chord.text.size(), chord.text) == 0) {
        chord.symbol = read_chord_symbol(source_, inside, diagnostics_);
        return;
    }
    chord.symbol = parse_chord_symbol(chord.text);
    if (!chord.symbol) fault(symbol, "no chord is called '" + chord.text + "'", {});
}

void JsonBarReader::read_chord_details(const Data& data, PlacedChord& chord) {
    if (data.as_object() == nullptr) return;
    chord.is_optional = flag(data, "optional");
    if (const Data* push = data.find("push"); push != nullptr && !push->is_null()) {
        const std::string text = push->as_string().value_or("");
        if (text != "1/8") fault(*push, "a chord is pushed by an eighth", "as in: \"push\":\"1/8\"");
        chord.push = kEighth;
    }
    const Data* scale = data.find("scale");
    if (scale == nullptr || !scale->as_string() || !chord.symbol) return;
    const std::string name = *scale->as_string();
    chord.fixed_scale = parse_scale(name);
    if (const ScaleType* type = find_scale_type(name)) chord.fixed_scale = Scale{chord.symbol->root, type};
    if (!chord.fixed_scale) {
        const std::string near = nearest(name, scale_type_names());
        fault(*scale, "no scale is called '" + name + "'",
              near.empty() ? "as in: \"F lydian\"" : "did you mean '" + near + "'?");
    }
}

void JsonBarReader::read_melody(const Data& notes, Bar& bar, const Meter& meter) {
    if (notes.as_array() == nullptr) {
        fault(notes, "'melody' is a list of notes", {});
        return;
    }
    std::vector<std::pair<MelodyNote, const Data*>> found;
    for (const Data& data : *notes.as_array()) {
        members_.check(data, JsonPart::Note);
        const Data* beat = data.find("beat");
        const Data* length = data.find("length");
        const Data* pitch = data.find("pitch");
        const auto number = beat != nullptr ? beat->as_number() : std::nullopt;
        const auto place = number ? place_of_beat(*number, meter) : std::nullopt;
        const auto lasts = length != nullptr ? parse_length(length->as_string().value_or("")) : std::nullopt;
        MelodyNote note;
        if (pitch != nullptr && pitch->as_string()) note.pitch = parse_pitch(*pitch->as_string());
        const bool is_rest = pitch == nullptr || pitch->is_null();
        if (!place || !lasts || (!is_rest && !note.pitch)) {
            fault(data, "this is no note",
                  "as in: {\"beat\":1,\"length\":\"1/4\",\"pitch\":\"Bb4\"}; a rest has the pitch null");
            return;
        }
        note.at = *place;
        note.length = *lasts;
        note.is_tied_on = flag(data, "tie");
        found.emplace_back(note, &data);
    }
    std::ranges::stable_sort(found, {}, [](const auto& note) { return note.first.at; });
    check_melody(found, bar.length.value_or(meter.bar_length()));
    for (const auto& [note, data] : found) bar.melody.push_back(note);
}

// Says what settle() will do to notes that are too long.
void JsonBarReader::check_melody(const std::vector<std::pair<MelodyNote, const Data*>>& notes, Duration bar) {
    for (std::size_t i = 0; i < notes.size(); ++i) {
        const auto& [note, data] = notes[i];
        const std::string name = note.pitch ? "'" + to_string(*note.pitch) + "'" : "a rest";
        const bool is_last = i + 1 == notes.size();
        if (note.at - Position{} >= bar) {
            fault(*data, name + " falls behind the end of the bar", {});
        } else if (!is_last && notes[i + 1].first.at == note.at) {
            diagnostics_.warning(source_, data->where, "two notes of the melody at one place",
                                 "the higher one is taken");
        } else if (!is_last && note.at + note.length > notes[i + 1].first.at) {
            diagnostics_.warning(source_, data->where, name + " lasts longer than up to the next note",
                                 "it ends there");
        } else if (note.at + note.length > Position{} + bar) {
            diagnostics_.warning(
                source_, data->where, name + " lasts beyond the end of the bar",
                "it ends there; what sounds on is a note of the next bar, tied: \"tie\":true");
        }
    }
}

void JsonBarReader::check_places(const Data& data, const Bar& bar, const Meter& meter) {
    const Duration length = bar.length.value_or(meter.bar_length());
    const Position* before = nullptr;
    for (const PlacedChord& chord : bar.chords) {
        if (chord.at - Position{} >= length) {
            fault(data, "'" + chord.text + "' falls behind the end of the bar",
                  "the bar has " + to_string(length / meter.unit_length()) + " beats");
        }
        if (before != nullptr && *before == chord.at) {
            diagnostics_.warning(source_, chord.where, "two chords at one place",
                                 "they share the time up to the next one");
        }
        before = &chord.at;
    }
}

}  // namespace shedbook
