#include "shedbook/etude/through_changes.h"

#include <algorithm>
#include <cstdlib>
#include <optional>

namespace shedbook {
namespace {

// The lowest sounding of a note at or above a key number.
Pitch at_or_above(PitchClass note, int midi) {
    Pitch pitch{note, midi / 12 - 2};
    while (pitch.midi() < midi) pitch = pitch + kOctave;
    return pitch;
}

// The next scale note above (direction 1) or below (-1) a pitch; nothing if the range ends before it.
std::optional<Pitch> next_in_scale(const std::vector<PitchClass>& notes, int from, int direction,
                                   PitchRange range) {
    std::optional<Pitch> best;
    for (const PitchClass note : notes) {
        Pitch candidate = at_or_above(note, from + 1);
        if (direction < 0) {
            candidate = at_or_above(note, from) - kOctave;
            if (candidate.midi() == from) candidate = candidate - kOctave;
        }
        if (!range.holds(candidate)) continue;
        if (!best || std::abs(candidate.midi() - from) < std::abs(best->midi() - from)) best = candidate;
    }
    return best;
}

class LineWalker {
  public:
    explicit LineWalker(PitchRange range) : range_{range} {}

    Pitch next(const ScaleSpan& span) {
        if (!last_) return remember(beginning(span));
        if (const auto step = next_in_scale(span.notes, last_->midi(), direction_, range_))
            return remember(*step);
        direction_ = -direction_;
        if (const auto step = next_in_scale(span.notes, last_->midi(), direction_, range_))
            return remember(*step);
        return remember(*last_);  // a range of a single note
    }

    // The chord tone nearest to the last note, another than it if there is one; the root where two are as
    // near.
    Pitch come_to_rest(const ScaleSpan& span) {
        if (!last_) return remember(beginning(span));
        std::optional<Pitch> best;
        for (const PitchClass tone : span.chord) {
            for (int octave = -1; octave <= 1; ++octave) {
                const Pitch candidate = at_or_above(tone, last_->midi()) + octave * kOctave;
                if (!range_.holds(candidate) || candidate.midi() == last_->midi()) continue;
                if (!best || distance(candidate) < distance(*best)) best = candidate;
            }
        }
        return remember(best.value_or(*last_));
    }

    void rest() { last_.reset(); }

  private:
    [[nodiscard]] int distance(Pitch pitch) const { return std::abs(pitch.midi() - last_->midi()); }

    // The root nearest to a third of the way up: room above, and some below.
    [[nodiscard]] Pitch beginning(const ScaleSpan& span) const {
        const int low = range_.low.midi();
        const int third = low + (range_.high.midi() - low) / 3;
        Pitch root = at_or_above(span.chord.empty() ? span.notes.front() : span.chord.front(), low);
        if (!range_.holds(root)) root = *next_in_scale(span.notes, low - 1, 1, range_);
        while (root.midi() + 12 <= third && range_.holds(root + kOctave)) root = root + kOctave;
        return root;
    }

    Pitch remember(Pitch pitch) {
        last_ = pitch;
        return pitch;
    }

    PitchRange range_;
    std::optional<Pitch> last_;
    int direction_ = 1;
};

}  // namespace

ConcertLine unbroken_scale_line(const std::vector<ScaleSpan>& spans, PitchRange range, Duration note) {
    ConcertLine line;
    LineWalker walker{range};
    if (spans.empty()) return line;
    const Position end = spans.back().at + spans.back().length;
    line.length = end - Position{};
    // The tune's last half bar is one note to rest on, if there is room for it.
    const Duration last_length = std::min(kHalf, spans.back().length);
    for (const ScaleSpan& span : spans) {
        if (span.notes.empty()) {
            walker.rest();
            continue;
        }
        const bool is_last = &span == &spans.back();
        const Position stop = is_last ? end - last_length : span.at + span.length;
        Position at = span.at;
        while (at < stop) {
            const Duration length = std::min(note, stop - at);
            line.notes.push_back({walker.next(span), at, length});
            at += length;
        }
        if (is_last) line.notes.push_back({walker.come_to_rest(span), at, end - at});
    }
    return line;
}

}  // namespace shedbook
