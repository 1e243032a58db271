#include "stretches.h"

#include <algorithm>
#include <numeric>
#include <string>
#include <utility>

namespace shedbook {
namespace {

// How fine a bar may be cut, and how many such pieces one may have.
constexpr int kFinestDivision = 16;  // of a beat, by a tuplet
constexpr std::int64_t kMostTicksAQuarter = 100'000;
constexpr std::int64_t kMostTicksABar = 20'000'000;

Position end_of(const OpenStretch& open) {
    return open.at + open.length;
}

Ticks earlier(Ticks in_bar, LineTicks other) {
    return static_cast<Ticks>(std::min<LineTicks>(in_bar, other));
}

}  // namespace

LineTicks to_line_ticks(Rational whole_notes, Ticks ticks_per_quarter) {
    return whole_notes.num() * 4 * ticks_per_quarter / whole_notes.den();
}
Ticks to_ticks(Rational whole_notes, Ticks ticks_per_quarter) {
    return static_cast<Ticks>(to_line_ticks(whole_notes, ticks_per_quarter));
}

Ticks ticks_needed(const ConcertLine& line, const NotateOptions& options) {
    constexpr std::int64_t kFewest = 12;
    std::int64_t ticks = kFewest;
    std::int64_t longest = 1;
    const auto need = [&](Rational whole_notes) {
        if (4 * ticks % whole_notes.den() == 0) return;
        ticks = std::lcm(ticks, Rational{whole_notes * Rational{4}}.den());
        if (ticks > kMostTicksAQuarter)
            throw UnwritableMusic("these lengths are too fine to be written together: a place at " +
                                  std::to_string(whole_notes.num()) + "/" +
                                  std::to_string(whole_notes.den()) + " of a whole note beside the others");
    };
    const auto need_meter = [&](const Meter& meter) {
        need(meter.unit_length().whole_notes);
        longest = std::max(longest, meter.bar_length().whole_notes.floor() + 1);
    };
    need_meter(options.meter);
    for (const NotateOptions::BarPlan& bar : options.bars) {
        need(bar.length.whole_notes);
        if (bar.change) need_meter(*bar.change);
        longest = std::max(longest, bar.length.whole_notes.floor() + 1);
    }
    for (const LineNote& note : line.notes) {
        need(note.at.whole_notes);
        need(note.length.whole_notes);
    }
    for (const OpenStretch& open : line.open) {
        need(open.at.whole_notes);
        need(open.length.whole_notes);
    }
    for (const PlacedSymbol& symbol : options.chords) need(symbol.at.whole_notes);
    for (const Position breath : line.breaths) need(breath.whole_notes);
    for (const auto& text : line.texts) need(text.at.whole_notes);
    need(line.length.whole_notes);
    if (longest > kMostTicksABar / (4 * ticks))
        throw UnwritableMusic("a bar is too long, and cut too finely, to be written");
    return static_cast<Ticks>(ticks);
}

int division_of(const std::vector<Ticks>& places, Ticks beat) {
    for (int n = 1; n <= kFinestDivision; ++n) {
        if (beat % n != 0) continue;
        const Ticks part = beat / n;
        if (std::ranges::all_of(places, [part](Ticks t) { return t % part == 0; })) return n;
    }
    return 0;
}

std::vector<Stretch> SoundOfBars::in_bar(const Bar& bar, std::vector<Ticks> cuts) {
    cuts_ = std::move(cuts);
    drop_cuts_that_no_value_has(bar);
    stretches_.clear();
    collect(bar.start, bar.length);
    return std::move(stretches_);
}

// Where the notes of a bar begin and end.
std::vector<Ticks> SoundOfBars::note_edges(const Bar& bar) const {
    std::vector<Ticks> out;
    for (std::size_t n = next_note_; n < line_.notes.size(); ++n) {
        const LineTicks begin = ticks_at(line_.notes[n].at) - bar.start;
        const LineTicks end = ticks_at(line_.notes[n].at + line_.notes[n].length) - bar.start;
        if (begin >= bar.length) break;
        for (const LineTicks edge : {begin, end}) {
            if (edge > 0 && edge < bar.length) out.push_back(static_cast<Ticks>(edge));
        }
    }
    return out;
}

// A chord may stand where no note can begin, as on a fifth of a beat that has a triplet; then it stands
// over the middle of a note.
void SoundOfBars::drop_cuts_that_no_value_has(const Bar& bar) {
    if (cuts_.empty()) return;
    const std::vector<Ticks> edges = note_edges(bar);
    std::vector<Ticks> places;
    const auto is_hopeless = [&](Ticks cut) {
        const Ticks beat_start = (cut + bar.shift) / bar.beat * bar.beat;
        places.clear();
        for (const std::vector<Ticks>* ticks : {&edges, &std::as_const(cuts_)}) {
            for (const Ticks tick : *ticks) {
                const Ticks in_beat = tick + bar.shift - beat_start;
                if (in_beat > 0 && in_beat < bar.beat) places.push_back(in_beat);
            }
        }
        return division_of(places, bar.beat) == 0;
    };
    std::vector<Ticks> kept;
    for (const Ticks cut : cuts_) {
        if (!is_hopeless(cut)) kept.push_back(cut);
    }
    cuts_ = std::move(kept);
}

// Adds what lies between notes, cut at chord changes.
void SoundOfBars::add_cut(Stretch stretch) {
    const Ticks to = stretch.at + stretch.length;
    for (const Ticks cut : cuts_) {
        if (cut <= stretch.at || cut >= to) continue;
        stretch.length = cut - stretch.at;
        stretches_.push_back(stretch);
        stretch.at = cut;
    }
    stretch.length = to - stretch.at;
    stretches_.push_back(stretch);
}

// Between the notes: rest, or the player's own.
void SoundOfBars::add_silence(LineTicks start, Ticks from, Ticks to) {
    while (from < to) {
        while (next_open_ < line_.open.size() && ticks_at(end_of(line_.open[next_open_])) <= start + from)
            ++next_open_;
        Stretch stretch;
        stretch.at = from;
        Ticks end = to;
        if (next_open_ < line_.open.size()) {
            const LineTicks opens = ticks_at(line_.open[next_open_].at) - start;
            if (opens <= from) {
                stretch.kind = Stretch::Kind::Open;
                end = earlier(end, ticks_at(end_of(line_.open[next_open_])) - start);
            } else {
                end = earlier(end, opens);
            }
        }
        stretch.length = end - from;
        add_cut(stretch);
        from = end;
    }
}

// The notes of one bar and what lies between them.
void SoundOfBars::collect(LineTicks start, Ticks length) {
    Ticks at = 0;
    for (; next_note_ < line_.notes.size(); ++next_note_) {
        const LineNote& note = line_.notes[next_note_];
        const LineTicks begin = ticks_at(note.at) - start;
        if (begin >= length) break;
        const LineTicks end = begin + to_line_ticks(note.length.whole_notes, ticks_per_quarter_);
        const auto from = static_cast<Ticks>(std::max<LineTicks>(begin, 0));
        add_silence(start, at, from);
        at = earlier(length, end);
        stretches_.push_back({from, at - from, Stretch::Kind::Note, &note, begin<0, end> length});
        if (end > length) return;  // goes on in the next bar
    }
    add_silence(start, at, length);
}

}  // namespace shedbook
