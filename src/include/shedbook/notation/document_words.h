// The words that blocks have on paper and on a screen: one place for all writers. Flats and sharps are
// letters here; `with_signs` (music_text.h) makes signs of them.
//
//     in_words(PieceNumber{2, 3});                             // "2.3"
//     heading_of(drill).remark;                                // "from the 5th, to stay in range"
//     bars_in_words({1, 5, 6, 7});                             // "bars 1, 5 to 7"
#pragma once

#include <string>
#include <vector>

#include "shedbook/notation/document.h"

namespace shedbook {

// Empty for a piece without one.
[[nodiscard]] std::string in_words(const PieceNumber& number);
// Its chord symbol, or its scale.
[[nodiscard]] std::string name_of(const Topic& topic);
[[nodiscard]] std::string name_of(const TopicInPart& topic);
// "Dm7, D Dorian"; a scale by itself once.
[[nodiscard]] std::string name_with_scale(const Topic& topic);
[[nodiscard]] std::string name_with_scale(const TopicInPart& topic);
[[nodiscard]] std::string bars_in_words(const std::vector<int>& bars);
// For a score: "Sounds: Dm7, D Dorian (bars 1, 5)".
[[nodiscard]] std::string as_it_sounds(const TopicHead& head);

// What stands over a piece. The remark gives way where both would not stand in one line: first why, then
// what.
struct PieceHeading {
    std::string title;
    std::string remark;  // may be empty
};
[[nodiscard]] PieceHeading heading_of(const Drill& drill);
[[nodiscard]] PieceHeading heading_of(const Etude& etude);
// "ii-V-I in F, bars 3 to 6", and what else there is to say of it.
[[nodiscard]] std::string title_of(const UnitHead& unit);
// First and last bars of what is played without a gap.
[[nodiscard]] std::vector<std::pair<int, int>> parts_of(const UnitHead::Place& place);
// "40 bars, A A B C (32 written)"
[[nodiscard]] std::string form_in_words(const TuneOverview& overview);
// "ii-V-I in D major, G major and A major"; where that is longer than `most` characters, "ii-V-I in D major
// and 2 other keys".
[[nodiscard]] std::string name_with_keys(const UnitHead& unit, std::size_t most);
[[nodiscard]] std::string reason_of(const UnitHead& unit);
// "Same notes: Cmaj7 C Ionian, Am7 A Aeolian"; empty if it shares them with none.
[[nodiscard]] std::string shared_notes(const TopicHead& head);

// What stands before the tempo: the feel, and that the tempo is the tune's if these notes have others to
// tick: "fast swing; the tune:". May be empty.
[[nodiscard]] std::string before_tempo(const WrittenMusic& music);

// "Week 1: the basic chords"
[[nodiscard]] std::string title_of(const SittingStart& sitting);
// "Round 2", and what a round is.
[[nodiscard]] std::string title_of(const RoundHead& round);
[[nodiscard]] std::string reason_of(const RoundHead& round);

// "at 60", "at 80", "from memory".
[[nodiscard]] std::vector<std::string> labels_of(const TempoBoxes& boxes);

// "Bb3 to F#6"
[[nodiscard]] std::string in_words(const WrittenRange& range);
// "F major, written D major"; empty where no key is known.
[[nodiscard]] std::string keys_of(const Cover& cover);

// A row of a plan's table: its title, then a line each for what it holds, the name of the line in front. What
// is as it was in the row before is not said again.
struct PlanRowWords {
    std::string title;
    std::vector<std::string> lines;
};
[[nodiscard]] std::vector<PlanRowWords> rows_in_words(const PlanTable& table);

}  // namespace shedbook
