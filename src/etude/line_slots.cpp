#include "line_slots.h"

#include <algorithm>
#include <utility>

#include "line_tools.h"

namespace shedbook {
namespace {

// Where the notes of a bar begin.
std::vector<Position> grid_of(const GroundBar& bar, Duration value) {
    std::vector<Position> out;
    const Position end = bar.at + bar.length;
    const Meter& meter = bar.meter;
    const bool is_uneven = meter.unit >= 8 && !meter.is_compound() && value >= kQuarter;
    if (is_uneven && meter.bar_length() == bar.length) {
        Position at = bar.at;
        for (const int group : meter.grouping()) {
            out.push_back(at);
            at += meter.unit_length() * Rational{group};
        }
        return out;
    }
    const Duration step = value_in(meter, value);
    for (Position at = bar.at; at < end; at += step) out.push_back(at);
    return out;
}

Position nearest(const std::vector<Position>& grid, Position at) {
    const auto after = std::ranges::lower_bound(grid, at);
    if (after == grid.end()) return grid.back();
    if (after == grid.begin() || *after == at) return *after;
    return at - *(after - 1) < *after - at ? *(after - 1) : *after;
}

ChordFacts facts_of_span(const ScaleSpan& span) {
    if (span.symbol) return facts_of(*span.symbol);
    ChordFacts out;
    out.tones = out.all = out.ends = set_of(span.chord);
    out.inside = set_of(span.notes);
    return out;
}

SoundSet altered_of(const ScaleSpan& span, const ChordFacts& facts) {
    return span.symbol ? altered_tones(facts, set_of(span.notes), span.symbol->root) : 0;
}

SoundSet third_of(const ScaleSpan& span, const ChordFacts& facts, const std::vector<LineSpan>& before) {
    if (!span.symbol || before.empty()) return 0;
    return leading_third(facts, set_of(before.back().span->notes), span.symbol->root);
}

// Where notes may begin, the end of the line included; and the beats.
struct Grid {
    std::vector<Position> places;
    std::vector<Position> bars;
    std::vector<Position> beats;
    std::vector<Position> halves;
};

Grid grid_of(const EtudeGround& ground, Duration value) {
    Grid out;
    for (const GroundBar& bar : ground.bars) {
        for (const Position at : grid_of(bar, value)) out.places.push_back(at);
        out.bars.push_back(bar.at);
        const Duration beat = bar.meter.unit == 2 ? kQuarter : bar.meter.beat_length();
        int count = 0;
        for (Position at = bar.at; at < bar.at + bar.length; at += beat, ++count) {
            out.beats.push_back(at);
            if (count > 0 && count % 2 == 0) out.halves.push_back(at);
        }
    }
    out.places.push_back(Position{} + ground.length);
    return out;
}

bool has(const std::vector<Position>& places, Position at) {
    return std::ranges::binary_search(places, at);
}

// Where each chord begins on the grid, or on its beats; the chord a beat ahead stays where it is written if
// it has more than a note's room.
struct Heeded {
    Position from;
    Position to;
    const ScaleSpan* span;
};

std::vector<Heeded> heeded(const EtudeGround& ground, const Grid& grid, Heed heed) {
    std::vector<Position> places = grid.places;
    if (heed == Heed::NearestBeat) {
        std::erase_if(places, [&](Position at) { return at != grid.places.back() && !has(grid.beats, at); });
    }
    std::vector<Heeded> out;
    for (const ScaleSpan& span : ground.spans) {
        const Position from = nearest(places, span.at);
        const Position to = nearest(places, span.at + span.length);
        if (from < to) out.push_back({from, to, &span});
    }
    return out;
}

// See LineSpan.
void tell_sus_chords_apart(std::vector<LineSpan>& spans) {
    constexpr int kThird = 4;
    constexpr int kFourth = 5;
    const LineSpan* before = nullptr;
    for (LineSpan& span : spans) {
        if (!span.span->symbol) {
            before = nullptr;
            continue;
        }
        const int root = span.span->symbol->root.semitone();
        const SoundSet fourth = sound(root + kFourth);
        const SoundSet third = sound(root + kThird);
        if (span.facts.sus_third != 0) {
            if ((span.facts.tell & fourth) != 0) span.facts.tell = fourth;
        } else if (before != nullptr && before->facts.sus_third != 0 && (span.facts.tell & third) != 0 &&
                   before->span->symbol->root.semitone() == root) {
            span.facts.tell = third;
        }
        before = &span;
    }
}

// What rubs against none of the chords that sound for an eighth or more under a note.
SoundSet clear_of(const EtudeGround& ground, Position at, Position end) {
    SoundSet out = kAllSounds;
    auto span = std::ranges::upper_bound(ground.spans, at, {}, &ScaleSpan::at);
    if (span != ground.spans.begin()) --span;
    for (; span != ground.spans.end() && span->at < end; ++span) {
        const Position to = std::min(end, span->at + span->length);
        const Position from = std::max(at, span->at);
        if (span->notes.empty() || !span->symbol || to - from < kEighth) continue;
        out &= restful(facts_of(*span->symbol));
    }
    return out;
}

}  // namespace

Duration value_in(const Meter& meter, Duration value) {
    if (!meter.is_compound()) return value;
    if (value >= kQuarter) return meter.beat_length() * (value / kQuarter);
    return value < kEighth && (value / kEighth) == Rational{2, 3} ? kEighth : value;
}

Duration last_rest(const GroundBar& bar) {
    if (bar.meter.is_compound()) {
        const Rational beats = bar.meter.bar_length() / bar.meter.beat_length();
        return bar.meter.beat_length() * Rational{std::max<std::int64_t>(1, beats.floor() / 2)};
    }
    return std::min(kHalf, bar.length);
}

LineSlots::LineSlots(const EtudeGround& ground, Duration value, Heed heed) {
    const Grid grid = grid_of(ground, value);
    const std::vector<Heeded> chords = heeded(ground, grid, heed);
    const Heeded* last = nullptr;
    for (const Heeded& chord : chords) last = chord.span->notes.empty() ? last : &chord;
    Position before;
    for (const Heeded& chord : chords) {
        if (chord.span->notes.empty()) continue;
        // Chords alike that follow each other are one.
        const bool goes_on = !spans.empty() && spans.back().span->symbol == chord.span->symbol &&
                             before == chord.from && !all.empty();
        if (!goes_on) {
            ChordFacts facts = facts_of_span(*chord.span);
            const SoundSet altered = altered_of(*chord.span, facts);
            const SoundSet third = third_of(*chord.span, facts, spans);
            spans.push_back({chord.span, std::move(facts), altered, third, false});
        } else if (!all.empty()) {
            all.back().closes = false;
        }
        Position end = chord.to;
        const auto bar = std::ranges::lower_bound(ground.bars, end, {}, &GroundBar::at) - 1;
        const Position rest = &chord == last ? std::max({chord.from, end - last_rest(*bar), bar->at}) : end;
        auto at = std::ranges::lower_bound(grid.places, chord.from);
        while (*at < end) {
            Position to = std::min(*(at + 1), end);
            Slot slot;
            slot.is_last = &chord == last && *at >= rest;
            if (slot.is_last) to = end;
            slot.at = *at;
            slot.length = to - *at;
            slot.span = spans.size() - 1;
            slot.opens = *at == chord.from && !goes_on;
            slot.fresh = all.empty() || before != *at;
            slot.starts_bar = has(grid.bars, *at);
            slot.is_strong = slot.starts_bar || has(grid.halves, *at);
            slot.on_beat = has(grid.beats, *at);
            if (slot.length >= kQuarter) slot.clear = clear_of(ground, slot.at, to);
            all.push_back(slot);
            before = to;
            if (slot.is_last) break;
            ++at;
        }
        if (!all.empty()) all.back().closes = true;
    }
    tell_sus_chords_apart(spans);
    std::vector<Duration> lengths(spans.size());
    for (const Slot& slot : all) lengths[slot.span] += slot.length;
    for (std::size_t i = 0; i < spans.size(); ++i) {
        const Duration beat = bar_at(ground, spans[i].span->at).meter.beat_length();
        spans[i].is_duty = lengths[i] >= least_told(beat) && spans[i].facts.tell != 0;
    }
}

}  // namespace shedbook
