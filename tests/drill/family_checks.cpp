#include "family_checks.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <vector>

namespace shedbook {
namespace {

using Positions = std::vector<int>;

int modulo(int a, int b) {
    return ((a % b) + b) % b;
}

bool starts(const std::string& text, const char* with) {
    return text.starts_with(with);
}
bool has(const std::string& text, const char* part) {
    return text.find(part) != std::string::npos;
}

// Semitones of a scale over its tonic, from its table row.
std::vector<int> semitones(const Scale& scale) {
    std::vector<int> out;
    for (const Interval degree : scale.type->intervals()) out.push_back(degree.semitones());
    return out;
}

class Checker {
  public:
    explicit Checker(const DrillCase& one)
        : one_{one}, id_{one.drill.id}, steps_{semitones(one.ladder.scale())} {
        tonic_ = one.ladder.scale().tonic.semitone();
        size_ = static_cast<int>(steps_.size());
        for (const LineNote& note : one.line.notes) midi_.push_back(note.pitch.midi());
        for (const int midi : midi_) {
            if (const auto at = position(midi)) places_.push_back(*at);
        }
        is_whole_ = one.plan.remark.empty();
    }

    std::string check() {
        if (std::string out = check_every(); !out.empty()) return out;
        const auto family = families().find(one_.drill.family);
        return family == families().end() ? "" : (this->*family->second)();
    }

    using Check = std::string (Checker::*)();
    static const std::map<std::string, Check>& families() {
        static const std::map<std::string, Check> kFamilies{
            {"long tones", &Checker::long_tones},
            {"scales", &Checker::scales},
            {"sequences", &Checker::sequences},
            {"groups", &Checker::groups},
            {"cells", &Checker::cells},
            {"triads", &Checker::stacks},
            {"seventh chords", &Checker::stacks},
            {"arpeggios", &Checker::arpeggios},
            {"open chords", &Checker::open_chords},
            {"approach notes", &Checker::approach_notes},
            {"enclosures", &Checker::enclosures},
            {"added notes", &Checker::added_notes},
            {"pentatonics", &Checker::pentatonics},
            {"triad pairs", &Checker::triad_pairs},
            {"blues", &Checker::blues},
            {"displacement", &Checker::displacement},
            {"odd groups", &Checker::odd_groups},
            {"rhythms", &Checker::rhythms},
            {"meters", &Checker::meters},
            {"leaps", &Checker::leaps},
            {"articulation", &Checker::articulation},
        };
        return kFamilies;
    }

  private:
    [[nodiscard]] std::optional<int> position(int midi) const {
        const int above = modulo(midi - tonic_, 12);
        const auto at = std::ranges::find(steps_, above);
        if (at == steps_.end()) return std::nullopt;
        return (midi - tonic_ - above) / 12 * size_ + static_cast<int>(at - steps_.begin());
    }
    [[nodiscard]] std::set<int> pitch_classes() const {
        std::set<int> out;
        for (const int midi : midi_) out.insert(modulo(midi - root(), 12));
        return out;
    }
    [[nodiscard]] int root() const {
        return one_.ladder.chord() ? one_.ladder.chord()->root.semitone() : tonic_;
    }
    // A scale by itself stands for the chord of its first, third, fifth and seventh notes.
    [[nodiscard]] bool is_chord_tone(int midi) const {
        if (one_.ladder.chord()) return has_tone(*one_.ladder.chord(), modulo(midi - root(), 12));
        const auto at = position(midi);
        return at && modulo(*at, size_) % 2 == 0 && modulo(*at, size_) <= 6;
    }
    [[nodiscard]] bool is_on(std::size_t i, Duration beat) const {
        return Rational{(one_.line.notes[i].at - Position{}) / beat}.is_whole();
    }
    [[nodiscard]] bool has_neighbours() const {
        return one_.drill.family == "approach notes" || one_.drill.family == "enclosures";
    }
    [[nodiscard]] bool in_scale() const { return places_.size() == midi_.size(); }
    // Notes in cells: all but the one to rest on.
    [[nodiscard]] std::size_t in_cells(std::size_t n) const { return (midi_.size() - 1) / n * n; }
    [[nodiscard]] Positions group(std::size_t n, std::size_t g) const {
        const auto from = places_.begin() + static_cast<std::ptrdiff_t>(n * g);
        return {from, from + static_cast<std::ptrdiff_t>(n)};
    }

