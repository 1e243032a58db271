#include "tune_cell.h"

#include <algorithm>
#include <string>
#include <utility>

#include "../numbers.h"
#include "../sign_words.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"
#include "tune_places.h"

namespace shedbook {
namespace {

bool is_all_letters(std::string_view text) {
    return std::ranges::all_of(
        text, [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '.'; });
}

// A word that is no chord but nearly one of the words for signs.
std::string nearest_sign(std::string_view word) {
    if (word.size() < 3 || !is_all_letters(word) || parse_chord_symbol(word)) return {};
    std::vector<std::string> words = sign_words();
    words.insert(words.end(), {"pickup", "lasts", "key"});
    return nearest(word, words);
}

// Whether what stands in brackets may be a chord, and not an altered note that belongs to the one before.
bool may_begin_item(std::string_view text) {
    if (text.empty()) return false;
    const char c = text.front();
    return (c >= 'A' && c <= 'Z') || c == '<' || c == '(' || text.starts_with("n") ||
           parse_place(text, Meter{}).has_value();
}

// Where the bracket that opens at the front closes; npos if nowhere.
std::size_t closing_bracket(std::string_view text) {
    int depth = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '(') ++depth;
        if (text[i] == ')' && --depth == 0) return i;
    }
    return std::string_view::npos;
}

}  // namespace

TuneCell::TuneCell(const SourceText& source, Diagnostics& diagnostics, Meter meter)
    : source_{&source}, diagnostics_{&diagnostics}, meter_{std::move(meter)} {}

std::string_view TuneCell::text(Span span) const {
    return std::string_view{source_->text}.substr(span.begin, span.end - span.begin);
}

void TuneCell::fault(Span span, std::string message, std::string hint, std::vector<Mending> mendings) {
    is_bad_ = true;
    diagnostics_->error(*source_, span, std::move(message), std::move(hint), std::move(mendings));
}

std::size_t TuneCell::take(std::span<const TuneToken> words) {
    const Span span = words.front().span;
    bar_.where = is_empty_ ? span : Span{bar_.where.begin, span.end};
    is_empty_ = false;
    const std::string_view word = words.front().text;
    std::size_t used = 1;
    if (take_sign(words, used) || take_setting(words, used)) {
        bar_.where.end = words[used - 1].span.end;
    } else if (word == "]") {
        closes_bracket_ = true;
    } else if (word == "%" || word == "%%") {
        if (bar_.simile > 0)
            fault(span, "two repeat signs in one bar", "one bar line between them is missing");
        bar_.simile = word == "%" ? 1 : 2;
    } else if (word.starts_with('/') || word == ".") {
        take_slashes(span);
    } else if (word.starts_with('%')) {
        fault(span, "'" + std::string{word} + "' is no sign",
              "% repeats the bar before, %% the two bars before");
    } else {
        if (word == "no" && words.size() > 1 && is_no_chord("no " + std::string{words[1].text})) used = 2;
        take_chord({span.begin, words[used - 1].span.end}, {});
    }
    return used;
}

bool TuneCell::take_sign(std::span<const TuneToken> words, std::size_t& used) {
    std::vector<std::string_view> texts;
    for (const TuneToken& word : words) texts.push_back(word.text);
    const std::optional<FoundSign> found = find_sign(texts);
    if (!found) return false;
    used = found->words;
    if (row_of(found->sign).jump && bar_.marks.signs.jump()) {
        fault({words.front().span.begin, words[used - 1].span.end}, "two jumps at the end of one bar",
              "only one of them can be taken");
    }
    bar_.marks.signs.put(found->sign);
    return true;
}

