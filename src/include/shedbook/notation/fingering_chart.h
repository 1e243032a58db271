// Charts of fingerings, slide positions and frets, from data: templates/fingerings.toml. What a chart says of
// the notes of a piece is fingering.h.
//
//     fingering_chart_of(*find_instrument("trumpet"))->row;    // "valves"
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {

struct FingeringChart {
    enum class By { Note, String, Fret };

    std::string id;
    std::string row;  // what players call it: "valves"
    By by = By::Note;
    int lowest = 0;                  // by note: half steps from the open note to the first of `notes`
    std::vector<std::string> notes;  // by note: from `lowest` on; by string: from the open string on
    int reach = 0;                   // by fret: frets under the hand in one place
};
template <>
inline constexpr Worded<FingeringChart::By> kWords<FingeringChart::By>[] = {
    {FingeringChart::By::Note, "note"},
    {FingeringChart::By::String, "string"},
    {FingeringChart::By::Fret, "fret"}};

[[nodiscard]] std::vector<FingeringChart> read_fingering_charts(const SourceText& source,
                                                                Diagnostics& diagnostics);
// Those that come with the program.
[[nodiscard]] const std::vector<FingeringChart>& fingering_charts();
[[nodiscard]] const FingeringChart* find_fingering_chart(std::string_view id);
// That of an instrument; null where its data has none.
[[nodiscard]] const FingeringChart* fingering_chart_of(const Instrument& instrument);

}  // namespace shedbook
