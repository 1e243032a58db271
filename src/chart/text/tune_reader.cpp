#include <algorithm>
#include <string>
#include <utility>

#include "pasted_chart.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"
#include "shedbook/chart/readers.h"
#include "tune_cell.h"
#include "tune_checks.h"
#include "tune_endings.h"
#include "tune_headers.h"
#include "tune_tokens.h"

namespace shedbook {
namespace {

// Goes through the words of a chart once. What stands between two bar signs is a cell; signs without music in
// their cell belong to the bar before (fine, D.C. ...) or wait for the next one (segno, coda, a meter).
class TuneReader {
  public:
    TuneReader(const SourceText& source, Diagnostics& diagnostics)
        : source_{source},
          diagnostics_{diagnostics},
          tokens_{tune_tokens(source)},
          cell_{source, diagnostics, Meter{}},
          errors_before_{diagnostics.error_count()} {}

    std::optional<Chart> run() {
        std::optional<Chart> out = run_in_spite_of_faults();
        if (diagnostics_.error_count() > errors_before_) return std::nullopt;
        return out;
    }

    // Nothing if there is no bar in it.
    std::optional<Chart> run_in_spite_of_faults() {
        chart_.meter = meter_of_bars(tokens_, source_, diagnostics_);
        meter_ = chart_.meter.value_or(Meter{});
        reset_cell();
        const auto stops = [&] { return is_full_ || diagnostics_.is_full(); };
        for (std::size_t i = 0; i < tokens_.size() && !stops();) i += take(i);
        if (!stops()) finish_cell();
        if (stops()) return std::nullopt;
        finish();
        if (bars_ == 0) return std::nullopt;
        return std::move(chart_);
    }

  private:
    // Takes one token or a few that belong together; returns how many.
    std::size_t take(std::size_t i) {
        const TuneToken& token = tokens_[i];
        switch (token.kind) {
            case TokenKind::Header:
                take_header_line(token);
                return 1;
            case TokenKind::Label:
                take_label(token);
                return 1;
            case TokenKind::BarSign:
                return take_bar_sign(i);
            case TokenKind::Word:
                return take_word(i);
            case TokenKind::Comment:
                take_comment(token);
                return 1;
            case TokenKind::LineEnd:
                take_line_end(token, i > 0 ? &tokens_[i - 1] : nullptr);
                return 1;
        }
        return 1;
    }

    void take_header_line(const TuneToken& token) {
        finish_cell();
        const HeaderKind kind = header_kind(token.name);
        if (!has_music_) {
            chart_.comments.insert(chart_.comments.end(), comments_.begin(), comments_.end());
            comments_.clear();
            take_header(token, source_, chart_, diagnostics_);
            if (kind == HeaderKind::Meter) meter_ = chart_.meter.value_or(Meter{});
        } else if (kind == HeaderKind::Meter) {
            pending_.meter = parse_meter(header_value(token));
            if (!pending_.meter)
                fault(value_span(token, source_), "this is no meter", "as in: 4/4, 6/8, 3+2/8");
            if (pending_.meter) meter_ = *pending_.meter;
        } else if (kind == HeaderKind::Key) {
            pending_.key = parse_key(header_value(token));
            if (!pending_.key) fault(value_span(token, source_), "this is no key", "as in: Bb, Gm, D dorian");
        } else {
            fault({token.span.begin, token.span.begin + token.name.size()},
                  "'" + std::string{token.name} + ":' below the first bar",
                  "headers stand above the music; one file holds one tune");
        }
        reset_cell();
        line_has_header_ = true;
    }

    void take_label(const TuneToken& token) {
        if (!cell_.is_empty() && cell_.has_music()) {
            fault(token.span, "a section begins inside a bar",
                  "put a bar line before it; the scale of a chord follows it without a blank: G7[altered]");
        }
        finish_cell();
        if (!token.is_closed) fault(token.span, "the section label has no closing ]", "as in: [A]");
        open_endings_.clear();
        chart_.sections.push_back({std::string{token.text}, {}, std::move(comments_), {}});
        comments_.clear();
        labels_.push_back(token.span);
        label_of_line_ = true;
        has_music_ = true;
        line_break_.reset();
        last_sign_.reset();
    }