// A meter, a key, a pickup or a length of its own.
bool TuneCell::take_setting(std::span<const TuneToken> words, std::size_t& used) {
    const std::string word = lower_case(words.front().text);
    const std::string_view next = words.size() > 1 ? words[1].text : std::string_view{};
    if (word == "key") {
        used = std::min<std::size_t>(2, words.size());
        bar_.key = parse_key(next);
        if (bar_.key && words.size() > 2 && !is_minor(bar_.key->mode) && parse_mode(words[2].text)) {
            bar_.key->mode = *parse_mode(words[2].text);
            used = 3;
        }
        if (!bar_.key) {
            fault(words[used - 1].span, "no key is called '" + std::string{next} + "'",
                  "as in: key Eb, key Gm");
        }
        return true;
    }
    if (word == "pickup" || word == "lasts") {
        const std::optional<Duration> length = parse_length(next);
        const bool is_meant_so = !next.empty() && next.front() >= '0' && next.front() <= '9';
        used = length || (word == "lasts" && is_meant_so) ? 2 : 1;
        if (word == "pickup") is_pickup_ = true;
        if (length) length_ = length;
        if (word == "lasts" && !length) {
            fault(words.front().span, "how long the bar lasts is missing", "as in: lasts 5/8");
        }
        return true;
    }
    const bool is_number = !word.empty() && word.front() >= '0' && word.front() <= '9';
    if (!is_number || word.find(':') != std::string::npos || word.find('/') == std::string::npos)
        return false;
    const std::optional<Meter> meter = parse_meter(word);
    if (meter) {
        bar_.meter = meter_ = *meter;
    } else {
        fault(words.front().span, "'" + std::string{words.front().text} + "' is no meter",
              "as in: 4/4, 6/8, 3+2/8, with a blank behind it");
    }
    return true;
}

void TuneCell::take_slashes(Span span) {
    const std::string_view word = text(span);
    const std::size_t end = word == "." ? 1 : word.find_first_not_of('/');
    if (end != std::string_view::npos && word != ".") {
        fault(span, "a slash and '" + std::string{word.substr(end)} + "' run together",
              "put a blank between them, or join a slash bass to its chord: C/G");
    }
    for (std::size_t i = 0; i < std::min(end, word.size()); ++i) items_.push_back({{}, true, false});
}

void TuneCell::take_chord(Span span, Decoration decoration) {
    while (true) {
        const std::string_view word = text(span);
        if (word.starts_with('(')) return take_in_brackets(span, decoration);
        if (word.starts_with('<')) {
            decoration.is_pushed = true;
            ++span.begin;
        } else if (const auto place = parse_place(word, meter_)) {
            decoration.place = place->at;
            span.begin += place->length;
        } else {
            break;
        }
    }
    std::string_view word = text(span);
    // "Bb//": beats on which the chord goes on. One slash alone may be a slash bass that is missing.
    const std::size_t last = word.find_last_not_of('/');
    const std::size_t beats = last == std::string_view::npos ? 0 : word.size() - last - 1;
    if (beats > 1) {
        span.end -= beats;
        word = text(span);
    }
    const std::size_t open = word.find('[');
    std::optional<Span> scale;
    if (open != std::string_view::npos) {
        const bool closed = word.ends_with(']');
        scale = Span{span.begin + open + 1, span.end - (closed ? 1 : 0)};
        if (!closed) fault(*scale, "the scale of this chord has no closing ]", "as in: G7[altered]");
        span.end = span.begin + open;
    }
    take_symbol(span, scale, decoration);
    for (std::size_t i = 0; beats > 1 && i < beats; ++i) items_.push_back({{}, true, false});
}

void TuneCell::take_in_brackets(Span span, Decoration decoration) {
    const std::string_view word = text(span);
    const std::size_t close = closing_bracket(word);
    if (close == std::string_view::npos) {
        fault(span, "this bracket is not closed", "an optional chord is written (Db7)");
        return;
    }
    if (close + 1 != word.size() || !may_begin_item(trimmed(word.substr(1, close - 1)))) {
        fault(span, "'" + std::string{word} + "' is no chord",
              "brackets around a whole chord make it optional; what belongs to a chord follows it without a "
              "blank: "
              "C7(b9)");
        return;
    }
    decoration.is_optional = true;
    // One chord, or several with blanks between them; a blank inside inner brackets parts nothing.
    int depth = 0;
    std::size_t from = 1;
    for (std::size_t i = 1; i <= close; ++i) {
        if (word[i] == '(' || word[i] == '[') ++depth;
        const bool ends = i == close || (depth == 0 && (word[i] == ' ' || word[i] == '\t'));
        if (i != close && (word[i] == ')' || word[i] == ']')) --depth;
        if (!ends) continue;
        if (i > from) take_chord({span.begin + from, span.begin + i}, decoration);
        decoration.is_pushed = false;
        decoration.place.reset();
        from = i + 1;
    }
}

