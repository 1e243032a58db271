// Bar lines and endings of ABC (section 4.8 and 4.9), and the bars that they close.
#include <algorithm>
#include <string>
#include <utility>

#include "abc_music.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"

namespace shedbook {

bool AbcMusic::take_bar_sign() {
    const bool opens_thick = peek() == '[' && (peek(1) == '|' || peek(1) == ']');
    const bool is_dotted = peek() == '.' && peek(1) == '|';
    const bool begins = peek() == '|' || (peek() == ':' && (peek(1) == '|' || peek(1) == ':'));
    if (!begins && !opens_thick && !is_dotted) return false;
    const std::size_t from = at_;
    while (peek() == '|' || peek() == ':' || (peek() == ']' && at_ > from) ||
           (at_ == from && (opens_thick || is_dotted))) {
        ++at_;
    }
    std::string_view shape = line_.substr(from, at_ - from);
    const bool closes = shape.starts_with(':');
    const bool opens = shape.ends_with(':') && shape.size() > 1;
    const bool is_double = shape.find("||") != std::string_view::npos ||
                           shape.find("|]") != std::string_view::npos || shape.starts_with("[|");
    close_bar();
    if (!bars_.empty()) {
        ScoreBar& bar = bars_.back();
        if (closes) bar.bar.marks.repeat_end = std::max(2, bar.bar.marks.repeat_end);
        if (is_double && !closes) bar.bar.marks.double_bar = true;
        if ((closes || opens || is_double) && std::exchange(ending_is_open_, false)) {
            bar.endings.push_back({EndingType::Stop, {}, true});
        }
    }
    if (opens) next_.bar.marks.repeat_start = true;
    if (is_digit(peek())) take_ending();
    return true;
}

// "[1", "|1", "[1,3", "[1-3".
bool AbcMusic::take_ending() {
    const bool has_bracket = peek() == '[' && (is_digit(peek(1)) || peek(1) == '"');
    const bool follows_line = is_digit(peek()) && at_ > 0 && (line_[at_ - 1] == '|' || line_[at_ - 1] == ':');
    if (!has_bracket && !follows_line) return false;
    if (has_bracket) ++at_;
    EndingSign sign;
    if (peek() == '"') {
        at_ = std::min(line_.find('"', at_ + 1), line_.size());
        if (at_ < line_.size()) ++at_;
    }
    int range_from = 0;
    while (is_digit(peek())) {
        const int number = std::clamp(take_number(), 1, kHighestEnding);
        for (int i = range_from > 0 ? range_from + 1 : number; i <= number; ++i) sign.numbers.push_back(i);
        range_from = peek() == '-' ? number : 0;
        const bool goes_on = (peek() == ',' || peek() == '-') && is_digit(peek(1));
        if (goes_on) ++at_;
    }
    if (peek() == '.') ++at_;
    if (sign.numbers.empty()) sign.numbers.push_back(1);
    // An ending may begin behind a bar line that closed nothing.
    if (ending_is_open_ && !bars_.empty()) bars_.back().endings.push_back({EndingType::Stop, {}, true});
    ending_is_open_ = true;
    next_.endings.push_back(std::move(sign));
    return true;
}

void AbcMusic::close_bar() {
    bar_alters_ = {};
    broken_ = Rational{1};
    if (events_.empty()) return;  // a bar line at the beginning of a line
    ScoreBar bar = std::exchange(next_, {});
    bar.measure = static_cast<int>(bars_.size());
    bar.meter = meter_;
    for (Event& event : events_) {
        const Position at = Position{} + bar.content;
        for (PlacedChord& chord : event.chords) {
            chord.at = at;
            bar.bar.chords.push_back(std::move(chord));
        }
        MelodyNote note;
        note.at = at;
        note.length = event.length;
        note.pitch = event.pitch;
        note.is_tied_on = event.is_tied_on;
        bar.bar.melody.push_back(note);
        bar.content += event.length;
    }
    events_.clear();
    bars_.push_back(std::move(bar));
}

void AbcMusic::push_whole_rests(int bars) {
    for (int i = 0; i < bars && !is_full(); ++i) {
        if (i > 0) close_bar();
        add_event(std::nullopt, meter_.value_or(Meter{}).bar_length());
    }
}

std::vector<ScoreBar> AbcMusic::finish() {
    close_bar();
    if (!chords_.empty()) {
        diagnostics_.warning(source_, chords_.front().where, "no note follows this chord symbol",
                             "it is left out");
    }
    // A jump behind the last bar line belongs to the bar before it.
    if (!bars_.empty()) {
        SignSet& signs = bars_.back().bar.marks.signs;
        SignSet late = next_.bar.marks.signs.at(SignSide::Right);
        if (const auto jump = signs.jump()) late.put(*jump);
        signs.put(late);
    }
    return std::move(bars_);
}

}  // namespace shedbook
