// Charts whose keys are known, for fitting: solos (home key annotated) and songs (tonic annotated chord by
// chord).
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "key_finder.h"

namespace shedbook {

struct KnownChart {
    std::string song;  // versions of one song share it
    std::vector<ChordView> chords;
    std::optional<Tonality> home;  // ground as Major or Minor; for songs nothing is known of the mode
    std::vector<int> tonics;       // one a chord; empty for solos
    int home_tonic = 0;
};

// `reference` holds solos/charts and functions/{charts,reference.tsv} as their READMEs describe them.
[[nodiscard]] std::vector<KnownChart> read_known_charts(const std::filesystem::path& reference);

}  // namespace shedbook
