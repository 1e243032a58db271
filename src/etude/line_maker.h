// What every maker of a simple line works with.
#pragma once

#include "dice.h"
#include "levels.h"
#include "line_search.h"
#include "line_slots.h"
#include "line_tools.h"
#include "note_values.h"
#include "shedbook/etude/etude.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

class LineMaker {
  public:
    LineMaker(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : ground_{ground},
          request_{request},
          level_{etude_level(request)},
          quarters_{quarters_a_minute(request, ground)},
          value_{value_at(level_, request.level, quarters_)},
          range_{range_at(level_, range)},
          dice_{request.seed} {
        line_.length = ground.length;
    }

  protected:
    // The value of a level at a tempo; who begins plays halves where quarters are too fast to think.
    [[nodiscard]] static Duration value_at(const EtudeLevel& level, int number, int quarters) {
        constexpr int kTooFast = 200;
        if (number == 1 && level.note == kQuarter && quarters > kTooFast) return kHalf;
        return playable(level.note, quarters, number);
    }
    // These notes in the range, or others of the chord, or of its scale: a narrow range may hold none.
    [[nodiscard]] std::vector<Pitch> choices(SoundSet wanted, const ScaleSpan& span) const {
        const std::vector<Pitch> all = in_range(span.notes, range_);
        std::vector<Pitch> out;
        for (const std::vector<Pitch>& notes : {all, in_range(span.chord, range_)}) {
            for (const Pitch note : notes) {
                const auto same = [&](Pitch other) { return other.midi() == note.midi(); };
                if (holds(wanted, note.midi()) && std::ranges::none_of(out, same)) out.push_back(note);
            }
        }
        std::ranges::sort(out);
        if (!out.empty()) return out;
        return all.empty() ? std::vector<Pitch>{middle_of(range_)} : all;
    }
    [[nodiscard]] LinePlace place_of(const Slot& slot, std::vector<Pitch> notes,
                                     const LineSlots& slots) const {
        const LineSpan& span = slots.spans[slot.span];
        return {std::move(notes), span.is_duty ? span.told() : 0, slot.opens, slot.closes, slot.fresh,
                span.altered};
    }
    // What a move costs that lies badly under the hand, so long after the note before.
    [[nodiscard]] double awkward(const LineMove& move, Duration since) const {
        if (!move.from || request_.handling.is_easy()) return 0;
        return request_.handling.cost(*move.from, move.to, seconds(since));
    }
    [[nodiscard]] double seconds(Duration length) const {
        const Rational quarters = length / kQuarter;
        return static_cast<double>(quarters.num()) / static_cast<double>(quarters.den()) * 60 / quarters_;
    }
    // What a note costs that rubs where it is long or on a beat.
    [[nodiscard]] static double rub(const Slot& slot, const LineSpan& span, Pitch note) {
        constexpr double kCost = 12;
        const bool is_heavy = slot.on_beat || slot.length >= kQuarter;
        const bool is_third = is_heavy && holds(span.facts.sus_third, note.midi());
        return is_third || !holds(slot.clear, note.midi()) ? kCost : 0;
    }

    const EtudeGround& ground_;
    const EtudeRequest& request_;
    const EtudeLevel& level_;
    int quarters_;  // a minute
    Duration value_;
    PitchRange range_;
    Dice dice_;
    ConcertLine line_;
};

}  // namespace shedbook
