// Rows of fingerings, slide positions or frets under the notes, from data: templates/fingerings.toml.
//
//     add_fingerings(music, *find_instrument("trumpet"));
//     music.fingerings[0].text;                                // "12" under a written A
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/notation/written_music.h"

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

// Fills music.fingerings. Notes that the chart does not have stay without; music for an instrument without a
// chart stays as it is. `frets`: the part of the neck to stay in, where the notes allow it.
void add_fingerings(WrittenMusic& music, const Instrument& instrument,
                    const std::optional<FretSpan>& frets = std::nullopt);

}  // namespace shedbook
