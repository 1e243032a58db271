#include "invariant_checks.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <numeric>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "shedbook/base/rational.h"

namespace shedbook {
namespace {

using Keeps = DrillInvariants;
using Group = std::vector<int>;  // key numbers

// Notes in an octave, as semitones over the first of them, rising.
class Row {
  public:
    Row() = default;
    Row(int first, const std::set<int>& above) : first_{first}, above_{above.begin(), above.end()} {}
    [[nodiscard]] int size() const { return static_cast<int>(above_.size()); }
    // How many notes above the lowest first note: neighbours differ by 1.
    [[nodiscard]] std::optional<int> place(int midi) const {
        const int above = modulo(midi - first_, 12);
        const auto at = std::ranges::find(above_, above);
        if (at == above_.end()) return std::nullopt;
        return (midi - first_ - above) / 12 * size() + static_cast<int>(at - above_.begin());
    }
    [[nodiscard]] int sounds(int place) const {
        const int in_octave = modulo(place, size());
        return first_ + (place - in_octave) / size() * 12 + above_[static_cast<std::size_t>(in_octave)];
    }

  private:
    int first_ = 0;
    std::vector<int> above_;
};

class Checker {
  public:
    explicit Checker(const DrillCase& one) : one_{one}, keeps_{one.drill.keeps} {
        const Scale& scale = one.ladder.scale();
        std::set<int> steps;
        for (const Interval degree : scale.type->intervals()) steps.insert(degree.semitones());
        scale_ = Row{scale.tonic.semitone(), steps};
        played_ = scale_;
        if (one.plan.ladder) {
            std::set<int> notes;
            const int first = one.plan.ladder->notes().front().semitone();
            for (const PitchClass note : one.plan.ladder->notes())
                notes.insert(modulo(note.semitone() - first, 12));
            played_ = Row{first, notes};
        }
        root_ = one.ladder.chord() ? one.ladder.chord()->root.semitone() : scale.tonic.semitone();
        std::set<int> tones;
        for (int above = 0; above < 12; ++above) {
            if (scale_.place(root_ + above) && is_chord_tone(root_ + above)) tones.insert(above);
        }
        chord_ = Row{root_, tones};
        for (const LineNote& note : one.line.notes) midi_.push_back(note.pitch.midi());
        counts_notes_ = one.drill.counts_notes || one.plan.remark.starts_with("counting scale notes");
        is_whole_ = one.plan.remark.empty();
        const auto n = static_cast<std::size_t>(keeps_.group);
        for (std::size_t i = 0; n > 0 && i + n < midi_.size(); i += n) {
            const auto from = midi_.begin() + static_cast<std::ptrdiff_t>(i);
            groups_.emplace_back(from, from + keeps_.group);
        }
    }

    std::string check() {
        using Check = std::string (Checker::*)() const;
        for (const Check one :
             {&Checker::every_drill, &Checker::timing, &Checker::marks, &Checker::displaced, &Checker::tones,
              &Checker::steps, &Checker::ends, &Checker::shapes, &Checker::moves, &Checker::directions,
              &Checker::mirror, &Checker::beats, &Checker::leads}) {
            if (std::string out = (this->*one)(); !out.empty()) return out;
        }
        return {};
    }

  private:
    // A scale by itself stands for the chord of its first, third, fifth and seventh notes.
    [[nodiscard]] bool is_chord_tone(int midi) const {
        if (one_.ladder.chord()) return has_tone(*one_.ladder.chord(), modulo(midi - root_, 12));
        const auto at = scale_.place(midi);
        return at && modulo(*at, scale_.size()) % 2 == 0 && modulo(*at, scale_.size()) <= 6;
    }
    [[nodiscard]] bool is_on(std::size_t i, Duration beat) const {
        return Rational{(one_.line.notes[i].at - Position{}) / beat}.is_whole();
    }
    [[nodiscard]] bool is_lead(std::size_t i) const {
        const auto n = static_cast<std::size_t>(keeps_.group);
        return n > 0 && i < groups_.size() * n && i % n >= n - static_cast<std::size_t>(keeps_.lead);
    }
    [[nodiscard]] int low(std::size_t g) const { return std::ranges::min(groups_[g]); }
    // A group that holds the root of a chord whose third, fifth or seventh is not that of the scale (a sus
    // chord, an altered one), or one in a scale that has not seven notes: there degrees are counted by sound.
    [[nodiscard]] bool is_by_sound(const Group& group) const {
        if (played_.size() != 7) return true;
        const auto& chord = one_.ladder.chord();
        if (!chord || std::ranges::none_of(group, [&](int m) { return modulo(m - root_, 12) == 0; }))
            return false;
        for (const int up : {2, 4, 6}) {
            if (!is_chord_tone(played_.sounds(played_.place(root_).value_or(0) + up))) return true;
        }
        return false;
    }

