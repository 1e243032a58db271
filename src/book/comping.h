// The rhythm in which chords are struck under a tune, from templates/comping.toml.
#pragma once

#include <vector>

#include "hand_voicings.h"
#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/etude/phrase.h"

namespace shedbook {

struct CompingRhythm {
    PhraseFeel feel = PhraseFeel::Any;
    std::vector<int> eighths;  // of a bar of 4/4, from 0; empty: each beat
};
[[nodiscard]] std::vector<CompingRhythm> read_comping(const SourceText& source, Diagnostics& diagnostics);

// Each chord where it comes and wherever the rhythm strikes until the next one, but not less than a beat
// before that. The last chord of all is struck once.
[[nodiscard]] std::vector<ChordStroke> comping_strokes(const EtudeGround& ground, PhraseFeel feel);

}  // namespace shedbook
