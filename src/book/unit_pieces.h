// The pieces on one practice unit of a tune: as a book by units has them, or those that a sitting asks for.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "phrase_pages.h"
#include "shedbook/book/plan.h"
#include "shedbook/harmony/units.h"
#include "unit_hands.h"
#include "unit_lines.h"

namespace shedbook {

// Arpeggios in the other keys of a unit.
inline constexpr std::string_view kArpeggiosElsewhere = "arpeggios-elsewhere";

// The first two levels, but for plans: what is easy comes first, and where it is easiest.
[[nodiscard]] bool is_for_beginners(const BookOptions& options);
// The first of them: no line that is composed, no targets.
[[nodiscard]] bool is_first_level(const BookOptions& options);

class UnitPieces {
  public:
    // Keeps all of them by reference.
    UnitPieces(const Tune& tune, const Ensemble& ensemble, const BookOptions& options,
               Diagnostics& diagnostics);

    // Where a unit is drilled: at its hardest place, for who begins at its easiest.
    [[nodiscard]] const UnitPlace& drilled_place(const PracticeUnit& unit) const;
    // There: two facing pages with the other keys, or a few systems. All pieces are still
    // without the number of their section.
    [[nodiscard]] std::vector<Etude> opening(const PracticeUnit& unit);
    [[nodiscard]] std::vector<Etude> few(const PracticeUnit& unit);
    // Kinds of etude, kPhrasesOfUnit, or kArpeggiosElsewhere; and the guide tones in the unit's other keys.
    [[nodiscard]] std::vector<Etude> of_kinds(const PracticeUnit& unit, const std::vector<std::string>& kinds,
                                              bool with_other_keys = false);

    // Written bars from 1, both ends in: what ends on a chord that leads on is played into what follows it.
    [[nodiscard]] std::pair<int, int> bars_to_play(const PracticeUnit& unit) const;
    // The same with a bar before and a bar behind, where those that are written there are played there.
    [[nodiscard]] std::pair<int, int> bars_to_show(const PracticeUnit& unit) const;
    [[nodiscard]] UnitHead head_of(const PracticeUnit& unit) const;
    // A place in each other key that the tune has it in, a few at most.
    [[nodiscard]] std::vector<UnitPlace> other_keys(const PracticeUnit& unit) const;

  private:
    class Pile;
    [[nodiscard]] std::pair<int, int> bars_of(UnitKind kind, const UnitPlace& place) const;
    [[nodiscard]] std::pair<int, int> line_of_blues(const UnitPlace& place) const;
    [[nodiscard]] Passage passage_of(UnitKind kind, const UnitPlace& place) const;
    [[nodiscard]] Passage phrase_passage_of(UnitKind kind, const UnitPlace& place) const;
    [[nodiscard]] std::vector<const Reading*> readings_in(int bar) const;
    [[nodiscard]] std::vector<const Reading*> chords_of(const UnitPlace& place) const;
    [[nodiscard]] bool ends_on_dominant(int bar) const;
    [[nodiscard]] bool is_followed(int bar) const;
    [[nodiscard]] UnitHead::Place place_of(UnitKind kind, const UnitPlace& place) const;
    [[nodiscard]] UnitHead::Place place_with(const UnitPlace& place, std::pair<int, int> bars) const;
    [[nodiscard]] std::optional<std::pair<int, int>> skipped_between(int first, int last) const;
    void take_hands(Pile& pile, const PracticeUnit& unit, bool says_where);
    [[nodiscard]] std::string add_phrases(Pile& pile, std::size_t most);
    void add_riff(Pile& pile, bool has_own_version);
    [[nodiscard]] std::vector<Etude> opening_of_blues(const PracticeUnit& unit);

    const Tune& tune_;
    bool is_easy_;
    bool is_first_level_;  // and no plan that asks for more
    Interval by_;          // from what sounds to what the first part reads
    UnitLines lines_;
    UnitHands hands_;
    PhrasePages phrases_;
};

}  // namespace shedbook