    std::string check_every() {
        const ConcertLine& line = one_.line;
        if (line.notes.empty()) return "no notes";
        if (!is_within(line, one_.range)) return "out of range";
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
        if (one_.drill.material == "scale" && !has_neighbours() && !in_scale())
            return "a note outside the scale";
        return {};
    }

    std::string long_tones() {
        if (id_ == "chord-roots") {
            const bool all = std::ranges::all_of(midi_, [&](int m) { return modulo(m - root(), 12) == 0; });
            return all ? "" : "a note that is no root";
        }
        for (std::size_t i = 0; i < midi_.size(); ++i) {
            if (one_.line.notes[i].length != kWhole) return "not a bar each";
            if (one_.ladder.chord() && !is_chord_tone(midi_[i])) return "no chord tone";
        }
        return {};
    }

    // Adjacent notes are neighbours in the scale; it turns so many times at most.
    std::string by_step(int turns) {
        int direction = 0;
        for (std::size_t i = 1; i < places_.size(); ++i) {
            const int step = places_[i] - places_[i - 1];
            if (std::abs(step) != 1) return "not by step";
            if (direction != 0 && step != direction) --turns;
            direction = step;
        }
        return turns < 0 ? "turns too often" : "";
    }

    // Through the range: another note at either end would be outside.
    std::string at_true_ends() const {
        const auto [low, high] = std::ranges::minmax(places_);
        const auto sounds = [&](int place) {
            const int octave = (place - modulo(place, size_)) / size_;
            return tonic_ + 12 * octave + steps_[static_cast<std::size_t>(modulo(place, size_))];
        };
        if (sounds(high + 1) <= one_.range.high.midi()) return "turns before the top of the range";
        if (sounds(low - 1) >= one_.range.low.midi()) return "turns before the bottom of the range";
        return {};
    }

    std::string scales() {
        if (one_.drill.form == DrillTemplate::Form::Range) {
            if (modulo(midi_.front() - tonic_, 12) != 0 || midi_.front() != midi_.back())
                return "not from the tonic home to it";
            const std::string out = by_step(2);
            return out.empty() ? at_true_ends() : out;
        }
        if (is_whole_ && modulo(midi_.front() - tonic_, 12) != 0) return "does not begin on the tonic";
        if (midi_.front() != midi_.back()) return "does not end where it began";
        if (is_whole_ && id_ == "octave-scale-to-the-ninth" && size_ == 7) {
            if (places_[8] - places_[0] != 8 || !is_on(8, kWhole))
                return "the ninth is not on the first beat";
        }
        return by_step(1);
    }

    std::string sequences() {
        static const std::map<std::string, int> kSteps{{"seconds", 1}, {"thirds", 2}, {"fourths", 3},
                                                       {"fifths", 4},  {"sixths", 5}, {"seventh-leaps", 6}};
        int k = 0;
        for (const auto& [name, steps] : kSteps) {
            if (starts(id_, name.c_str())) k = steps;
        }
        std::vector<std::pair<int, int>> pairs;
        for (std::size_t i = 0; i + 1 < midi_.size(); i += 2) pairs.emplace_back(places_[i], places_[i + 1]);
        const auto low = [](const std::pair<int, int>& pair) { return std::min(pair.first, pair.second); };
        std::size_t top = 0;
        for (std::size_t i = 0; i < pairs.size(); ++i) {
            if (std::abs(pairs[i].first - pairs[i].second) != k) return "a pair of another size";
            if (i > 0 && std::abs(low(pairs[i]) - low(pairs[i - 1])) != 1) return "pairs do not move by step";
            if (low(pairs[i]) > low(pairs[top])) top = i;
        }
        if (one_.drill.form == DrillTemplate::Form::Range) return {};
        // Directions on the way up, and the way down as its mirror.
        for (std::size_t i = 0; i <= top; ++i) {
            const bool rises = pairs[i].second > pairs[i].first;
            bool wanted = !id_.ends_with("-down");
            if (has(id_, "by-turns") && i % 2 == 1) wanted = !wanted;
            if (rises != wanted) return "a pair in the wrong direction";
            const std::size_t mirror = 2 * top - i;
            if (i == top || mirror >= pairs.size()) continue;
            if (pairs[mirror].first != pairs[i].second || pairs[mirror].second != pairs[i].first)
                return "the way down is not the mirror of the way up";
        }
        return {};
    }

