#include "counting.h"

#include <algorithm>
#include <numeric>
#include <optional>

#include "shedbook/base/rational.h"
#include "shedbook/drill/degree.h"

namespace shedbook {
namespace {

constexpr int kSteps = 7;
constexpr int kNone = -1;

// Rungs from `base` up to the note of the ladder that sounds so many half steps higher.
int rungs_to(const ScaleLadder& ladder, int base, std::optional<int> sounding) {
    if (!sounding) return kNone;
    const Pitch bottom{ladder.notes().front(), 4};
    const int from = ladder.pitch(base, bottom).midi();
    for (int up = 0; up < ladder.size(); ++up) {
        if (ladder.pitch(base + up, bottom).midi() - from == *sounding) return up;
    }
    return kNone;
}

std::array<int, 7> row_over(const ScaleLadder& ladder, int base, const Degrees& own) {
    const PitchClass note = ladder.notes()[static_cast<std::size_t>(base)];
    const Degrees degrees = degrees_above(sounds_above(ladder.notes(), note), own);
    std::array<int, 7> out{};
    for (std::size_t k = 0; k < out.size(); ++k) {
        out[k] = rungs_to(ladder, base, degrees[k]);
        // With notes enough, a degree that is none by its size (a diminished third) is the next note.
        if (out[k] == kNone && ladder.size() > kSteps) out[k] = out[k - 1] + 1;
    }
    return out;
}

// The chord's own degrees that the scale has, where it has them elsewhere than as its third, fifth and
// seventh notes (over an altered chord, the fourth note is the third).
std::optional<Degrees> displaced_own(const ScaleLadder& ladder, const Degrees& own) {
    Degrees out;
    bool is_displaced = ladder.size() != kSteps;
    for (std::size_t k = 0; k < own.size(); ++k) {
        const int up = rungs_to(ladder, 0, own[k]);
        if (up == kNone) continue;
        out[k] = own[k];
        is_displaced = is_displaced || up != static_cast<int>(k);
    }
    return is_displaced ? std::optional{out} : std::nullopt;
}

}  // namespace

Counting::Counting(const DrillTemplate& drill, const ScaleLadder& ladder) : size_{ladder.size()} {
    std::iota(on_root_.begin(), on_root_.end(), 0);
    if (drill.counts_notes) return;
    const PitchClass first = ladder.notes().front();
    if (size_ != kSteps) {
        for (int base = 0; base < size_; ++base) rows_.push_back(row_over(ladder, base, {}));
        on_root_ = rows_.front();
    }
    by_degrees_ = has_all(drill);
    if (!by_degrees_) {
        rows_.clear();
        return;
    }
    if (!ladder.chord() || ladder.chord()->root.semitone() != first.semitone()) return;
    has_root_ = true;
    const std::vector<PitchClass> chord = chord_notes(*ladder.chord());
    const PitchClass root = ladder.chord()->root;
    if (const auto own = displaced_own(ladder, own_degrees(chord, root))) {
        const Row row = row_over(ladder, 0, *own);
        for (std::size_t k = 0; k < row.size(); ++k) {
            if (row[k] != kNone) on_root_[k] = row[k];
        }
    }
    if (!is_sus(chord, root)) return;
    for (const auto* list : {&drill.rising, &drill.falling}) {
        for (const DrillCell& cell : *list) {
            if (speaks_of_chord(cell)) sus_cells_.emplace_back(&cell, over_sus(cell));
        }
    }
}

// Whether every degree of the cells is there over every note that they may stand on.
bool Counting::has_all(const DrillTemplate& drill) const {
    const auto is_there = [&](const CellNote& note) {
        if (note.kind == CellNote::Kind::ChordTone || note.target == CellNote::Target::Next) return true;
        const auto letter = static_cast<std::size_t>(modulo(note.steps, kSteps));
        return note.steps == -1 ||
               std::ranges::all_of(rows_, [&](const Row& row) { return row[letter] != kNone; });
    };
    const auto has = [&](const DrillCell& cell) { return std::ranges::all_of(cell, is_there); };
    return std::ranges::all_of(drill.rising, has) && std::ranges::all_of(drill.falling, has) &&
           has(drill.turn);
}

const DrillCell& Counting::over(int base, const DrillCell& cell) const {
    if (sus_cells_.empty() || !is_root(base)) return cell;
    const auto own = std::ranges::find(sus_cells_, &cell, [](const auto& pair) { return pair.first; });
    return own == sus_cells_.end() ? cell : own->second;
}

int Counting::rung(int base, int steps, bool of_chord) const {
    if (!by_degrees_) return base + steps;
    const int octave = floor_div(steps, kSteps);
    const auto letter = static_cast<std::size_t>(modulo(steps, kSteps));
    if (of_chord && is_root(base)) return base + octave * size_ + on_root_[letter];
    if (rows_.empty() || steps == -1) return base + steps;
    const int at = modulo(base, size_);
    return base + octave * size_ + rows_[static_cast<std::size_t>(at)][letter];
}

}  // namespace shedbook
