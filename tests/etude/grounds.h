// Grounds, ranges and rules for the tests of this folder.
#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "shedbook/etude/etude.h"

namespace shedbook {

struct NamedGround {
    std::string name;
    EtudeGround ground;
};

struct NamedRange {
    const char* instrument;
    PitchRange range;  // sounding
};

// A chart typed as bars; the text must be right.
[[nodiscard]] EtudeGround ground_of_bars(const std::string& text, const GroundOptions& options = {});
// Every chart that ships and, where the solos' charts lie beside the checkout, those too. Fewer under the
// sanitizers.
[[nodiscard]] const std::vector<NamedGround>& test_grounds();
// Sounding practical ranges of eight instruments.
[[nodiscard]] const std::array<NamedRange, 8>& test_ranges();
// The span that sounds at a place; there must be one.
[[nodiscard]] const ScaleSpan& sounding_at(const EtudeGround& ground, Position at);
[[nodiscard]] bool has_note(const std::vector<PitchClass>& notes, Pitch pitch);
// Checks what holds for every kind: the range, the order of notes, no note where no chord is.
void check_line(const EtudeGround& ground, const ConcertLine& line, PitchRange range);
// All grounds under all ranges with three seeds; or each ground with one of them in turn, or every fifth
// ground so, where that would be slow. With SHEDBOOK_ALL_CASES set, always all.
enum class Coverage { All, InTurn, Some };
void for_each_case(Coverage coverage,
                   const std::function<void(const EtudeGround&, PitchRange, std::uint64_t seed)>& check);

}  // namespace shedbook