    std::size_t take_bar_sign(std::size_t i) {
        const TuneToken& token = tokens_[i];
        const BarSignParts& sign = token.sign;
        if (sign.is_malformed) {
            fault(token.span, "this is no bar line", "bar lines are | || |] |: :| :|:");
            form_is_uncertain_ = true;
        }
        const bool may_follow = sign_has_count_ && !sign.repeat_end;
        if (cell_.is_empty() && last_sign_ && !token.is_first_in_line && !may_follow) {
            fault({last_sign_->begin, token.span.end}, "nothing stands between these bar lines",
                  "% plays the bar before again, / lets its chord go on");
        }
        finish_cell();
        close_bar(token);
        if (sign.repeat_start) {
            open_endings_.clear();
            if (pending_.repeat_start) fault(token.span, "a repeat opens twice here", "leave one |: out");
            pending_.repeat_start = true;
        }
        pending_.where = token.span;
        last_sign_ = token.span;
        line_break_.reset();
        has_music_ = true;
        return 1 + take_numbers(i + 1, token.span.end, sign.repeat_end);
    }

    // What the left half of a bar sign says about the bar before it.
    void close_bar(const TuneToken& token) {
        const BarSignParts& sign = token.sign;
        Bar* bar = last_bar();
        if (sign.repeat_end && bar == nullptr) {
            fault(token.span, "there is nothing to repeat before this sign",
                  "|: opens a repeat, :| closes it");
        }
        if (bar == nullptr) return;
        if (sign.repeat_end) bar->marks.repeat_end = std::max(bar->marks.repeat_end, 2);
        if (sign.is_double) bar->marks.double_bar = true;
        if (sign.is_final) final_bar_ = bars_;
        if (sign.repeat_end || sign.is_double) open_endings_.clear();
    }

    // Numbers of an ending and counts of a repeat, right behind a bar sign or as the first words of a bar.
    std::size_t take_numbers(std::size_t i, std::size_t sign_end, bool repeats) {
        constexpr std::size_t kMostNumbers = 16;
        std::size_t count = 0;
        while (count < kMostNumbers && i + count < tokens_.size() &&
               tokens_[i + count].kind == TokenKind::Word)
            ++count;
        const BarNumbers found = take_bar_numbers(std::span{tokens_}.subspan(i, count), sign_end, repeats);
        if (found.bad_ending) {
            form_is_uncertain_ = true;
            fault(*found.bad_ending, "endings are numbered from 1 to " + std::to_string(kHighestEnding),
                  "as in: |1.  |2.");
        }
        if (found.bad_times) {
            fault(*found.bad_times, "a passage is played 2 to " + std::to_string(kMostTimes) + " times",
                  "as in: :| x3");
        }
        if (!found.endings.empty()) {
            open_endings_ = found.endings;
            pending_.ending_start = true;
        }
        if (Bar* bar = last_bar(); bar != nullptr && found.times) bar->marks.repeat_end = *found.times;
        sign_has_count_ = found.times || found.bad_times;
        if (!found.endings.empty()) last_sign_.reset();
        return found.words;
    }

    std::size_t take_word(std::size_t i) {
        if (cell_.is_empty()) {
            const std::size_t used = take_numbers(i, i > 0 ? tokens_[i - 1].span.end : 0, false);
            if (used > 0) return used;
            cell_comments_ = std::move(comments_);
            comments_.clear();
        }
        constexpr std::size_t kWordsOfLongestSign = 5;  // "D. C. al Fine", and one to see its end
        std::size_t count = 1;
        while (count < kWordsOfLongestSign && i + count < tokens_.size() &&
               tokens_[i + count].kind == TokenKind::Word) {
            ++count;
        }
        last_sign_.reset();
        has_music_ = true;
        return cell_.take(std::span{tokens_}.subspan(i, count));
    }

