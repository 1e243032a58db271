#include "timing.h"

#include <algorithm>
#include <numeric>

namespace shedbook {
namespace {

// Times in whole numbers of a small part of a whole note, so that a long line needs no fractions.
class Clock {
  public:
    explicit Clock(const DrillTemplate& drill) : drill_{drill} {
        parts_ = std::lcm(std::int64_t{8}, drill.meter.unit);
        for (const RhythmStep& step : drill.rhythm) {
            parts_ = std::lcm(parts_, step.length.whole_notes.den());
        }
        for (const RhythmStep& step : drill.rhythm) lengths_.push_back(in_parts(step.length));
        bar_ = in_parts(drill.meter.bar_length());
        beat_ = in_parts(drill.meter.beat_length());
        origin_ = drill.displaced * in_parts(kEighth);
    }

    [[nodiscard]] std::int64_t bar() const { return bar_; }
    [[nodiscard]] Rational whole_notes(std::int64_t time) const { return {time, parts_}; }

    // Calls `place` with each note's index, time and length; gives the end.
    template <class Place>
    std::int64_t run(const Outline& outline, const Place& place) {
        const std::vector<Pitch>& notes = outline.notes;
        std::int64_t at = origin_;
        std::size_t step = 0;
        std::size_t next_end = 0;
        for (std::size_t i = 0; i < notes.size(); ++i) {
            for (; drill_.rhythm[step].is_rest; step = (step + 1) % lengths_.size()) at += lengths_[step];
            std::int64_t length = lengths_[step];
            step = (step + 1) % lengths_.size();
            const bool ends_cell =
                next_end < outline.cell_ends.size() && i + 1 == outline.cell_ends[next_end];
            if (ends_cell) ++next_end;
            // Coming to rest on the note that has just been reached on a beat, it is held, not struck again.
            const bool is_last =
                i + 1 == notes.size() || (outline.has_end && i + 2 == notes.size() &&
                                          notes[i] == notes[i + 1] && (at - origin_) % beat_ == 0);
            if (is_last) {
                length = until_bar(at);
            } else if (drill_.holds_cells && ends_cell) {
                length = until_bar(at - origin_);
                step = 0;
            }
            place(i, at, length);
            at += length;
            if (is_last) break;
        }
        return at;
    }

  private:
    [[nodiscard]] std::int64_t in_parts(Duration length) const {
        return length.whole_notes.num() * (parts_ / length.whole_notes.den());
    }
    // What rests lasts to the end of its bar; if that would be less than a quarter, through the next bar as
    // well.
    [[nodiscard]] std::int64_t until_bar(std::int64_t at) const {
        const std::int64_t length = bar_ - at % bar_;
        return length < std::min(parts_ / 4, bar_) ? length + bar_ : length;
    }

    const DrillTemplate& drill_;
    std::int64_t parts_ = 1;  // of a whole note
    std::vector<std::int64_t> lengths_;
    std::int64_t bar_ = 0;
    std::int64_t beat_ = 0;
    std::int64_t origin_ = 0;
};

// Joins notes under slurs. A slur does not go over a rest or a repeated note, and one note alone has none.
class SlurMaker {
  public:
    explicit SlurMaker(std::vector<LineNote>& notes) : notes_{notes} {}

    void take(std::size_t i, const ArticulationStep& step) {
        if (open_ && i > 0) {
            const LineNote& before = notes_[i - 1];
            const bool joins =
                before.at + before.length == notes_[i].at && before.pitch.midi() != notes_[i].pitch.midi();
            if (!joins || step.slur_starts) {
                close(i - 1);
                if (!joins && !step.slur_stops) open_ = i;
            }
        }
        if (step.slur_stops) close(i);
        if (step.slur_starts) open_ = i;
    }
    void finish() {
        if (!notes_.empty()) close(notes_.size() - 1);
    }

  private:
    void close(std::size_t at) {
        if (open_ && *open_ < at) {
            notes_[*open_].slur_starts = true;
            notes_[at].slur_stops = true;
        }
        open_.reset();
    }

    std::vector<LineNote>& notes_;
    std::optional<std::size_t> open_;
};

// A pattern begins again with each bar, so that each bar is tongued alike.
void articulate(ConcertLine& line, const ArticulationPattern& pattern, Duration bar) {
    SlurMaker slurs{line.notes};
    std::int64_t current_bar = -1;
    std::size_t count = 0;
    for (std::size_t i = 0; i < line.notes.size(); ++i) {
        LineNote& note = line.notes[i];
        const std::int64_t in_bar = ((note.at - Position{}) / bar).floor();
        if (in_bar != current_bar) count = 0;
        current_bar = in_bar;
        const ArticulationStep& step = pattern[count++ % pattern.size()];
        const bool rests = i + 1 == line.notes.size() || note.length > kQuarter;
        if (!rests) note.articulation = step.mark;
        slurs.take(i, step);
    }
    slurs.finish();
}

}  // namespace

ConcertLine set_in_time(const DrillTemplate& drill, const Outline& outline) {
    ConcertLine line;
    line.notes.reserve(outline.notes.size());
    Clock clock{drill};
    const std::int64_t end = clock.run(outline, [&](std::size_t i, std::int64_t at, std::int64_t length) {
        line.notes.push_back(
            {outline.notes[i], Position{clock.whole_notes(at)}, Duration{clock.whole_notes(length)}});
    });
    line.length = Duration{clock.whole_notes(end)};
    if (!drill.articulation.empty()) articulate(line, drill.articulation, drill.meter.bar_length());
    return line;
}

int bars_taken(const DrillTemplate& drill, const Outline& outline) {
    Clock clock{drill};
    const std::int64_t end = clock.run(outline, [](std::size_t, std::int64_t, std::int64_t) {});
    return static_cast<int>((end + clock.bar() - 1) / clock.bar());
}

}  // namespace shedbook
