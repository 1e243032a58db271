// The rhythm in which chords are struck under a tune, from templates/comping.toml.
#pragma once

#include <string>
#include <vector>

#include "hand_voicings.h"
#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/etude/phrase.h"

namespace shedbook {

enum class CompingStyle { Usual, Pushed };
template <>
inline constexpr Worded<CompingStyle> kWords<CompingStyle>[] = {{CompingStyle::Usual, "usual"},
                                                                {CompingStyle::Pushed, "pushed"}};

struct CompingRhythm {
    PhraseFeel feel = PhraseFeel::Any;
    CompingStyle style = CompingStyle::Usual;
    std::string says;          // "four in a bar"
    std::vector<int> eighths;  // of a bar of 4/4, from 0; empty: each beat
};
[[nodiscard]] std::vector<CompingRhythm> read_comping(const SourceText& source, Diagnostics& diagnostics);

// Null: none such. Each feel has a usual one.
[[nodiscard]] const CompingRhythm* comping_rhythm(PhraseFeel feel, CompingStyle style);

// Each chord where it comes and wherever the rhythm strikes until the next one, but not less than a beat
// before that. The last chord of all is struck once.
[[nodiscard]] std::vector<ChordStroke> comping_strokes(const EtudeGround& ground,
                                                       const CompingRhythm& rhythm);

}  // namespace shedbook