    void take_comment(const TuneToken& token) {
        if (token.is_first_in_line) {
            comments_.emplace_back(token.text);
        } else {
            line_remark_ = token.text;
        }
    }

    void take_line_end(const TuneToken& token, const TuneToken* before) {
        const bool is_blank = before == nullptr || before->kind == TokenKind::LineEnd;
        const bool in_bar = !cell_.is_empty() && cell_.has_music();
        finish_cell();
        if (in_bar) line_break_ = token.span;
        if (is_blank) line_break_.reset();
        if (is_blank && !has_music_ && !comments_.empty()) {
            // Comments that a blank line parts from the music speak of the whole chart.
            chart_.comments.insert(chart_.comments.end(), comments_.begin(), comments_.end());
            comments_.clear();
        }
        last_sign_.reset();
        if (line_remark_) place_remark(*line_remark_);
        line_remark_.reset();
        line_has_header_ = false;
        label_of_line_ = false;
        bars_before_line_ = bars_;
    }

    void place_remark(std::string_view remark) {
        Bar* bar = last_bar();
        if (line_has_header_) {
            chart_.comments.emplace_back(remark);
        } else if (label_of_line_ && bars_ == bars_before_line_) {
            chart_.sections.back().remark = remark;
        } else if (bar != nullptr) {
            bar->remark += (bar->remark.empty() ? "" : " / ") + std::string{remark};
        } else {
            comments_.emplace_back(remark);
        }
    }

    void finish_cell() {
        if (cell_.is_empty()) return;
        form_is_uncertain_ = form_is_uncertain_ || cell_.may_miss_a_sign();
        if (cell_.has_music()) {
            if (line_break_) {
                fault(cell_.where(), "no bar line between this bar and the line above",
                      "put | at the end of that line");
            }
            line_break_.reset();
            if (cell_.is_pickup() && bars_ > 0) {
                fault(cell_.where(), "only the first bar can be a pickup",
                      "a short bar elsewhere: lasts 2/4");
            }
            for (Bar& bar : cell_.finish()) push(std::move(bar));
            say_uneven();
        } else {
            keep_signs(cell_.signs());
            comments_ = std::move(cell_comments_);
        }
        cell_comments_.clear();
        if (cell_.closes_bracket()) open_endings_.clear();
        reset_cell();
    }

    // Once for a chart: how a bar is read whose chords do not share it evenly.
    void say_uneven() {
        if (cell_.uneven().empty() || std::exchange(uneven_is_said_, true)) return;
        diagnostics_.note_at(source_.name + ":" + std::to_string(source_.place_of(cell_.where().begin).line),
                             cell_.uneven() + ": a beat for each, and the last goes on",
                             "a slash lets another go on: | Dm7 / G7 C |; or is a bar line missing?");
    }

    void reset_cell() { cell_ = TuneCell{source_, diagnostics_, meter_}; }

    // A cell of signs alone.
    void keep_signs(const Bar& signs) {
        const BarMarks& marks = signs.marks;
        const SignSet left = marks.signs.at(SignSide::Left);
        const SignSet right = marks.signs.at(SignSide::Right);
        if (!left.is_empty() || signs.meter || signs.key) {
            pending_.signs.put(left);
            if (signs.meter) pending_.meter = signs.meter;
            if (signs.key) pending_.key = signs.key;
            pending_.where = signs.where;
            if (signs.meter) meter_ = *signs.meter;
        }
        if (right.is_empty()) return;
        Bar* bar = last_bar();
        if (bar == nullptr) {
            fault(signs.where, "this sign has no bar before it", "it belongs to the end of a bar");
            return;
        }
        if (right.jump() && bar->marks.signs.jump()) {
            fault(signs.where, "two jumps at the end of one bar", "only one of them can be taken");
        }
        bar->marks.signs.put(right);
    }

