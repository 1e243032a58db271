// What 'shedbook list' shows, as data for programs: an object for each entry.
#pragma once

#include <string>

#include "shedbook/drill/drill_template.h"
#include "shedbook/io/data.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {

[[nodiscard]] Data::Array instruments_as_data();
[[nodiscard]] Data::Array scales_as_data();
[[nodiscard]] Data::Array drills_as_data();
[[nodiscard]] Data::Array etudes_as_data();
[[nodiscard]] Data::Array plans_as_data();
[[nodiscard]] Data::Array levels_as_data();
[[nodiscard]] Data::Array rhythms_as_data();
[[nodiscard]] Data::Array articulations_as_data();
[[nodiscard]] Data::Array phrases_as_data();
[[nodiscard]] Data::Array chords_as_data();

// As both forms of a list say it: "Bb3-F#6"; "major sixth lower"; "1/8 r1/8".
[[nodiscard]] std::string range_text(const WrittenRange& range);
[[nodiscard]] std::string transposition_text(const Instrument& instrument);
[[nodiscard]] std::string rhythm_text(const Rhythm& rhythm);

}  // namespace shedbook
