#include "abc_music.h"

#include <algorithm>
#include <array>
#include <utility>

#include "../form_words.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

constexpr int kLongestNumber = 10'000;
constexpr int kMostRestBars = 1'000;

// A bass in a small letter is usual in ABC ("G/b").
std::optional<ChordSymbol> parse_abc_chord(std::string text) {
    if (auto symbol = parse_chord_symbol(text)) return symbol;
    const std::size_t slash = text.rfind('/');
    if (slash == std::string::npos || slash + 1 == text.size()) return std::nullopt;
    const char bass = text[slash + 1];
    if (bass < 'a' || bass > 'g') return std::nullopt;
    text[slash + 1] = static_cast<char>(bass - 'a' + 'A');
    return parse_chord_symbol(text);
}

}  // namespace

void AbcMusic::warning(std::size_t from, std::string message, std::string hint) {
    diagnostics_.warning(source_, {begin_ + from, begin_ + std::max(at_, from + 1)}, std::move(message),
                         std::move(hint));
}

void AbcMusic::set_key(const AbcKey& key, bool is_change) {
    alters_ = key.alters;
    if (is_change && key.key) next_.bar.key = key.key;
}

void AbcMusic::set_meter(const std::optional<Meter>& meter, bool is_change) {
    meter_ = meter;
    if (is_change) next_.bar.meter = meter;
}

void AbcMusic::begin_section(std::string label) {
    next_.label = std::move(label);
    next_.has_label = true;
}

std::optional<AbcMusic::InlineField> AbcMusic::take_inline_field() {
    if (peek() != '[' || peek(2) != ':') return std::nullopt;
    const char name = peek(1);
    if (!((name >= 'A' && name <= 'Z') || (name >= 'a' && name <= 'z'))) return std::nullopt;
    const std::size_t close = line_.find(']', at_);
    if (close == std::string_view::npos) return std::nullopt;
    const std::string_view value = trimmed(line_.substr(at_ + 3, close - at_ - 3));
    at_ = close + 1;
    return InlineField{name, value};
}

void AbcMusic::take() {
    if (take_bar_sign() || take_ending() || take_quoted() || take_tuplet() || take_grace() || take_unison() ||
        take_rest() || take_note() || take_broken_rhythm() || take_decoration()) {
        return;
    }
    constexpr std::string_view kReadPast = " \t\r\\`()-.~*$uvTLMPy";
    const std::size_t from = at_;
    at_ += character_length(line_, at_);
    if (kReadPast.find(line_[from]) != std::string_view::npos || std::exchange(has_unread_, true)) return;
    warning(from, "this sign is not understood", "it is left out, and so are others like it");
}

int AbcMusic::take_number() {
    int out = 0;
    for (; is_digit(peek()); ++at_) out = std::min(kLongestNumber, 10 * out + (peek() - '0'));
    return out;
}

// "2", "3/2", "/", "//" behind a note, in units.
Duration AbcMusic::take_length() {
    Rational out{is_digit(peek()) ? std::max(1, take_number()) : 1};
    constexpr int kMostSlashes = 8;
    for (int slashes = 0; peek() == '/' && slashes < kMostSlashes; ++slashes) {
        ++at_;
        out = out * Rational{1, is_digit(peek()) ? std::max(1, take_number()) : 2};
    }
    return unit_.value_or(default_unit(meter_)) * out;
}

std::optional<Pitch> AbcMusic::take_pitch() {
    const std::size_t from = at_;
    std::optional<int> alter;
    for (; peek() == '^' || peek() == '_' || peek() == '='; ++at_) {
        alter = alter.value_or(0) + (peek() == '^' ? 1 : peek() == '_' ? -1 : 0);
    }
    const char letter = peek();
    const bool is_low = letter >= 'A' && letter <= 'G';
    if (!is_low && !(letter >= 'a' && letter <= 'g')) {
        at_ = from;
        return std::nullopt;
    }
    ++at_;
    int octave = is_low ? 4 : 5;
    for (; peek() == '\'' || peek() == ','; ++at_) octave += peek() == '\'' ? 1 : -1;
    constexpr std::string_view kSteps = "CDEFGAB";
    const std::size_t step = kSteps.find(is_low ? letter : static_cast<char>(letter - 'a' + 'A'));
    if (alter) bar_alters_[step] = std::clamp(*alter, -2, 2);
    const int sounding = bar_alters_[step].value_or(alters_[step]);
    return Pitch{PitchClass::of(static_cast<Step>(step), sounding), std::clamp(octave, -1, 10)};
}

bool AbcMusic::take_note() {
    const auto pitch = take_pitch();
    if (!pitch) return false;
    add_event(pitch, take_length());
    return true;
}

bool AbcMusic::take_rest() {
    if (peek() == 'z' || peek() == 'x') {
        ++at_;
        add_event(std::nullopt, take_length());
        return true;
    }
    if (peek() != 'Z' && peek() != 'X') return false;
    ++at_;
    push_whole_rests(is_digit(peek()) ? std::clamp(take_number(), 1, kMostRestBars) : 1);
    return true;
}

// Notes sounding together in brackets: the highest is the melody; the length is the first note's.
bool AbcMusic::take_unison() {
    if (peek() != '[') return false;
    const std::size_t from = at_;
    ++at_;
    std::optional<Pitch> highest;
    Duration length;
    bool is_tied_on = false;
    while (at_ < line_.size() && peek() != ']') {
        if (const auto pitch = take_pitch()) {
            const Duration own = take_length();
            if (!highest) length = own;
            if (!highest || *highest < *pitch) highest = pitch;
        } else if (peek() == '"') {
            take_quoted();
        } else {
            is_tied_on = is_tied_on || peek() == '-';
            ++at_;
        }
    }
    ++at_;
    at_ = std::min(at_, line_.size());
    if (!highest) {
        warning(from, "these brackets hold no notes", "they are left out");
        return true;
    }
    const Duration unit = unit_.value_or(default_unit(meter_));
    add_event(highest, length * (take_length() / unit));
    events_.back().is_tied_on = is_tied_on;
    return true;
}