    // Groups of n scale notes by step, each begun one step from the one before.
    std::string runs_of(std::size_t n) {
        std::optional<int> last_low;
        for (std::size_t g = 0; (g + 1) * n <= in_cells(n); ++g) {
            const Positions notes = group(n, g);
            for (std::size_t i = 2; i < n; ++i) {
                if (notes[i] - notes[i - 1] != notes[1] - notes[0]) return "a group that turns";
            }
            if (std::abs(notes[1] - notes[0]) != 1) return "a group not by step";
            const int low = std::ranges::min(notes);
            if (last_low && std::abs(low - *last_low) != 1) return "groups do not move by step";
            last_low = low;
        }
        return {};
    }

    std::string groups() {
        if (has(id_, "three")) return runs_of(3);
        return runs_of(has(id_, "five") ? 5 : 4);
    }

    // Each group has these distances over its lowest note, whatever their order.
    std::string groups_like(Positions shape, int base_steps) {
        const int least = std::ranges::min(shape);
        for (int& note : shape) note -= least;
        std::ranges::sort(shape);
        std::optional<int> last;
        for (std::size_t g = 0; (g + 1) * shape.size() <= in_cells(shape.size()); ++g) {
            Positions notes = group(shape.size(), g);
            std::ranges::sort(notes);
            const int low = notes.front();
            for (int& note : notes) note -= low;
            if (notes != shape) return "a group of another shape";
            if (base_steps > 0 && last && std::abs(low - *last) != base_steps)
                return "groups do not move by step";
            last = low;
        }
        return {};
    }

    std::string cells() {
        const Positions shape = has(id_, "1345")   ? Positions{0, 2, 3, 4}
                                : has(id_, "1321") ? Positions{}
                                                   : Positions{0, 1, 2, 4};
        if (id_ == "digits-1235-on-the-root") {
            const Positions wanted{0, 1, 2, 4, 7, 4, 2, 1};
            for (std::size_t i = 0; i < wanted.size(); ++i) {
                if (places_[i] - places_[0] != wanted[i]) return "other digits";
            }
            return {};
        }
        if (shape.empty()) {
            for (std::size_t i = 0; i < in_cells(4); i += 4) {
                const auto [low, high] = std::ranges::minmax(group(4, i / 4));
                if (high - low != 2) return "other digits";
            }
            return {};
        }
        return groups_like(shape, id_ == "digits-1235-on-chord-tones" ? 0 : 1);
    }

    // Stacked thirds in an inversion; directions as the name says.
    std::string stacks() {
        const std::size_t n = one_.drill.family == "triads" ? 3 : 4;
        if (id_ == "triads-through-inversions") return through_inversions();
        int inversion = 0;
        if (has(id_, "first-inversion")) inversion = 1;
        if (has(id_, "second-inversion")) inversion = 2;
        if (has(id_, "third-inversion")) inversion = 3;
        Positions shape;
        for (int i = 0; i < static_cast<int>(n); ++i) shape.push_back(2 * i + (i < inversion ? size_ : 0));
        if (std::string out = groups_like(shape, 1); !out.empty()) return out;
        bool last = false;
        int same = 0;
        for (std::size_t g = 0; (g + 1) * n <= in_cells(n); ++g) {
            const Positions notes = group(n, g);
            const bool rises = notes[1] > notes[0];
            for (std::size_t i = 1; i < n; ++i) {
                if ((notes[i] > notes[i - 1]) != rises) return "a chord that turns";
            }
            if (id_.ends_with("-up") && !rises) return "a chord downwards";
            if (id_.ends_with("-down") && rises) return "a chord upwards";
            if (g > 0 && rises == last) ++same;
            last = rises;
        }
        const bool by_turns = !id_.ends_with("-up") && !id_.ends_with("-down");
        // Where the walk turns the same direction comes twice.
        return by_turns && same > 2 ? "not by turns" : "";
    }

