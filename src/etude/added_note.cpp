// Eighths with chord tones on the beats (R. Hutchinson, Music Theory for the 21st-Century Classroom, 31.9:
// the eight-note scales fall in eighths from 1, 3, 5 or b7 on the beat, and the chord tones stay on it).
#include <algorithm>
#include <cstdlib>

#include "line_maker.h"
#include "lines.h"
#include "shedbook/etude/spelling.h"

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

// What lies between two notes on the beats.
struct Filling {
    Pitch pitch;
    bool is_added = false;
};

class AddedNoteLine : LineMaker {
  public:
    AddedNoteLine(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : LineMaker{ground, request, range}, slots_{ground, kEighth} {
        for (std::size_t i = 0; i < slots_.all.size(); ++i) {
            const Slot& slot = slots_.all[i];
            // A chord that comes off the beat gives its tone there.
            if (slot.on_beat || slot.opens || slot.fresh || slot.is_last) tones_.push_back(i);
        }
        for (const LineSpan& span : slots_.spans) scales_.push_back(scale_of(span));
    }

    ConcertLine make() {
        std::vector<LinePlace> places;
        for (const std::size_t i : tones_) {
            const Slot& slot = slots_.all[i];
            const LineSpan& span = slots_.spans[slot.span];
            const SoundSet tones = slot.is_last ? span.facts.ends : set_of(beat_tones(*span.span));
            places.push_back(place_of(slot, choices(tones, *span.span), slots_));
            turns_.push_back(level_.ornament > 0 && dice_.chance(0.15));
        }
        for (std::size_t k = 0; k + 1 < places.size(); ++k)
            places[k].closes = slots_.all[tones_[k]].span != slots_.all[tones_[k + 1]].span;
        if (!places.empty()) places.back().closes = true;
        const std::vector<Pitch> line =
            cheapest_line(places, -1, [&](const LineMove& move) { return cost(move, places[move.place]); });
        write(line);
        return std::move(line_);
    }

  private:
    [[nodiscard]] std::vector<Pitch> scale_of(const LineSpan& span) const {
        std::vector<Pitch> out = in_range(span.span->notes, range_);
        std::erase_if(out, [&](Pitch note) { return holds(span.facts.sus_third, note.midi()); });
        return out;
    }

    [[nodiscard]] MoveCost cost(const LineMove& move, const LinePlace& place) const {
        const Slot& slot = slots_.all[tones_[move.place]];
        const double rubs = rub(slot, slots_.spans[slot.span], move.to);
        if (!move.from) {
            const int first = middle_of(range_).midi() + 4;
            return {rubs + std::abs(move.to.midi() - first) / 4.0};
        }
        const int by = std::abs(move.by());
        const Duration since = slot.at - slots_.all[tones_[move.place - 1]].at;
        double out = rubs + awkward(move, since) + (by == 0 ? 6 : by > 5 ? 3.0 * by : 0);
        const bool is_next = by == 0 || next_of(place.choices, *move.from, move.by()) == move.to;
        if (!is_next) out += 5;
        const std::optional<Pitch> ahead = next_of(place.choices, *move.from, move.way);
        const bool has_room = ahead && std::abs(ahead->midi() - move.from->midi()) <= 5;
        // Turning costs where there is room ahead, unless the dice want a turn.
        if (move.turns() && has_room) out += turns_[move.place] ? -1 : 3;
        SoundSet sounds = 0;
        Pitch before = *move.from;
        const bool sings = request_.handling.sings;
        for (const Filling& note : between(move.place - 1, *move.from, move.to)) {
            sounds |= sound(note.pitch.midi());
            if (note.is_added) out += 0.3;
            if (sings && is_augmented(note.pitch - before)) out += kAugmentedStep;
            before = note.pitch;
        }
        if (sings && is_augmented(move.to - before)) out += kAugmentedStep;
        return {out, sounds};
    }

    // The notes between two on the beat, those nearest to the second worked out first, so that the last of
    // them is a step from it.
    [[nodiscard]] std::vector<Filling> between(std::size_t place, Pitch from, Pitch to) const {
        std::vector<Filling> out;
        Pitch goal = to;
        for (std::size_t i = tones_[place + 1] - 1; i > tones_[place]; --i) {
            out.push_back(filling(scales_[slots_.all[i].span], from, goal));
            goal = out.back().pitch;
        }
        std::ranges::reverse(out);
        return out;
    }

    // A note that leads from one tone to the next: of the scale if one lies between, else the half step that
    // is added between them, else a step from beyond.
    [[nodiscard]] static Filling filling(const std::vector<Pitch>& scale, Pitch from, Pitch to) {
        const int way = to.midi() >= from.midi() ? 1 : -1;
        const std::optional<Pitch> step = next_of(scale, to, -way);
        const bool lies_between = step && (step->midi() - from.midi()) * way > 0;
        if (lies_between && std::abs(step->midi() - to.midi()) <= 3) return {*step};
        if (std::abs(to.midi() - from.midi()) == 2) return {leading_to(to, to.midi() - way), true};
        for (const int side : {way, -way}) {
            const std::optional<Pitch> beyond = next_of(scale, to, side);
            if (beyond && std::abs(beyond->midi() - to.midi()) <= 3) return {*beyond};
        }
        return {scale.empty() ? to : nearest_to(scale, to, way)};
    }

    void write(const std::vector<Pitch>& line) {
        for (std::size_t k = 0; k < tones_.size(); ++k) {
            std::size_t i = tones_[k];
            add_note(line_, line[k], slots_.all[i].at, slots_.all[i].length);
            const bool goes_on = k + 1 < tones_.size() && !slots_.all[tones_[k + 1]].fresh;
            if (!goes_on) {
                // Up to a rest: the tone goes on.
                for (++i; i < slots_.all.size() && (k + 1 == tones_.size() || i < tones_[k + 1]); ++i)
                    line_.notes.back().length += slots_.all[i].length;
                continue;
            }
            for (const Filling& note : between(k, line[k], line[k + 1])) {
                const Slot& slot = slots_.all[++i];
                explain(line_, request_.explain && note.is_added, slot.at, "added note");
                add_note(line_, note.pitch, slot.at, slot.length);
            }
        }
    }

    LineSlots slots_;
    std::vector<std::size_t> tones_;  // the slots that have a chord tone
    std::vector<bool> turns_;
    std::vector<std::vector<Pitch>> scales_;
};

}  // namespace

ConcertLine added_note_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return AddedNoteLine{ground, request, range}.make();
}

}  // namespace shedbook
