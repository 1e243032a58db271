// The revisions of a melody: what is tried on its notes, and how a chord comes to be told.
#include <array>
#include <cstdlib>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include "melody.h"
#include "melody_weights.h"
#include "shedbook/etude/spelling.h"

namespace shedbook {

int MelodySearch::near_in_scale(std::size_t i, int pitch, int direction) const {
    for (int k = 0; k < 4; ++k) {
        if (in_scale(i, pitch)) return pitch;
        pitch += direction;
    }
    return pitch;
}

void MelodySearch::set(std::size_t i, int pitch) {
    changed_.emplace_back(i, pitches_[i]);
    pitches_[i] = pitch;
}

// Notes before i become a way to it: a neighbour, two neighbours on both sides, three around it.
bool MelodySearch::approach(std::size_t i) {
    if (i < 1 || !meter_.goes_on(i - 1) || !in_scale(i, pitches_[i])) return false;
    const int target = pitches_[i];
    const int side = dice_.chance(0.5) ? 1 : -1;
    const double what = dice_.unit();
    if (what < 0.4 || i < 2 || !meter_.goes_on(i - 2)) {
        set(i - 1, target - side);
        return true;
    }
    if (what < 0.75 || i < 3 || !meter_.goes_on(i - 3)) {
        set(i - 2, target + side * (1 + dice_.below(2)));
        set(i - 1, target - side);
        return true;
    }
    set(i - 3, target + side);
    set(i - 2, target - 2 * side);
    set(i - 1, target - side);
    return true;
}

// A note of a chord that is not told yet becomes one that tells it.
bool MelodySearch::name_a_chord() {
    if (duties_.empty()) return false;
    const auto d = static_cast<std::size_t>(dice_.below(static_cast<int>(duties_.size())));
    if (is_told(duties_[d])) return false;
    const Duty& duty = duties_[d];
    const auto i =
        duty.first + static_cast<std::size_t>(dice_.below(static_cast<int>(duty.last - duty.first)));
    const int way = dice_.chance(0.5) ? 1 : -1;
    for (int by = 0; by < 12; ++by) {
        for (const int pitch : {pitches_[i] + way * by, pitches_[i] - way * by}) {
            if (!holds(duty.tell, pitch)) continue;
            set(i, pitch);
            return true;
        }
    }
    return false;
}

bool MelodySearch::propose() {
    const int n = static_cast<int>(pitches_.size());
    const auto i = static_cast<std::size_t>(dice_.below(n));
    if (dice_.chance(0.06) && name_a_chord()) return true;
    const double what = dice_.unit();
    if (what < 0.34) {
        const int by = 1 + dice_.below(dice_.chance(0.7) ? 4 : 12);
        set(i, pitches_[i] + (dice_.chance(0.5) ? by : -by));
        return true;
    }
    if (what < 0.50) {
        // Beside a neighbour, by an interval that players use.
        const bool to_next = dice_.chance(0.5);
        if (to_next ? i + 1 >= pitches_.size() : i == 0) return false;
        double place = dice_.unit();
        int move = -13;
        while (move < 13 && (place -= window_.intervals[static_cast<std::size_t>(move + 13)]) > 0) ++move;
        const int from = to_next ? pitches_[i + 1] - move : pitches_[i - 1] + move;
        if (from == pitches_[i]) return false;
        set(i, from);
        return true;
    }
    if (what < 0.62) return approach(i);
    if (what < 0.82) {
        // A few notes move together, along the scale.
        const int count = 2 + dice_.below(dice_.chance(0.6) ? 5 : 24);
        const int by = (1 + dice_.below(dice_.chance(0.7) ? 3 : 12)) * (dice_.chance(0.5) ? 1 : -1);
        for (std::size_t k = i; k < std::min(i + static_cast<std::size_t>(count), pitches_.size()); ++k)
            set(k, near_in_scale(k, pitches_[k] + by, by > 0 ? 1 : -1));
        return true;
    }
    if (what < 0.92) {
        // A few notes the other way round.
        const auto count = static_cast<std::size_t>(3 + dice_.below(5));
        if (i + count > pitches_.size()) return false;
        std::vector<int> kept(pitches_.begin() + static_cast<std::ptrdiff_t>(i),
                              pitches_.begin() + static_cast<std::ptrdiff_t>(i + count));
        for (std::size_t k = 0; k < count; ++k) set(i + k, near_in_scale(i + k, kept[count - 1 - k], 1));
        return true;
    }
    // A figure heard elsewhere comes again, from here.
    const auto from = static_cast<std::size_t>(dice_.below(n));
    const auto count = static_cast<std::size_t>(4 + dice_.below(3));
    if (from + count > pitches_.size() || i + count > pitches_.size()) return false;
    const int shift = pitches_[i] - pitches_[from];
    for (std::size_t k = 1; k < count; ++k) set(i + k, pitches_[from + k] + shift);
    return true;
}

void MelodySearch::take_back() {
    for (auto back = changed_.rbegin(); back != changed_.rend(); ++back) pitches_[back->first] = back->second;
}

// The change of one of the notes [first, last) that costs least, of those after which `is_good`.
void MelodySearch::change_one(std::size_t first, std::size_t last, const std::function<bool()>& is_good) {
    double least = kAnyCost;
    std::optional<std::pair<std::size_t, int>> best;
    for (std::size_t i = first; i < last; ++i) {
        for (int pitch = options_.low; pitch <= options_.high; ++pitch) {
            if (!in_scale(i, pitch)) continue;
            changed_.clear();
            set(i, pitch);
            if (is_good() && is_legal()) {
                const double now = cost(least);
                if (now < least) {
                    least = now;
                    best = {i, pitch};
                }
            }
            take_back();
        }
    }
    changed_.clear();
    if (best) set(best->first, best->second);
}

void MelodySearch::tell(const Duty& own) {
    change_one(own.first, own.last, [&] { return is_told(own); });
}

// Note by note, as long as that brings it nearer and spoils little else.
void MelodySearch::state(const Statement& own) {
    constexpr double kSpoils = 3;
    double before = cost();
    for (int missing = unstated_in(own); missing > 0;) {
        change_one(own.first, own.last, [&] { return unstated_in(own) < missing; });
        const double after = cost();
        if (after > before + kSpoils) take_back();
        if (unstated_in(own) == missing) return;
        missing = unstated_in(own);
        before = after;
    }
}

void MelodySearch::prepare_names() {
    for (const int heard : heard_) {
        std::array<std::int8_t, 12>& letters = letters_.emplace_back();
        letters.fill(-1);
        const BeatChord& chord = ground_.chords[static_cast<std::size_t>(heard)];
        if (!chord.sounds) continue;
        for (int sound = 0; sound < 12; ++sound) {
            if (const auto name = scale_name(*chord.span, sound))
                letters[static_cast<std::size_t>(sound)] = static_cast<std::int8_t>(name->step());
        }
    }
}

double MelodySearch::handling_cost() const {
    // Semitones of the major or perfect interval, by letters.
    constexpr std::array kWide{0, 2, 4, 5, 7, 9, 11};
    double out = 0;
    for (std::size_t i = 0; i + 1 < pitches_.size(); ++i) {
        const int from = pitches_[i];
        const int to = pitches_[i + 1];
        const double seconds = options_.seconds_a_beat * (notes_[i + 1].on - notes_[i].on) / kBeatTicks;
        if (meter_.goes_on(i)) out += options_.handling->cost(from, to, seconds);
        // Over a breath as well: a singer hears the one before.
        if (letters_.empty()) continue;
        const int low = letters_[i][static_cast<std::size_t>(from % 12)];
        const int high = letters_[i + 1][static_cast<std::size_t>(to % 12)];
        // What lies outside the scale is sung by step.
        if (low < 0 || high < 0) out += std::abs(to - from) > 2 ? kAugmentedStep : 0;
        if (low < 0 || high < 0 || std::abs(to - from) > 11) continue;
        const int letters = ((to > from ? high - low : low - high) + 7) % 7;
        if (letters > 0 && std::abs(to - from) > kWide[static_cast<std::size_t>(letters)])
            out += kAugmentedStep;
    }
    return out;
}

}  // namespace shedbook