    std::string every_drill() const {
        if (midi_.empty()) return "no notes";
        if (!is_within(one_.line, one_.range)) return "out of range";
        if (one_.plan.remark.starts_with("counting scale notes") && scale_.size() == 7)
            return "counts the notes of a scale of seven";
        for (std::size_t i = 0; i < midi_.size(); ++i) {
            if (is_lead(i) || one_.drill.material == "added note" || one_.drill.material.starts_with("blues"))
                continue;
            if (!scale_.place(midi_[i]) && !is_chord_tone(midi_[i])) return "a note outside the scale";
        }
        return {};
    }

    std::string timing() const {
        const ConcertLine& line = one_.line;
        if (line.length != one_.drill.meter.bar_length() * Rational{one_.plan.bars})
            return "bars do not add up";
        const bool rests = std::ranges::any_of(one_.drill.rhythm, &RhythmStep::is_rest);
        Position at = line.notes.front().at;
        if (!rests && at != Position{} + kEighth * Rational{one_.drill.displaced})
            return "begins at a wrong place";
        for (const LineNote& note : line.notes) {
            if (rests ? note.at < at : note.at != at) return "a gap or an overlap";
            at = note.at + note.length;
        }
        if (at - Position{} != line.length) return "the last note does not last to the end";
        if (line.notes.back().length < kQuarter) return "the last note is too short to rest on";
        for (std::size_t i = 0; keeps_.notes && i + 1 < midi_.size(); ++i) {
            if (line.notes[i].length != *keeps_.notes) return "a note of another length";
        }
        return {};
    }

    std::string marks() const {
        bool open = false;
        bool marked = one_.drill.articulation.empty();
        for (std::size_t i = 0; i < midi_.size(); ++i) {
            const LineNote& note = one_.line.notes[i];
            if (open && midi_[i] == midi_[i - 1]) return "a slur over a repeated note";
            if (note.slur_stops && !std::exchange(open, false)) return "a slur that stops and never began";
            if (note.slur_starts && std::exchange(open, true)) return "a slur inside a slur";
            marked = marked || note.slur_starts || note.articulation != Articulation::None;
        }
        if (open) return "a slur that never stops";
        return marked ? "" : "no mark anywhere";
    }

    std::string displaced() const {
        if (one_.drill.displaced == 0) return {};
        DrillTemplate plain = one_.drill;
        plain.displaced = 0;
        const auto plan = plan_drill(plain, one_.ladder, std::vector{one_.range});
        if (!plan) return "the drill in its place does not fit";
        const ConcertLine before = evaluate(plain, one_.ladder, *plan, one_.range);
        if (before.notes.size() != midi_.size()) return "another number of notes";
        for (std::size_t i = 0; i < midi_.size(); ++i) {
            if (before.notes[i].pitch != one_.line.notes[i].pitch) return "another order of pitches";
            if (one_.line.notes[i].at != before.notes[i].at + kEighth * Rational{one_.drill.displaced})
                return "not moved alike";
        }
        return {};
    }

    std::string tones() const {
        std::set<int> heard;
        for (const int midi : midi_) heard.insert(modulo(midi - root_, 12));
        const bool says_all = keeps_.heard > 0 && is_whole_;
        if (says_all && static_cast<int>(heard.size()) != keeps_.heard) return "another number of notes";
        switch (keeps_.tones) {
            case Keeps::Tones::Free:
                return {};
            case Keeps::Tones::Scale:
                return std::ranges::all_of(midi_, [&](int m) { return scale_.place(m).has_value(); })
                           ? ""
                           : "a note outside the scale";
            case Keeps::Tones::Chord:
                // Where a scale holds too few tones of the chord, every other note of it stands for them.
                // Of a scale by itself the guide tones are what its table calls a third and a seventh.
                return chord_.size() < 3 || (!one_.ladder.chord() && one_.drill.material == "guide tones") ||
                               std::ranges::all_of(midi_, [&](int m) { return is_chord_tone(m); })
                           ? ""
                           : "a note that is no chord tone";
            case Keeps::Tones::Root:
                return heard == std::set{0} ? "" : "a note that is no root";
            case Keeps::Tones::Pentatonic:
                return pentatonic(heard);
            case Keeps::Tones::TriadsApart:
                return triads_apart();
            case Keeps::Tones::Blues:
                return blues(root_);
            case Keeps::Tones::BluesOfKey:
                return blues(one_.ladder.home() ? one_.ladder.home()->semitone() : root_);
            case Keeps::Tones::AddedNote:
                return added_note();
        }
        return {};
    }

