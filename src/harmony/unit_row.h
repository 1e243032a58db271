// Conditions on the chords of a row, as the rules of units ask for them.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "unit_patterns.h"

namespace shedbook {

// Half steps down from one root to another.
inline constexpr int kFifthDown = 7;
inline constexpr int kHalfStepDown = 1;

[[nodiscard]] inline int down(int from, int to) {
    return (from - to + 12) % 12;
}
[[nodiscard]] inline int up(int from, int to) {
    return (to - from + 12) % 12;
}

// Where a chord of the row stands; conditions on the ones around it.
class RowView {
  public:
    RowView(const std::vector<UnitChord>& row, const UnitContext& context) : row_{row}, context_{context} {}

    [[nodiscard]] bool follows(std::size_t i) const { return i < row_.size() && row_[i].follows; }
    [[nodiscard]] const UnitChord& at(std::size_t i) const { return row_[i]; }
    [[nodiscard]] std::size_t size() const { return row_.size(); }
    // False beyond the row.
    [[nodiscard]] bool is(std::size_t i, UnitFamily family) const {
        return i < row_.size() && row_[i].family == family;
    }
    [[nodiscard]] bool is_dominant(std::size_t i) const { return is(i, UnitFamily::Dominant); }
    [[nodiscard]] bool is_two(std::size_t i) const {
        return is(i, UnitFamily::Minor) || is(i, UnitFamily::HalfDiminished);
    }
    [[nodiscard]] bool is_tonic(std::size_t i) const {
        return is(i, UnitFamily::Major) || is(i, UnitFamily::Minor);
    }
    [[nodiscard]] int falls(std::size_t i, std::size_t j) const { return down(row_[i].root, row_[j].root); }
    [[nodiscard]] int home() const { return context_.home.tonic.semitone(); }
    [[nodiscard]] bool is_home(std::size_t i) const { return row_[i].root == home(); }
    [[nodiscard]] const UnitContext& context() const { return context_; }

    // ii and its V, or a half step above the goal, right behind it.
    [[nodiscard]] bool leads_to_five(std::size_t ii, std::size_t v) const {
        return is_two(ii) && is_dominant(v) && (falls(ii, v) == kFifthDown || falls(ii, v) == kHalfStepDown);
    }
    // A chord of which the next is the ii of another pair.
    [[nodiscard]] bool begins_pair(std::size_t i) const {
        return follows(i + 1) && leads_to_five(i, i + 1) && !row_[i].is_tonic_minor;
    }
    [[nodiscard]] bool has_two_before(std::size_t v) const {
        return v > 0 && follows(v) && leads_to_five(v - 1, v);
    }

    [[nodiscard]] Key key_on(std::size_t i, Mode mode) const { return {row_[i].symbol().root, mode}; }

  private:
    const std::vector<UnitChord>& row_;
    const UnitContext& context_;
};

using UnitFound = std::optional<FoundUnit>;
// Whether a chord stands over a bass of its own, a suspension's or a foreign one.
[[nodiscard]] bool is_over_bass(const UnitChord& chord);
// One minor chord with a voice that moves inside it.
[[nodiscard]] UnitFound line_cliche(const RowView& p, std::size_t i);

// Frames: other units may lie in them.
[[nodiscard]] UnitFound pedal(const RowView& p, std::size_t i);
[[nodiscard]] UnitFound modal_stretch(const RowView& p, std::size_t i);
[[nodiscard]] UnitFound key_cycle(const RowView& p, std::size_t i);
[[nodiscard]] UnitFound blues_frame(const RowView& p, std::size_t i);

}  // namespace shedbook
