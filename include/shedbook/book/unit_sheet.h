// Practice units by themselves, without a tune: the plainest form of each as data (templates/units.toml), and
// a sheet of lines on one of them in many keys.
//
//     const PlainUnit* unit = find_plain_unit("ii-V-I");
//     chart_of(*unit, 5, Prefer::Fewest)->key;                 // F major
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/book/book.h"
#include "shedbook/chart/chart.h"
#include "shedbook/harmony/units.h"

namespace shedbook {

struct PlainUnit {
    std::string id;  // as typed: "minor-ii-V-i"
    UnitKind kind = UnitKind::LoneChord;
    Chart chart;  // with its key
};
// The [[unit]] entries of a file; what is wrong is said at its place.
[[nodiscard]] std::vector<PlainUnit> read_plain_units(const SourceText& source, Diagnostics& diagnostics);
// Those that come with the program and the user's own (io/own_templates.h).
[[nodiscard]] const std::vector<PlainUnit>& plain_units();
// Upper and lower case do not count. Null if there is none.
[[nodiscard]] const PlainUnit* find_plain_unit(std::string_view name);
[[nodiscard]] std::vector<std::string> plain_unit_names();

// As a tune by itself, so many semitones above its own key, under the name with the fewest accidentals in the
// signature.
[[nodiscard]] Chart chart_of(const PlainUnit& unit, int semitones, Prefer prefer);

// A section for each key with the lines of a short unit.
void assemble_unit_sheet(const PlainUnit& unit, const std::vector<Tune>& keys,
                         std::span<const BookPart> parts, std::size_t which, const BookOptions& options,
                         BlockSink& sink, Diagnostics& diagnostics);

}  // namespace shedbook