void AbcMusic::add_event(std::optional<Pitch> pitch, Duration length) {
    Event event;
    event.pitch = pitch;
    event.length = length * std::exchange(broken_, Rational{1});
    if (tuplet_notes_ > 0) {
        event.length = event.length * tuplet_;
        --tuplet_notes_;
    }
    event.chords = std::exchange(chords_, {});
    if (peek() == '-') event.is_tied_on = pitch.has_value();
    events_.push_back(std::move(event));
}

// "(3", "(3:2:3": p notes in the time of q, for the next r notes (section 4.13).
bool AbcMusic::take_tuplet() {
    if (peek() != '(' || !is_digit(peek(1))) return false;
    ++at_;
    const int p = std::clamp(take_number(), 2, 9);
    static constexpr std::array<int, 10> kTimeOf{0, 0, 3, 2, 3, 0, 2, 0, 3, 0};
    int q = kTimeOf[static_cast<std::size_t>(p)];
    if (q == 0) q = meter_ && meter_->is_compound() ? 3 : 2;
    int r = p;
    if (peek() == ':') {
        ++at_;
        if (is_digit(peek())) q = std::max(1, take_number());
        if (peek() == ':') {
            ++at_;
            if (is_digit(peek())) r = std::max(1, take_number());
        }
    }
    tuplet_ = Rational{q, p};
    tuplet_notes_ = r;
    return true;
}

// "a>b": the first dotted, the second halved; ">>" doubly so, "<" the other way round.
bool AbcMusic::take_broken_rhythm() {
    const char sign = peek();
    if (sign != '>' && sign != '<') return false;
    constexpr int kMostSigns = 3;
    int count = 0;
    for (; peek() == sign; ++at_) ++count;
    if (events_.empty() || count > kMostSigns) return true;
    const std::int64_t part = std::int64_t{1} << count;
    const Rational shorter{1, part};
    const Rational longer = Rational{2} - shorter;
    Duration& before = events_.back().length;
    before = before * (sign == '>' ? longer : shorter);
    broken_ = sign == '>' ? shorter : longer;
    return true;
}

// A chord symbol, or words where the first character says where they stand.
bool AbcMusic::take_quoted() {
    if (peek() != '"') return false;
    const std::size_t from = at_ + 1;
    const std::size_t close = std::min(line_.find('"', from), line_.size());
    const std::string text = plain_words(line_.substr(from, close - from));
    at_ = std::min(close + 1, line_.size());
    constexpr std::string_view kPlaces = "^_<>@";
    if (!text.empty() && kPlaces.find(text[0]) != std::string_view::npos) {
        const std::string words = plain_words(std::string_view{text}.substr(1));
        if (is_no_chord(words))
            take_chord_symbol(words, {begin_ + from, begin_ + close});
        else
            take_form_words(words, next_.bar.marks.signs);
    } else if (!text.empty()) {
        take_chord_symbol(text, {begin_ + from, begin_ + close});
    }
    return true;
}

void AbcMusic::take_chord_symbol(std::string text, Span where) {
    // Another chord to play instead stands in brackets behind, a second line behind a semicolon.
    const std::size_t rest = text.find_first_of(";\n");
    text = std::string{trimmed(std::string_view{text}.substr(0, rest))};
    if (!parse_abc_chord(text) && text.ends_with(')')) text = text.substr(0, text.find('('));
    PlacedChord chord;
    chord.symbol = parse_abc_chord(text);
    if (!chord.symbol && !is_no_chord(text)) {
        diagnostics_.warning(source_, where, "'" + text + "' is no chord symbol",
                             "it is left out; words begin with one of ^ _ < > @");
        return;
    }
    chord.text = std::move(text);
    chord.where = where;
    chords_.push_back(std::move(chord));
}

// What a decoration says of the form (section 4.14); the others are of no matter to a chart.
void AbcMusic::take_form_decoration(const FormSignRow& row) {
    if (row.jump) {
        put_said(next_.bar.marks.signs, row.sign);
    } else {
        next_.take_drawn(row.sign);
    }
}

bool AbcMusic::take_decoration() {
    const char mark = peek();
    for (const FormSignRow& row : form_signs()) {
        if (row.abc_letter == '\0' || mark != row.abc_letter) continue;
        take_form_decoration(row);
        ++at_;
        return true;
    }
    if (mark != '!' && mark != '+') return false;
    const std::size_t close = line_.find(mark, at_ + 1);
    if (close == std::string_view::npos) {
        ++at_;  // a lone mark broke lines in old files
        return true;
    }
    const std::string_view name = line_.substr(at_ + 1, close - at_ - 1);
    for (const FormSignRow& row : form_signs()) {
        const std::vector<std::string_view> names = split(row.abc, ',');
        if (std::ranges::find(names, name) != names.end()) take_form_decoration(row);
    }
    at_ = close + 1;
    return true;
}

bool AbcMusic::take_grace() {
    if (peek() == '{') {
        at_ = std::min(line_.find('}', at_), line_.size());
        if (at_ < line_.size()) ++at_;
        return true;
    }
    if (peek() != '&') return false;
    // A second voice laid over the bar: up to the next bar line.
    at_ = std::min(line_.find('|', at_), line_.size());
    return true;
}

}  // namespace shedbook