    std::string pentatonic(const std::set<int>& heard) const {
        if (heard.size() > 5) return "more than five notes";
        if (!one_.ladder.chord()) return {};
        const ChordSymbol& chord = *one_.ladder.chord();
        const bool dominant = has_tone(chord, 10) && (has_tone(chord, 4) || has_tone(chord, 5));
        for (const int above : heard) {
            const bool tension = dominant && (above == 1 || above == 3 || above == 8);
            if (has_tone(chord, above) || tension) continue;
            for (const ChordTone& tone : shedbook::tones(chord)) {
                if (modulo(tone.above_root.semitones() + 1, 12) == above) return "a note to avoid";
            }
        }
        return {};
    }

    static bool is_triad(const std::set<int>& notes) {
        return std::ranges::any_of(notes, [&](int low) {
            std::set<int> above;
            for (const int note : notes) above.insert(modulo(note - low, 12));
            return above == std::set{0, 4, 7} || above == std::set{0, 3, 7} || above == std::set{0, 4, 8} ||
                   above == std::set{0, 3, 6};
        });
    }
    std::string triads_apart() const {
        std::set<int> before;
        for (std::size_t g = 0; g < groups_.size(); ++g) {
            std::set<int> now;
            for (const int midi : groups_[g]) now.insert(modulo(midi, 12));
            if (!is_triad(now)) return "no triad";
            const auto is_in_both = [&](int note) { return before.contains(note); };
            if (!is_turn(g) && std::ranges::any_of(now, is_in_both))
                return "two triads with a note in common";
            before = now;
        }
        return {};
    }

    // The sets of Hutchinson 31.9, and the major blues scale.
    std::string blues(int home) const {
        const auto all_in = [&](const std::set<int>& set) {
            return std::ranges::all_of(midi_, [&](int m) { return set.contains(modulo(m - home, 12)); });
        };
        return all_in({0, 3, 5, 6, 7, 10}) || all_in({0, 2, 3, 4, 7, 9}) ? ""
                                                                         : "a note that is in no blues scale";
    }

    // Chord tones on every beat, the added note off it (Hutchinson 31.9). Over a major seventh chord the
    // sixth stands for the seventh.
    std::string added_note() const {
        const bool has_seventh =
            one_.ladder.chord() ? has_tone(*one_.ladder.chord(), 10) : scale_.place(root_ + 10).has_value();
        std::set<int> beats;
        for (std::size_t i = 0; i + 1 < midi_.size(); ++i) {
            if (!is_on(i, kQuarter)) continue;
            const int above = modulo(midi_[i] - root_, 12);
            beats.insert(above);
            if (!scale_.place(midi_[i])) return "the added note on the beat";
            const bool sixth = above == 9 && !has_seventh;
            if (!sixth && one_.ladder.chord() && !has_tone(*one_.ladder.chord(), above))
                return "no chord tone on a beat";
        }
        return beats.size() > 4 ? "more than four notes on the beats" : "";
    }

    std::string steps() const {
        if (keeps_.steps == Keeps::Steps::Free && !keeps_.turns) return {};
        int turns = 0;
        int direction = 0;
        for (std::size_t i = 1; i < midi_.size(); ++i) {
            const auto from = played_.place(midi_[i - 1]);
            const auto to = played_.place(midi_[i]);
            if (!from || !to) return "a note outside the scale";
            const int by = *to - *from;
            if (keeps_.steps == Keeps::Steps::Next && std::abs(by) != 1) return "not by step";
            const int in_octave = modulo(by, played_.size());
            const bool may_rest = i + 1 == midi_.size();
            if (keeps_.steps == Keeps::Steps::AnyOctave && !may_rest && in_octave != 1 &&
                in_octave != played_.size() - 1)
                return "not the next note of the scale";
            const int now = by > 0 ? 1 : -1;
            if (direction != 0 && now != direction) ++turns;
            direction = now;
        }
        return keeps_.turns && turns > *keeps_.turns ? "turns too often" : "";
    }