    void push(Bar bar) {
        if (chart_.sections.empty()) {
            chart_.sections.emplace_back();
            labels_.emplace_back();
        }
        Section& section = chart_.sections.back();
        bar.marks.repeat_start = std::exchange(pending_.repeat_start, false);
        bar.marks.signs.put(std::exchange(pending_.signs, {}));
        if (section.bars.empty() && slug(section.label) == "coda") bar.marks.signs.put(FormSign::Coda);
        bar.marks.ending_start = std::exchange(pending_.ending_start, false);
        bar.marks.endings = open_endings_;
        if (!bar.meter) bar.meter = pending_.meter;
        if (!bar.key) bar.key = pending_.key;
        pending_.meter.reset();
        pending_.key.reset();
        if (bar.meter) meter_ = *bar.meter;
        bar.comments = std::move(cell_comments_);
        cell_comments_.clear();
        if (bars_ == kMostWrittenBars) {
            fault(bar.where, "more than " + std::to_string(kMostWrittenBars) + " bars", {});
            is_full_ = true;
        }
        if (bars_ >= kMostWrittenBars) return;
        section.bars.push_back(std::move(bar));
        ++bars_;
        last_section_ = chart_.sections.size() - 1;
    }

    Bar* last_bar() { return bars_ == 0 ? nullptr : &chart_.sections[last_section_].bars.back(); }

    void finish() {
        chart_.closing_comments = std::move(comments_);
        if (bars_ == 0) {
            const Span end{source_.text.size(), source_.text.size()};
            fault(end, "there are no bars in this chart", "bars stand between bar lines: | Dm7 G7 | Cmaj7 |");
            return;
        }
        if (pending_.repeat_start || !pending_.signs.is_empty() || pending_.ending_start) {
            fault(pending_.where, "no bar follows this sign", "it belongs to the beginning of a bar");
        }
        if (final_bar_ == bars_) last_bar()->marks.double_bar = false;
        check_tune(chart_, labels_, !form_is_uncertain_, source_, diagnostics_);
    }

    void fault(Span span, std::string message, std::string hint) {
        diagnostics_.error(source_, span, std::move(message), std::move(hint));
    }

    // Signs that wait for the next bar.
    struct Pending {
        bool repeat_start = false;
        SignSet signs = {};
        bool ending_start = false;
        std::optional<Meter> meter = {};
        std::optional<Key> key = {};
        Span where = {};
    };

    const SourceText& source_;
    Diagnostics& diagnostics_;
    std::vector<TuneToken> tokens_;
    Chart chart_;
    TuneCell cell_;
    Meter meter_;
    Pending pending_;
    std::vector<int> open_endings_;           // numbers of the bracket that is open
    std::vector<Span> labels_;                // by section
    std::vector<std::string> comments_;       // lines of comment that wait for what they stand above
    std::vector<std::string> cell_comments_;  // those of the bar that is being read
    std::optional<std::string> line_remark_;
    std::optional<Span> last_sign_;   // of this line, with nothing behind it yet
    std::optional<Span> line_break_;  // a line ended inside a bar
    std::size_t last_section_ = 0;
    std::size_t errors_before_;
    int bars_ = 0;
    int bars_before_line_ = 0;
    int final_bar_ = -1;  // bars read when |] came
    bool has_music_ = false;
    bool line_has_header_ = false;
    bool label_of_line_ = false;
    bool sign_has_count_ = false;  // ":| x3", and nothing behind it yet
    bool form_is_uncertain_ = false;
    bool uneven_is_said_ = false;
    bool is_full_ = false;  // more bars than a chart may have
};

}  // namespace

std::optional<Chart> read_tune(const SourceText& source, Diagnostics& diagnostics) {
    if (!is_readable_text(source, diagnostics)) return std::nullopt;
    const std::optional<SourceText> ours = as_our_chart(source, diagnostics);
    return TuneReader{ours ? *ours : source, diagnostics}.run();
}

UnfinishedTune read_unfinished_tune(const SourceText& source, Diagnostics& diagnostics) {
    if (!is_readable_text(source, diagnostics)) return {};
    const std::optional<SourceText> ours = as_our_chart(source, diagnostics);
    return {TuneReader{ours ? *ours : source, diagnostics}.run_in_spite_of_faults(), ours.has_value()};
}

}  // namespace shedbook