    std::string through_inversions() {
        for (std::size_t g = 0; 9 * (g + 1) <= in_cells(9); ++g) {
            const Positions notes = group(9, g);
            std::set<int> letters;
            for (const int note : notes) letters.insert(modulo(note, size_));
            if (letters.size() != 3) return "not one triad";
            const int low = std::ranges::min(notes);
            for (const int up : {2, 4}) {
                if (!letters.contains(modulo(low + up, size_))) return "not stacked thirds";
            }
        }
        return {};
    }

    std::string arpeggios() {
        if (one_.drill.material == "chord") {
            for (const int midi : midi_) {
                if (!is_chord_tone(midi)) return "a note that is no chord tone";
            }
            return midi_.front() == midi_.back() ? "" : "does not come home";
        }
        if (id_ == "chord-inversions") {
            for (std::size_t i = 0; i < midi_.size(); ++i) {
                if (!is_chord_tone(midi_[i])) return "a note that is no chord tone";
            }
        }
        return {};
    }

    std::string open_chords() {
        const bool triads = starts(id_, "open");
        Positions shape = triads ? Positions{0, 4, size_ + 2} : Positions{0, 4, 6, size_ + 2};
        if (has(id_, "first")) shape = {2, size_, size_ + 4};
        if (has(id_, "second")) shape = {4, size_ + 2, 2 * size_};
        if (has(id_, "wide")) shape = {0, 6, size_ + 2, size_ + 4};
        const std::size_t n = shape.size();
        for (std::size_t i = 0; i + n <= in_cells(n); i += n) {
            const auto [low, high] = std::minmax_element(midi_.begin() + static_cast<std::ptrdiff_t>(i),
                                                         midi_.begin() + static_cast<std::ptrdiff_t>(i + n));
            if (*high - *low <= 12) return "no wider than an octave";
        }
        return groups_like(shape, 1);
    }

    std::string approach_notes() {
        for (std::size_t i = 0; i + 1 < midi_.size(); i += 2) {
            if (!is_chord_tone(midi_[i])) return "a target that is no chord tone";
            if (!is_on(i, kQuarter)) return "a target off the beat";
            if (i + 2 >= midi_.size()) continue;
            const int distance = midi_[i + 1] - midi_[i + 2];
            const bool above = has(id_, "above");
            if ((distance > 0) != above) return "approached from the wrong side";
            const bool chromatic = id_ == "chord-tones-approached" || has(id_, "half-steps");
            if (chromatic && std::abs(distance) != 1) return "not a half step";
            if (chromatic || std::abs(distance) == 1) continue;
            const auto from = position(midi_[i + 1]);
            const auto to = position(midi_[i + 2]);
            if (!from || !to || std::abs(*from - *to) != 1 || std::abs(distance) > 2)
                return "not a scale step";
        }
        return {};
    }

    std::string enclosures() {
        const bool is_cells = starts(id_, "cells");
        const bool is_double = has(id_, "double");
        const bool is_triplet = starts(id_, "chord-tones") && !is_double;
        const std::size_t n = is_cells ? 8 : is_triplet ? 3 : 4;
        const std::size_t around = is_double ? 3 : 2;
        for (std::size_t i = 0; i < midi_.size(); ++i) {
            const bool is_neighbour = i % n >= n - around && i + 1 < midi_.size();
            if (!is_neighbour && !position(midi_[i])) return "a note outside the scale that is no neighbour";
            if (i % n != 0) continue;
            if (!is_on(i, is_triplet ? kQuarter : kHalf)) return "a target off the beat";
            if (starts(id_, "chord-tones") && !is_chord_tone(midi_[i]))
                return "a target that is no chord tone";
            if (i == 0) continue;
            std::set<bool> sides;
            for (std::size_t back = 1; back <= around; ++back) {
                const int distance = midi_[i - back] - midi_[i];
                if (distance == 0 || std::abs(distance) > 2) return "a neighbour too far away";
                sides.insert(distance > 0);
            }
            if (sides.size() != 2) return "neighbours on one side only";
        }
        return {};
    }