    std::string ends() const {
        if (keeps_.home != Keeps::Home::Free && midi_.front() != midi_.back())
            return "does not end where it began";
        const bool is_tonic = scale_.place(midi_.front()).value_or(1) % scale_.size() == 0;
        if (keeps_.home == Keeps::Home::Tonic && is_whole_ && !is_tonic) return "does not begin on the tonic";
        if (!keeps_.through_range) return {};
        const auto [low, high] = std::ranges::minmax(midi_);
        if (played_.sounds(played_.place(high).value_or(0) + 1) <= one_.range.high.midi())
            return "turns before the top of the range";
        if (played_.sounds(played_.place(low).value_or(0) - 1) >= one_.range.low.midi())
            return "turns before the bottom of the range";
        return {};
    }

    // Whether `midi` is so many degrees over `low`: by steps in the scale, or by the sound of the interval.
    [[nodiscard]] bool is_degree(int low, int midi, int degree, bool by_sound) const {
        static const std::array<std::set<int>, 7> kSounds{
            {{0}, {1, 2, 3}, {2, 3, 4}, {4, 5, 6}, {6, 7, 8}, {8, 9, 10}, {9, 10, 11}}};
        const auto from = played_.place(low);
        const auto to = played_.place(midi);
        if (!from || !to) return false;
        if (counts_notes_) return *to - *from == degree;
        if (played_.size() == 7 && *to - *from == degree) return true;
        const int over = midi - low - degree / 7 * 12;
        return by_sound && kSounds[static_cast<std::size_t>(degree % 7)].contains(over);
    }
    [[nodiscard]] bool has_shape(Group group, bool by_sound) const {
        std::ranges::sort(group);
        for (std::size_t i = 0; i < group.size(); ++i) {
            if (!is_degree(group.front(), group[i], keeps_.shape[i], by_sound)) return false;
        }
        return true;
    }
    // On the root of a sus chord the fourth stands for the third.
    [[nodiscard]] Group with_third(Group group) const {
        const auto fourth = [&](int midi) { return modulo(midi - root_, 12) == 5; };
        for (int& midi : group) {
            if (fourth(midi)) midi = played_.sounds(played_.place(midi).value_or(0) - 1);
        }
        return group;
    }

    std::string shapes() const {
        if (counts_notes_ && !one_.drill.counts_notes) return {};  // it says that it has another shape
        for (const Group& whole : groups_) {
            const Group group(whole.begin(), whole.end() - keeps_.lead);
            const bool by_sound = is_by_sound(group);
            if (keeps_.span > 0) {
                const auto [low, high] = std::ranges::minmax(group);
                if (!is_degree(low, high, keeps_.span - 1, by_sound) && !by_sound)
                    return "a group of another size";
            }
            if (keeps_.shape.empty() || has_shape(group, by_sound)) continue;
            if (by_sound && has_shape(with_third(group), true)) continue;
            return "a group of another shape";
        }
        return {};
    }

    std::string moves() const {
        if (keeps_.moves == Keeps::Among::Free) return {};
        const Row& row = keeps_.moves == Keeps::Among::Chord ? chord_ : played_;
        for (std::size_t g = 1; g < groups_.size(); ++g) {
            const auto from = row.place(low(g - 1));
            const auto to = row.place(low(g));
            if (!from || !to) return "a group on another note";
            // A note of its own takes the place of another one in the group: its lowest may be that.
            const bool is_loose = is_by_sound(groups_[g - 1]) || is_by_sound(groups_[g]);
            const int by = std::abs(*to - *from);
            if (is_loose ? by > 2 : by != 1) return "groups do not move by step";
        }
        return {};
    }

    // Where the walk turns: at such a group the one before may be met again.
    [[nodiscard]] int walk(std::size_t g) const {
        return (g + 1 < groups_.size() ? low(g + 1) : midi_.back()) - low(g);
    }
    [[nodiscard]] bool is_turn(std::size_t g) const { return g > 0 && (walk(g) > 0) != (walk(g - 1) > 0); }