// The chord that a blank has torn from its end, which is here: "F 6". Empty if it is another matter.
std::string TuneCell::broken_in_two(Span end) const {
    if (items_.empty() || !items_.back().chord.symbol) return {};
    const Span before = items_.back().chord.where;
    const bool are_side_by_side = before.end < end.begin && trimmed(text({before.end, end.begin})).empty();
    const auto is_chord = [](std::string_view word) {
        Diagnostics unused;
        return read_chord_symbol(SourceText{"chord", std::string{word}}, unused).has_value();
    };
    const std::string whole = std::string{text(before)} + std::string{text(end)};
    return are_side_by_side && !is_chord(text(end)) && is_chord(whole) ? whole : "";
}

void TuneCell::take_symbol(Span span, std::optional<Span> scale, const Decoration& decoration) {
    Item item;
    item.has_place = decoration.place.has_value();
    item.chord.at = decoration.place.value_or(Position{});
    item.chord.push = decoration.is_pushed ? kEighth : Duration{};
    item.chord.is_optional = decoration.is_optional;
    item.chord.text = text(span);
    item.chord.where = span;
    if (items_.size() == kMostChordsInBar) {
        fault(span, "more than " + std::to_string(kMostChordsInBar) + " chords in one bar",
              "a bar line is missing");
    }
    if (items_.size() >= kMostChordsInBar) return;
    if (span.begin == span.end) {
        fault({span.begin, span.end + 1}, "a chord is missing here", "as in: 4:G7, <G7, (G7)");
    } else if (is_no_chord(item.chord.text)) {
        if (scale) fault(*scale, "no chord, so no scale either", "leave the brackets out");
    } else if (const std::string sign = nearest_sign(item.chord.text); !sign.empty()) {
        may_miss_a_sign_ = true;
        fault(span, "'" + item.chord.text + "' is no chord and no sign", "did you mean '" + sign + "'?",
              {{span, sign}});
    } else if (const std::string whole = broken_in_two(span); !whole.empty()) {
        const Span both{items_.back().chord.where.begin, span.end};
        fault(both, "'" + std::string{text(span)} + "' is no chord by itself, and a chord has no blank in it",
              "write '" + whole + "'", {{both, whole}});
    } else {
        item.chord.symbol = read_chord_symbol(*source_, span, *diagnostics_);
        is_bad_ = is_bad_ || !item.chord.symbol;
        if (scale && item.chord.symbol) set_scale(item.chord, *scale);
    }
    items_.push_back(std::move(item));
}

// The name of a scale on the chord's root, or with a tonic of its own.
void TuneCell::set_scale(PlacedChord& chord, Span name) {
    const std::string_view words = trimmed(text(name));
    if (const ScaleType* type = find_scale_type(words)) {
        chord.fixed_scale = Scale{chord.symbol->root, type};
        return;
    }
    chord.fixed_scale = parse_scale(words);
    if (chord.fixed_scale) return;
    std::string near = nearest(words, scale_type_names());
    std::string tonic;
    if (near.empty()) {
        const std::size_t blank = words.find(' ');
        if (blank != std::string_view::npos && parse_pitch_class(words.substr(0, blank))) {
            near = nearest(words.substr(blank + 1), scale_type_names());
            tonic = words.substr(0, blank + 1);
        }
    }
    const std::string message = "no scale is called '" + std::string{words} + "'";
    if (near.empty()) return fault(name, message, "as in: G7[altered], C7[F melodic minor]");
    fault(name, message, "did you mean '" + near + "'?", {{name, tonic + near}});
}

