// Eighths with chord tones on the beats (R. Hutchinson, Music Theory for the 21st-Century Classroom, 31.9:
// the eight-note scales fall in eighths from 1, 3, 5 or b7 on the beat, and the chord tones stay on it).
#include <algorithm>
#include <cstdlib>

#include "line_maker.h"
#include "line_tools.h"
#include "lines.h"
#include "spelling.h"

namespace shedbook {
namespace {

bool has_sound(const std::vector<PitchClass>& notes, int semitone) {
    return std::ranges::any_of(notes, [&](PitchClass note) { return note.semitone() == semitone % 12; });
}

// Four notes for the beats: root, third, fifth and seventh; the sixth where the seventh is major or missing,
// as in the major scale with the added note.
std::vector<PitchClass> beat_tones(const ScaleSpan& span) {
    std::vector<PitchClass> out = plain_tones(span);
    if (!span.symbol) return out;
    const int root = span.symbol->root.semitone();
    for (PitchClass& tone : out) {
        if ((tone.semitone() - root + 12) % 12 != 11) continue;
        if (const auto sixth = scale_name(span, root + 9)) tone = *sixth;
    }
    if (out.size() == 3 && has_sound(out, root + 7)) {
        for (const int fourth : {root + 10, root + 9, root + 8}) {
            const auto name = scale_name(span, fourth);
            if (!name) continue;
            out.push_back(*name);
            break;
        }
    }
    return out;
}

struct Slot {
    Position at;
    Duration length;
    bool on_beat = false;
    const ScaleSpan* span = nullptr;
    std::optional<Pitch> pitch = {};
};

class AddedNoteLine : LineMaker {
  public:
    using LineMaker::LineMaker;

    ConcertLine make() {
        line_.length = ground_.length;
        lay_out();
        place_tones();
        fill();
        for (const Slot& slot : slots_) {
            if (slot.pitch) add_note(line_, *slot.pitch, slot.at, slot.length);
        }
        return std::move(line_);
    }

  private:
    // Slots of an eighth; the last half bar of the tune is one slot.
    void lay_out() {
        const Position end = Position{} + ground_.length;
        std::size_t s = 0;
        for (const GroundBar& bar : ground_.bars) {
            const Position bar_end = bar.at + bar.length;
            const Duration beat = bar.meter.is_compound() ? bar.meter.beat_length() : kQuarter;
            Position at = bar.at;
            while (at < bar_end) {
                while (s + 1 < ground_.spans.size() && ground_.spans[s].at + ground_.spans[s].length <= at)
                    ++s;
                const ScaleSpan& span = ground_.spans[s];
                const bool rests = end - at <= kHalf && span.at <= at;
                Duration length = rests ? end - at : std::min(kEighth, bar_end - at);
                length = std::min(length, span.at + span.length - at);
                if (!span.notes.empty())
                    slots_.push_back({at, length, ((at - bar.at) / beat).is_whole(), &span});
                at += length;
            }
        }
    }

    void place_tones() {
        std::optional<Pitch> last;
        Position heard;
        for (Slot& slot : slots_) {
            if (!slot.on_beat) continue;
            if (slot.at - heard > kHalf) last.reset();
            heard = slot.at;
            const std::vector<Pitch> tones = in_range(beat_tones(*slot.span), range_);
            if (tones.empty()) continue;
            if (!last) {
                direction_ = -1;
                slot.pitch = nearest_to(tones, middle_of(range_) + kMajorThird, 1);
            } else {
                if (level_.ornament > 0 && dice_.chance(0.15)) direction_ = -direction_;
                slot.pitch = next_of(tones, *last, direction_);
                if (!slot.pitch || std::abs(slot.pitch->midi() - last->midi()) > 5) {
                    direction_ = -direction_;
                    slot.pitch = next_of(tones, *last, direction_).value_or(nearest_to(tones, *last, 1));
                }
            }
            last = slot.pitch;
        }
    }

    void fill() {
        std::optional<Pitch> before;
        for (std::size_t i = 0; i < slots_.size(); ++i) {
            Slot& slot = slots_[i];
            if (slot.pitch) {
                before = slot.pitch;
                continue;
            }
            std::size_t next = i + 1;
            while (next < slots_.size() && !slots_[next].pitch) ++next;
            const bool joined = next < slots_.size() && slots_[next].at - slot.at <= kHalf;
            const std::vector<Pitch> scale = in_range(slot.span->notes, range_);
            if (scale.empty()) continue;
            if (!joined) {
                slot.pitch = nearest_to(scale, before.value_or(middle_of(range_)), direction_);
                continue;
            }
            // From the next beat backwards, so that the last of them is a step from it.
            Pitch goal = *slots_[next].pitch;
            for (std::size_t k = next; k-- > i;) {
                const std::vector<Pitch> own = in_range(slots_[k].span->notes, range_);
                goal = *(slots_[k].pitch = between(own, before.value_or(goal), goal, slots_[k].at));
            }
            i = next - 1;
        }
    }

    // A note that leads from one tone to the next: of the scale if one lies between, else the half step that
    // is added between them, else a step from beyond.
    Pitch between(const std::vector<Pitch>& scale, Pitch from, Pitch to, Position at) {
        const int way = to.midi() > from.midi() ? 1 : to.midi() < from.midi() ? -1 : direction_;
        const std::optional<Pitch> step = next_of(scale, to, -way);
        const bool lies_between = step && (step->midi() - from.midi()) * way > 0;
        if (lies_between && std::abs(step->midi() - to.midi()) <= 3) return *step;
        if (std::abs(to.midi() - from.midi()) == 2) {
            explain(line_, request_.explain, at, "added note");
            return leading_to(to, to.midi() - way);
        }
        for (const int side : {way, -way}) {
            const std::optional<Pitch> beyond = next_of(scale, to, side);
            if (beyond && std::abs(beyond->midi() - to.midi()) <= 3) return *beyond;
        }
        return nearest_to(scale, to, way);
    }

    int direction_ = -1;
    std::vector<Slot> slots_;
};

}  // namespace

ConcertLine added_note_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return AddedNoteLine{ground, request, range}.make();
}

}  // namespace shedbook
