// The keys of a tune: one home key and the key of every chord, found together as the reading with the least
// cost. For each likely home key a dynamic programme goes through the chords once; the cheapest whole wins,
// so the answer is exact for the costs given, takes time in proportion to the chords, and each part of it can
// be looked up in the costs.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "chord_view.h"
#include "key_scores.h"

namespace shedbook {

struct KeyReading {
    Tonality home;
    std::vector<Tonality> keys;  // one a chord
    // Cost of the best reading with each home key that was tried (index as for tonalities: ground * 12 +
    // tonic); the rest stay at kUntried. For fitting and tests.
    std::array<double, 12 * kGrounds> cost_of_home{};
};
inline constexpr double kUntried = 1e9;

// `stated` is the key the chart names: a strong hint.
[[nodiscard]] KeyReading find_keys(const std::vector<ChordView>& chords,
                                   const std::optional<Tonality>& stated,
                                   const KeyScores& scores = key_scores());

// How much of every twelve bars has the chords of a blues on this tonic: I in the first and seventh, IV in
// the fifth, V in the ninth or tenth (H31.3 "The Blues Progression"); 0 to 1, and 0 unless the bars are a
// multiple of twelve.
[[nodiscard]] double blues_form(const std::vector<ChordView>& chords, int tonic);
[[nodiscard]] bool has_blues_form(const std::vector<ChordView>& chords, int tonic);

// Whether a chord can be the tonic chord of a key.
[[nodiscard]] bool is_tonic_chord(const ChordView& chord, Tonality key);

}  // namespace shedbook