    // Chord tones on every beat, the added note off it (Hutchinson 31.9).
    std::string added_notes() {
        std::set<int> beats;
        for (std::size_t i = 0; i + 1 < midi_.size(); ++i) {
            if (is_on(i, kQuarter)) beats.insert(modulo(midi_[i] - root(), 12));
            if (!position(midi_[i]) && is_on(i, kQuarter)) return "the added note on the beat";
        }
        if (beats.size() > 4) return "more than four notes on the beats";
        for (const int above : beats) {
            // Over a major seventh chord the sixth stands for the seventh.
            const bool sixth = above == 9 && !has_tone_or_scale(10);
            if (!sixth && one_.ladder.chord() && !has_tone(*one_.ladder.chord(), above))
                return "no chord tone on a beat";
        }
        const std::set<int> all = pitch_classes();
        if (is_whole_ && all.size() != 8) return "not eight notes";
        return {};
    }
    [[nodiscard]] bool has_tone_or_scale(int above) const {
        return one_.ladder.chord() ? has_tone(*one_.ladder.chord(), above)
                                   : std::ranges::find(steps_, above) != steps_.end();
    }

    std::string pentatonics() {
        if (!in_scale()) return "a note outside the scale";
        const std::set<int> all = pitch_classes();
        if (all.size() > 5) return "more than five notes";
        if (!one_.ladder.chord()) return {};
        const ChordSymbol& chord = *one_.ladder.chord();
        const bool dominant = has_tone(chord, 10) && (has_tone(chord, 4) || has_tone(chord, 5));
        for (const int above : all) {
            const bool tension = dominant && (above == 1 || above == 3 || above == 8);
            if (has_tone(chord, above) || tension) continue;
            for (const ChordTone& tone : tones(chord)) {
                if (modulo(tone.above_root.semitones() + 1, 12) == above) return "a note to avoid";
            }
        }
        return {};
    }

    std::string triad_pairs() {
        if (!in_scale()) return "a note outside the scale";
        std::set<int> before;
        for (std::size_t i = 0; i + 3 <= in_cells(3); i += 3) {
            std::set<int> now;
            for (std::size_t k = i; k < i + 3; ++k) now.insert(modulo(midi_[k], 12));
            if (now.size() != 3 || !is_triad(now)) return "no triad";
            for (const int note : now) {
                if (before.contains(note)) return "two triads with a note in common";
            }
            before = now;
            // At the turn the same triad comes twice.
            if (i + 6 <= in_cells(3) && turns_at(i + 3)) before.clear();
        }
        return {};
    }
    [[nodiscard]] bool turns_at(std::size_t i) const {
        const auto sum = [&](std::size_t at) { return midi_[at] + midi_[at + 1] + midi_[at + 2]; };
        return i >= 6 && (sum(i) > sum(i - 3)) != (sum(i - 3) > sum(i - 6));
    }
    static bool is_triad(const std::set<int>& notes) {
        for (const int low : notes) {
            std::set<int> above;
            for (const int note : notes) above.insert(modulo(note - low, 12));
            for (const std::set<int>& triad : {std::set<int>{0, 4, 7}, {0, 3, 7}, {0, 4, 8}, {0, 3, 6}}) {
                if (above == triad) return true;
            }
        }
        return false;
    }

    // The sets of Hutchinson 31.9, and the major blues scale.
    std::string blues() {
        const std::set<int> minor{0, 3, 5, 6, 7, 10};
        const std::set<int> major{0, 2, 3, 4, 7, 9};
        const int home =
            id_ == "blues-of-the-key" && one_.ladder.home() ? one_.ladder.home()->semitone() : root();
        for (const std::set<int>* set : {&minor, &major}) {
            const bool all =
                std::ranges::all_of(midi_, [&](int m) { return set->contains(modulo(m - home, 12)); });
            if (all) return {};
        }
        return "a note that is in no blues scale";
    }