void TuneCell::lay_out_slots() {
    const auto slots = static_cast<std::size_t>(
        std::ranges::count_if(items_, [](const Item& item) { return !item.has_place; }));
    Duration length = length_.value_or(meter_.bar_length());
    if (is_pickup_ && !length_) {
        length = meter_.beat_length() * Rational{static_cast<std::int64_t>(slots)};
        if (slots == 0) {
            fault(bar_.where, "how long the pickup is cannot be seen",
                  "a slash or chord for each beat, or a length: pickup 3/8");
            return;
        }
        length_ = length;
    }
    const std::optional<std::vector<Position>> places = slot_places(slots, length, meter_);
    if (!places) {
        const std::int64_t beats = beats_in(length, meter_);
        const bool has_slashes = std::ranges::any_of(items_, &Item::is_slash);
        fault(bar_.where,
              std::to_string(slots) + (has_slashes ? " chords and slashes" : " chords") + " in a bar of " +
                  std::to_string(beats) + (beats == 1 ? " beat" : " beats"),
              has_slashes
                  ? "one for each beat; a place before a chord puts it elsewhere: 2&:G7"
                  : "a bar line may be missing; else one for each beat, or a place before a chord: 2&:G7");
        return;
    }
    const std::int64_t beats = beats_in(length, meter_);
    const bool is_by_beats =
        std::ranges::none_of(items_, [](const Item& item) { return item.is_slash || item.has_place; });
    const bool has_shares = slots < 2 || beats % static_cast<std::int64_t>(slots) == 0;
    if (is_by_beats && !has_shares && static_cast<std::int64_t>(slots) < beats)
        uneven_ = std::to_string(slots) + " chords in " + std::to_string(beats) + " beats";
    std::size_t slot = 0;
    for (Item& item : items_) {
        if (!item.has_place) item.chord.at = (*places)[slot++];
        if (item.is_slash) continue;
        if (item.chord.at - Position{} >= length) {
            fault(item.chord.where, "this place is behind the end of the bar",
                  "the bar has " + to_string(length / meter_.unit_length()) + " beats");
        }
        bar_.chords.push_back(std::move(item.chord));
    }
    std::ranges::stable_sort(bar_.chords, {}, &PlacedChord::at);
    for (std::size_t i = 1; i < bar_.chords.size(); ++i) {
        if (bar_.chords[i].at == bar_.chords[i - 1].at) {
            diagnostics_->warning(*source_, bar_.chords[i].where, "two chords at one place",
                                  "they share the time up to the next one");
        }
    }
}

std::vector<Bar> TuneCell::finish() {
    if (bar_.simile > 0 && !items_.empty()) {
        fault(bar_.where, "a repeat sign and chords in one bar",
              "a repeat sign (%) stands alone between bar lines");
    } else if (bar_.simile == 0) {
        // What is laid out in spite of a fault is for who looks while the chart is being written.
        Diagnostics said_enough;
        Diagnostics* const reports = diagnostics_;
        const bool was_bad = is_bad_;
        if (was_bad) diagnostics_ = &said_enough;
        lay_out_slots();
        diagnostics_ = reports;
        if (was_bad) uneven_.clear();
    }
    bar_.is_pickup = is_pickup_;
    bar_.length = length_;
    if (bar_.simile != 2) return {bar_};
    // The signs at the left belong to the first of the two bars, those at the right to the second.
    Bar second = bar_;
    second.meter.reset();
    second.key.reset();
    second.marks.signs = bar_.marks.signs.at(SignSide::Right);
    bar_.marks.signs = bar_.marks.signs.at(SignSide::Left);
    if (length_ || is_pickup_) fault(bar_.where, "a two-bar repeat sign has the length of two bars", {});
    return {bar_, second};
}

}  // namespace shedbook
