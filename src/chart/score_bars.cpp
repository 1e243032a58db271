#include "score_bars.h"

#include <algorithm>
#include <string>
#include <utility>

namespace shedbook {
namespace {

Duration full_length(const ScoreBar& bar) {
    return bar.meter.value_or(Meter{}).bar_length();
}

std::string beats_text(Duration length, const Meter& meter) {
    return to_string(length / meter.unit_length());
}

// Whether a sign parts the bar from its neighbour; one at a note does not.
bool has_form_sign(const BarMarks& marks, SignSide side) {
    return std::ranges::any_of(form_signs(), [&](const FormSignRow& row) {
        return row.side == side && row.seat == SignSeat::Bar && marks.signs.has(row.sign);
    });
}

bool is_plain_at_right(const ScoreBar& bar, const ScoreBar& next) {
    const BarMarks& marks = bar.bar.marks;
    return marks.repeat_end == 0 && !marks.double_bar && !has_form_sign(marks, SignSide::Right) &&
           marks.endings == next.bar.marks.endings;
}

bool is_plain_at_left(const ScoreBar& bar) {
    const BarMarks& marks = bar.bar.marks;
    return !marks.repeat_start && !marks.ending_start && !has_form_sign(marks, SignSide::Left) &&
           !bar.has_label && !bar.bar.meter && !bar.bar.key;
}

bool are_halves(const ScoreBar& first, const ScoreBar& second) {
    if (!first.meter || !second.meter || first.content <= Duration{} || second.content <= Duration{})
        return false;
    const Duration full = full_length(first);
    return first.content < full && second.content < full && first.content + second.content == full &&
           is_plain_at_right(first, second) && is_plain_at_left(second);
}

void append(ScoreBar& first, ScoreBar second) {
    const Duration shift = first.content;
    for (PlacedChord& chord : second.bar.chords) {
        chord.at += shift;
        first.bar.chords.push_back(std::move(chord));
    }
    for (MelodyNote& note : second.bar.melody) {
        note.at += shift;
        first.bar.melody.push_back(note);
    }
    const BarMarks left = first.bar.marks;
    first.bar.marks = second.bar.marks;
    first.bar.marks.repeat_start = left.repeat_start;
    first.bar.marks.ending_start = left.ending_start;
    first.bar.marks.signs.put(left.signs);
    first.content += second.content;
}

// A last bar, or one at a repeat sign, that the pickup fills up: what every pickup leads to.
bool completes_pickup(const std::vector<ScoreBar>& bars, std::size_t i) {
    if (!bars.front().bar.is_pickup || bars[i].content + bars.front().content != full_length(bars[i]))
        return false;
    const bool next_opens = i + 1 < bars.size() && bars[i + 1].bar.marks.repeat_start;
    return i + 1 == bars.size() || bars[i].bar.marks.repeat_end > 0 || next_opens;
}

}  // namespace

void spread_repeats_and_endings(std::vector<ScoreBar>& bars) {
    std::vector<int> open;
    bool opens_next = false;
    std::vector<int> opens_next_ending;
    for (std::size_t i = 0; i < bars.size(); ++i) {
        BarMarks& marks = bars[i].bar.marks;
        if (std::exchange(opens_next, bars[i].opens_repeat_after)) marks.repeat_start = true;
        if (bars[i].closes_repeat_before && i > 0) {
            bars[i - 1].bar.marks.repeat_end = std::max(2, bars[i - 1].bar.marks.repeat_end);
        }
        if (bars[i].has_double_bar_before && i > 0) bars[i - 1].bar.marks.double_bar = true;
        std::vector<int> starts = std::exchange(opens_next_ending, {});
        bool stops = false;
        for (EndingSign& sign : bars[i].endings) {
            if (sign.type == EndingType::Stop) {
                // A stop at the left closes what ran up to this bar.
                if (sign.at_right)
                    stops = true;
                else
                    open.clear();
            } else {
                (sign.at_right ? opens_next_ending : starts) = std::move(sign.numbers);
            }
        }
        if (!starts.empty()) {
            open = starts;
            marks.ending_start = true;
        }
        marks.endings = open;
        if (stops || marks.repeat_end > 0) open.clear();
    }
}

void sort_out_codas(std::vector<ScoreBar>& bars) {
    const auto says = [&](FormSign sign) {
        return std::ranges::any_of(bars, [&](const ScoreBar& bar) { return bar.bar.marks.signs.has(sign); });
    };
    const bool way_known = says(FormSign::ToCoda);
    const bool coda_known = says(FormSign::Coda);
    std::vector<ScoreBar*> bare;
    for (ScoreBar& bar : bars) {
        // A coda sign beside the words "To Coda" or "Coda" is theirs.
        const SignSet& signs = bar.bar.marks.signs;
        if (bar.has_bare_coda && !signs.has(FormSign::ToCoda) && !signs.has(FormSign::Coda))
            bare.push_back(&bar);
    }
    for (std::size_t i = 0; i < bare.size(); ++i) {
        const bool is_last = i + 1 == bare.size();
        const bool receives = !coda_known && is_last && (way_known || bare.size() > 1);
        SignSet& signs = bare[i]->bar.marks.signs;
        if (receives || (bare.size() == 1 && !coda_known)) {
            signs.put(FormSign::Coda);
        } else if (!way_known) {
            signs.put(FormSign::ToCoda);
        }
    }
}

void join_halves(std::vector<ScoreBar>& bars, ScoreMessages& messages) {
    std::vector<ScoreBar> out;
    for (ScoreBar& bar : bars) {
        const bool joins = out.size() > 1 && are_halves(out.back(), bar);
        if (!joins) {
            out.push_back(std::move(bar));
            continue;
        }
        messages.warning(out.back().measure, {},
                         "this bar and the next are two parts of one; they are joined",
                         "later bars count one less than the file's");
        append(out.back(), std::move(bar));
    }
    bars = std::move(out);
}

void fill_empty_bars(std::vector<ScoreBar>& bars, Meter in_force) {
    for (ScoreBar& bar : bars) {
        if (bar.bar.meter) in_force = *bar.bar.meter;
        const bool is_whole_rest = bar.has_full_rest && bar.meter && !bar.is_implicit;
        if (is_whole_rest || bar.content <= Duration{}) bar.content = in_force.bar_length();
    }
}

// Programs that round times write bars a tick too short or too long.
void round_to_full(ScoreBar& bar, Duration full, ScoreMessages& messages) {
    constexpr Duration kShortestNote{Rational{1, 64}};
    const bool is_shorter = bar.content < full;
    if (bar.content == full || (is_shorter ? full - bar.content : bar.content - full) >= kShortestNote)
        return;
    messages.warning(bar.measure, {},
                     "this bar has " + beats_text(bar.content, bar.meter.value_or(Meter{})) + " of " +
                         beats_text(full, bar.meter.value_or(Meter{})) + " beats",
                     "less than a sixty-fourth note is missing or too much: it is taken as full");
    if (!bar.bar.melody.empty()) {
        MelodyNote& last = bar.bar.melody.back();
        if (last.at + last.length == Position{} + bar.content && last.at < Position{} + full)
            last.length = Position{} + full - last.at;
    }
    bar.content = full;
}

void judge_lengths(std::vector<ScoreBar>& bars, Meter in_force, ScoreMessages& messages) {
    for (std::size_t i = 0; i < bars.size(); ++i) {
        ScoreBar& bar = bars[i];
        // Where a score goes on without a meter, the chart still counts in the last one.
        if (bar.bar.meter) in_force = *bar.bar.meter;
        const Duration full = in_force.bar_length();
        round_to_full(bar, full, messages);
        if (bar.content == full) continue;
        bar.bar.length = bar.content;
        bar.bar.is_pickup = i == 0 && bar.meter && bar.content < full;
        if (bar.bar.is_pickup || !bar.meter || completes_pickup(bars, i)) continue;
        const bool is_half = i + 1 < bars.size() && bars[i + 1].meter && bar.content < full &&
                             bar.content + bars[i + 1].content == full;
        messages.warning(bar.measure, {},
                         "this bar has " + beats_text(bar.content, *bar.meter) + " of " +
                             beats_text(full, *bar.meter) + " beats",
                         is_half ? "the next has the rest; a sign between the two keeps them apart"
                                 : "it is kept as it is");
    }
}

void carry_late_chords(std::vector<ScoreBar>& bars, ScoreMessages& messages) {
    for (std::size_t i = 0; i < bars.size(); ++i) {
        std::vector<PlacedChord>& chords = bars[i].bar.chords;
        const Duration length = bars[i].content;
        const auto late = std::ranges::find_if(
            chords, [&](const PlacedChord& chord) { return chord.at - Position{} >= length; });
        if (late == chords.end()) continue;
        std::vector<PlacedChord> carried;
        for (auto chord = late; chord != chords.end(); ++chord) {
            messages.warning(bars[i].measure, chord->text,
                             "this chord symbol stands behind the end of its bar",
                             i + 1 < bars.size() ? "it is taken into the next bar" : "it is left out");
            chord->at = Position{};  // whatever the file meant, the next bar begins with it
            carried.push_back(std::move(*chord));
        }
        chords.erase(late, chords.end());
        if (i + 1 == bars.size()) continue;
        std::vector<PlacedChord>& next = bars[i + 1].bar.chords;
        next.insert(next.begin(), carried.begin(), carried.end());
    }
}

void mark_similes(std::vector<ScoreBar>& bars) {
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const auto back = static_cast<std::size_t>(bars[i].measure_repeat);
        Bar& bar = bars[i].bar;
        if (back == 0 || back > i || !bar.chords.empty()) continue;
        if (back <= 2) {
            bar.simile = static_cast<int>(back);
            bar.melody.clear();
        } else {
            bar.chords = bars[i - back].bar.chords;
            std::erase_if(bar.chords,
                          [&](const PlacedChord& chord) { return chord.at - Position{} >= bars[i].content; });
        }
    }
}

}  // namespace shedbook
