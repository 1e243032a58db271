#include "time_limits.h"

#include <numeric>
#include <utility>

#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

TimeFault too_fine(Span where, const std::string& what, Rational time) {
    const std::string parts = std::to_string(time.den());
    if (time.den() > kFinestTime) {
        return {where, what + " is counted in parts of 1/" + parts + " of a whole note, which is too fine",
                "1/" + std::to_string(kFinestTime) + " is the finest"};
    }
    return {where,
            what + " is counted in parts of 1/" + parts +
                " of a whole note, which do not go together with the times before",
            "too many kinds of tuplets in one chart: what they have in common may be 1/" +
                std::to_string(kFinestGrid) + " of a whole note at the finest"};
}

}  // namespace

bool TimeLimits::counts_in(Rational time) {
    if (time.den() > kFinestTime) return false;
    const std::int64_t both = std::lcm(parts_, time.den());
    if (both > kFinestGrid) return false;
    parts_ = both;
    return true;
}

std::optional<TimeFault> TimeLimits::take(const WrittenBar& bar) {
    if (bar.length.whole_notes > Rational{kLongestBar}) {
        return TimeFault{bar.bar->where,
                         "this bar lasts " + to_string(bar.length.whole_notes) + " whole notes",
                         std::to_string(kLongestBar) + " is the most that a bar may have"};
    }
    if (!counts_in(bar.length.whole_notes)) {
        return too_fine(bar.bar->where, "the length of this bar", bar.length.whole_notes);
    }
    if (bar.bar->chords.size() > kMostChordsInBar) {
        return TimeFault{bar.bar->where,
                         "more than " + std::to_string(kMostChordsInBar) + " chords in one bar",
                         "a bar line is missing"};
    }
    for (const PlacedChord& chord : bar.bar->chords) {
        const Rational at = chord.at.whole_notes;
        if (!counts_in(at)) return too_fine(chord.where, "the place of '" + chord.text + "'", at);
        if (!counts_in(chord.push.whole_notes)) {
            return too_fine(chord.where, "the push of '" + chord.text + "'", chord.push.whole_notes);
        }
    }
    return std::nullopt;
}

std::optional<TimeFault> TimeLimits::take_melody(const WrittenBar& bar) {
    const std::int64_t parts_before = parts_;
    for (const MelodyNote& note : bar.bar->melody) {
        const std::string name = note.pitch ? "'" + to_string(*note.pitch) + "'" : "a rest";
        for (const auto& [what, time] : {std::pair{"the place of ", note.at.whole_notes},
                                         std::pair{"the length of ", note.length.whole_notes}}) {
            if (counts_in(time)) continue;
            parts_ = parts_before;
            return too_fine(bar.bar->where, what + name, time);
        }
    }
    return std::nullopt;
}

void check_times(const Chart& chart, const SourceText& source, Diagnostics& diagnostics) {
    TimeLimits limits;
    for (const WrittenBar& bar : written_bars(chart)) {
        std::optional<TimeFault> fault = limits.take(bar);
        if (!fault) fault = limits.take_melody(bar);
        if (fault) diagnostics.error(source, fault->where, std::move(fault->message), std::move(fault->hint));
        if (diagnostics.is_full()) return;
    }
}

}  // namespace shedbook