    std::string directions() const {
        using Direction = Keeps::Direction;
        if (keeps_.direction == Direction::Free) return {};
        const bool from_above = keeps_.direction == Direction::ByTurnsFromAbove;
        const bool by_turns = from_above || keeps_.direction == Direction::ByTurns;
        int same = 0;
        for (std::size_t g = 0; g < groups_.size(); ++g) {
            const Group& group = groups_[g];
            const bool rises = group[1] > group[0];
            for (std::size_t i = 1; i < group.size(); ++i) {
                if (group[i] == group[i - 1] || (group[i] > group[i - 1]) != rises)
                    return "a group that turns";
            }
            if (by_turns) {
                if (g == 0 && rises == from_above) return "begins in the wrong direction";
                if (g > 0 && rises == (groups_[g - 1][1] > groups_[g - 1][0])) ++same;
                continue;
            }
            const bool is_fixed = keeps_.direction == Direction::Up || keeps_.direction == Direction::Down;
            if (!is_fixed && (groups_.size() < 2 || is_near_turn(g))) continue;
            const bool up = is_fixed ? keeps_.direction == Direction::Up
                                     : (walk(g) > 0) == (keeps_.direction == Direction::WithWalk);
            if (rises != up) return "a group in the wrong direction";
        }
        return same > 2 ? "not by turns" : "";
    }
    [[nodiscard]] bool is_near_turn(std::size_t g) const {
        return is_turn(g) || (g > 0 && is_turn(g - 1)) || walk(g) == 0 ||
               (g + 1 < groups_.size() && is_turn(g + 1));
    }

    std::string mirror() const {
        if (!keeps_.mirror || !one_.plan.moved.empty() || groups_.empty()) return {};
        const auto sum = [](const Group& group) { return std::accumulate(group.begin(), group.end(), 0); };
        std::size_t top = 0;
        for (std::size_t g = 1; g < groups_.size(); ++g) {
            if (sum(groups_[g]) > sum(groups_[top])) top = g;
        }
        for (std::size_t g = 0; g < top; ++g) {
            if (2 * top - g >= groups_.size()) continue;
            Group back = groups_[2 * top - g];
            std::ranges::reverse(back);
            if (back != groups_[g]) return "the way down is not the mirror of the way up";
        }
        return {};
    }

    std::string beats() const {
        for (std::size_t g = 0; g < groups_.size(); ++g) {
            const std::size_t first = g * static_cast<std::size_t>(keeps_.group);
            if (keeps_.beat && !is_on(first, *keeps_.beat)) return "a group off its beat";
            if (keeps_.meets == 0) continue;
            if (is_on(first, kQuarter) != (first % static_cast<std::size_t>(keeps_.meets) == 0))
                return "meets the beat at the wrong place";
        }
        return {};
    }

    std::string leads() const {
        for (std::size_t g = 0; g < groups_.size(); ++g) {
            const std::size_t first = g * static_cast<std::size_t>(keeps_.group);
            const bool is_target =
                keeps_.targets == Keeps::Among::Free ||
                (keeps_.targets == Keeps::Among::Chord ? is_chord_tone(midi_[first])
                                                       : scale_.place(midi_[first]).has_value());
            if (!is_target) return "a group that does not begin on its target";
            const std::size_t next = first + static_cast<std::size_t>(keeps_.group);
            std::set<bool> sides;
            for (std::size_t back = 1; back <= static_cast<std::size_t>(keeps_.lead); ++back) {
                const int by = midi_[next - back] - midi_[next];
                sides.insert(by > 0);
                if (by == 0 || std::abs(by) > 2) return "a neighbour too far away";
                if (keeps_.lead_by == Keeps::By::HalfStep && std::abs(by) != 1) return "not a half step";
                if (keeps_.lead_by != Keeps::By::Step || std::abs(by) == 1) continue;
                const auto from = scale_.place(midi_[next - back]);
                const auto to = scale_.place(midi_[next]);
                if (!from || !to || std::abs(*from - *to) != 1) return "not a scale step";
            }
            using Side = Keeps::Side;
            if (keeps_.lead_from == Side::Both && sides.size() != 2) return "neighbours on one side only";
            if (keeps_.lead_from == Side::Above && sides != std::set{true}) return "a neighbour from below";
            if (keeps_.lead_from == Side::Below && sides != std::set{false}) return "a neighbour from above";
        }
        return {};
    }

    const DrillCase& one_;
    const Keeps& keeps_;
    Row scale_;
    Row played_;  // of the drill's material
    Row chord_;   // its tones that the scale has
    int root_ = 0;
    std::vector<int> midi_;
    std::vector<Group> groups_;  // without the note to rest on
    bool counts_notes_ = false;
    bool is_whole_ = true;
};

}  // namespace

std::string fault_of(const DrillCase& one) {
    return Checker{one}.check();
}

}  // namespace shedbook