    std::string displacement() {
        DrillTemplate plain = one_.drill;
        plain.displaced = 0;
        const std::vector<PitchRange> ranges{one_.range};
        const auto plan = plan_drill(plain, one_.ladder, ranges);
        if (!plan) return "the drill in its place does not fit";
        const ConcertLine before = evaluate(plain, one_.ladder, *plan, one_.range);
        if (before.notes.size() != one_.line.notes.size()) return "another number of notes";
        for (std::size_t i = 0; i < before.notes.size(); ++i) {
            if (before.notes[i].pitch != one_.line.notes[i].pitch) return "another order of pitches";
            if (one_.line.notes[i].at != before.notes[i].at + kEighth * Rational{one_.drill.displaced})
                return "not moved alike";
        }
        return {};
    }

    // A group meets the beat again after the least common multiple of both.
    std::string odd_groups() {
        const std::size_t n = starts(id_, "threes") ? 3 : starts(id_, "fours") ? 4 : 5;
        const auto m = static_cast<std::size_t>((kQuarter / one_.drill.rhythm[0].length).floor());
        const std::size_t period = std::lcm(n, m);
        for (std::size_t i = 0; i + n < midi_.size(); i += n) {
            if (is_on(i, kQuarter) != (i % period == 0)) return "meets the beat at the wrong place";
        }
        return runs_of(n);
    }

    std::string rhythms() {
        // Every beat is filled by whole notes of the pattern: what begins in it ends at its end or is a plain
        // length.
        std::size_t step = 0;
        for (std::size_t i = 0; i + 1 < midi_.size(); ++i) {
            while (one_.drill.rhythm[step].is_rest) step = (step + 1) % one_.drill.rhythm.size();
            if (one_.line.notes[i].length != one_.drill.rhythm[step].length) return "another length";
            step = (step + 1) % one_.drill.rhythm.size();
        }
        return {};
    }

    std::string meters() {
        const Duration bar = one_.drill.meter.bar_length();
        const bool bar_by_bar = id_ == "waltz-cells" || starts(id_, "cells-in");
        if (!bar_by_bar) return {};
        const auto n = static_cast<std::size_t>((bar / kEighth).floor());
        for (std::size_t i = 0; i + 1 < midi_.size(); i += n) {
            if (!is_on(i, bar)) return "a cell that does not begin with the bar";
        }
        return {};
    }

    std::string leaps() {
        const auto pairs_of = [&](int steps) {
            for (std::size_t i = 0; i + 1 < in_cells(2) + 1; i += 2) {
                if (i + 1 < places_.size() && std::abs(places_[i] - places_[i + 1]) != steps)
                    return std::string{"a pair of another size"};
            }
            return std::string{};
        };
        if (id_ == "octave-leaps") return pairs_of(size_);
        if (id_ == "tenths") return pairs_of(size_ + 2);
        if (id_ == "fourths-stacked") return groups_like({0, 3, 6, 9}, 1);
        for (std::size_t i = 1; i + 1 < places_.size(); ++i) {
            if (modulo(places_[i] - places_[i - 1], size_) != 1 &&
                modulo(places_[i - 1] - places_[i], size_) != 1)
                return "not the next note of the scale";
        }
        return {};
    }

    std::string articulation() {
        bool open = false;
        bool marked = false;
        for (std::size_t i = 0; i < midi_.size(); ++i) {
            const LineNote& note = one_.line.notes[i];
            if (open && midi_[i] == midi_[i - 1]) return "a slur over a repeated note";
            if (note.slur_stops) {
                if (!open) return "a slur that stops and never began";
                open = false;
            }
            if (note.slur_starts) {
                if (open) return "a slur inside a slur";
                open = true;
            }
            marked = marked || note.slur_starts || note.articulation != Articulation::None;
        }
        if (open) return "a slur that never stops";
        return marked ? "" : "no mark anywhere";
    }

    const DrillCase& one_;
    const std::string& id_;
    std::vector<int> steps_;
    int tonic_ = 0;
    int size_ = 7;
    std::vector<int> midi_;
    Positions places_;
    bool is_whole_ = true;
};

}  // namespace

std::string fault_of(const DrillCase& one) {
    return Checker{one}.check();
}

bool has_family_check(const DrillTemplate& drill) {
    return Checker::families().contains(drill.family);
}

}  // namespace shedbook
