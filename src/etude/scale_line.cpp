// One line of scale notes through all the changes: it goes on in its direction over every change, and turns
// where the range ends, or where it would leave a chord untold or lean on the third of a sus chord (common
// practice).
#include <algorithm>
#include <cstdlib>

#include "chord_statement.h"
#include "line_maker.h"
#include "lines.h"

namespace shedbook {
namespace {

class ScaleLine : LineMaker {
  public:
    ScaleLine(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : LineMaker{ground, request, range}, slots_{ground, value_} {
        // Four octaves are no more than an instrument has.
        if (level_.span == 0) range_ = range;
        // Through a few bars it turns within an octave and a half; another time further up.
        if (request.bars) range_ = part_of(range_);
    }

    ConcertLine make() {
        std::vector<LinePlace> places;
        for (const Slot& slot : slots_.all) {
            const LineSpan& span = slots_.spans[slot.span];
            SoundSet notes = set_of(span.span->notes);
            // A scale that knows nothing of its chord.
            if ((notes & span.facts.tell) == 0) notes |= span.facts.tell;
            if (slot.is_last) notes = span.facts.ends;
            places.push_back(place_of(slot, choices(notes, *span.span), slots_));
            if (request_.bars && span.is_duty && span.span->symbol)
                ask_more(places.back(), span, before(slot));
        }
        const std::vector<Pitch> line =
            cheapest_line(places, request_.pass % 2 == 0 ? 1 : -1,
                          [&](const LineMove& move) { return cost(move, places[move.place]); });
        for (std::size_t i = 0; i < line.size(); ++i)
            add_note(line_, line[i], slots_.all[i].at, slots_.all[i].length);
        return std::move(line_);
    }

  private:
    // On a few bars a dominant is told by its third and coloured by what its symbol alters; a half-diminished
    // chord by its flat fifth; a chord whose third is none of the notes before it (iv of a major key) by
    // that; and root or third is heard of these and all others.
    static void ask_more(LinePlace& place, const LineSpan& span, const LineSpan* before) {
        const std::vector<SoundSet> each = statement_of(span.facts, *span.span->symbol).each;
        if (!each.empty()) place.tell = each.front();
        const int root = span.span->symbol->root.semitone();
        const SoundSet third = span.facts.guide & (sound(root + 3) | sound(root + 4));
        const bool is_new = before != nullptr && (set_of(before->span->notes) & third) == 0;
        if (each.empty() && third != 0 && is_new) place.tell = third;
        if (each.size() > 1) place.colour = each.back();
        if (each.empty() && place.colour == 0) place.colour = third | sound(root);
    }

    // The chord that sounds before this one; null: none does.
    [[nodiscard]] const LineSpan* before(const Slot& slot) const {
        return slot.span == 0 || slot.fresh ? nullptr : &slots_.spans[slot.span - 1];
    }

    [[nodiscard]] MoveCost cost(const LineMove& move, const LinePlace& place) const {
        const Slot& slot = slots_.all[move.place];
        const LineSpan& span = slots_.spans[slot.span];
        if (!move.from) return {beginning(move.to, *span.span)};
        const int by = std::abs(move.by());
        if (by == 0) return {kNever};
        if (slot.is_last) return {by > 5 ? 20.0 + by : by / 4.0};
        const bool is_step = by <= 4 && next_of(place.choices, *move.from, move.by()) == move.to;
        if (!is_step && is_quick(span) && by <= kThird)
            return {kBetweenTones + off_the_chord(slot, span, move.to)};
        // Of one note a chord no line of steps is made.
        if (!is_step) return {slot.length > kQuarter && by <= 9 ? 2.0 * by : kNever};
        double out = rub_on_the_way(move, slot, span) + awkward(move, slots_.all[move.place - 1].length);
        if (place.opens) out += off_the_chord(slot, span, move.to) + left_hanging(move);
        constexpr double kTurn = 3;
        if (move.turns() && next_of(place.choices, *move.from, move.way)) out += kTurn;
        return {out};
    }

    // A chord of a beat has a tone on it, and a third on the way where no step leads there.
    [[nodiscard]] static bool is_quick(const LineSpan& span) { return span.span->length < kHalf; }
    static constexpr int kThird = 4;
    static constexpr double kBetweenTones = 2;

    // By step, a note may rub for a beat; the third of a sus chord may not.
    [[nodiscard]] static double rub_on_the_way(const LineMove& move, const Slot& slot, const LineSpan& span) {
        const bool passes = slot.length <= kQuarter && !holds(span.facts.sus_third, move.to.midi());
        return passes ? 0 : rub(slot, span, move.to);
    }

    // A chord of two beats and more is met on one of its tones.
    [[nodiscard]] static double off_the_chord(const Slot& slot, const LineSpan& span, Pitch note) {
        constexpr double kOff = 4;  // more than a turn
        constexpr double kRub = 4;
        constexpr double kNothingElse = 3;  // times as much where a chord has one beat
        if (!slot.on_beat || holds(span.facts.tones, note.midi())) return 0;
        return (is_quick(span) ? kNothingElse : 1) * kOff +
               (holds(restful(span.facts), note.midi()) ? 0 : kRub);
    }

    // The third of a dominant on the way home rises; into another dominant it may sink to its seventh.
    [[nodiscard]] double left_hanging(const LineMove& move) const {
        constexpr double kHangs = 3.5;  // more than a turn
        constexpr int kFourth = 5;
        constexpr int kMajorThird = 4;
        const LineSpan& from = slots_.spans[slots_.all[move.place - 1].span];
        const LineSpan& to = slots_.spans[slots_.all[move.place].span];
        if (!from.span->symbol || !to.span->symbol) return 0;
        const int root = from.span->symbol->root.semitone();
        const bool is_third = holds(from.facts.guide & sound(root + kMajorThird), move.from->midi());
        const bool goes_home = family(*from.span->symbol) == ChordFamily::Dominant &&
                               family(*to.span->symbol) != ChordFamily::Dominant &&
                               to.span->symbol->root.semitone() == (root + kFourth) % 12;
        return is_third && goes_home && move.by() != 1 ? kHangs : 0;
    }

    [[nodiscard]] PitchRange part_of(PitchRange all) const {
        constexpr int kWidth = 19;  // half steps
        const int free = all.high.midi() - all.low.midi() - kWidth;
        if (free <= 0) return all;
        return part_from(all, request_.pass % 2 == 0 ? free / 3 : free - free / 3, kWidth);
    }

    // The root a third of the way up: room above, and some below. Another time on any chord tone in the upper
    // half, downwards.
    [[nodiscard]] double beginning(Pitch note, const ScaleSpan& span) const {
        if (request_.pass % 2 != 0) {
            const bool is_root =
                !span.chord.empty() && note.name().semitone() == span.chord.front().semitone();
            const bool is_tone = holds(set_of(span.chord), note.midi());
            const int off = std::max(0, middle_of(range_).midi() - note.midi());
            return off + (is_root ? 3 : is_tone ? 0 : 8);
        }
        const int third = range_.low.midi() + (range_.high.midi() - range_.low.midi()) / 3;
        const int off = std::max(0, note.midi() - third) + std::max(0, third - 11 - note.midi());
        const bool is_root = !span.chord.empty() && note.name().semitone() == span.chord.front().semitone();
        return off + (is_root ? 0 : 8);
    }

    LineSlots slots_;
};

}  // namespace

ConcertLine unbroken_scale_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return ScaleLine{ground, request, range}.make();
}

}  // namespace shedbook
