#include "shedbook/notation/fingering_chart.h"

#include <algorithm>

#include "shedbook/io/fields.h"
#include "shedbook/io/own_templates.h"

namespace shedbook {
namespace {

constexpr int kFurthest = 48;  // half steps from the open note: no instrument goes further

std::optional<FingeringChart> read_chart(Fields fields) {
    FingeringChart out;
    out.id = fields.text("id");
    out.row = fields.text("row");
    out.by = fields.word("by", FingeringChart::By::Note);
    if (out.by == FingeringChart::By::Note) out.lowest = fields.number("lowest", -kFurthest, kFurthest);
    if (out.by == FingeringChart::By::Fret) {
        out.reach = fields.number("reach", 2, kMostFrets);
    } else {
        const Data* notes = fields.need("notes");
        out.notes = fields.texts("notes");
        if (notes != nullptr && out.notes.empty()) fields.fail(notes->where, "'notes' must not be empty");
    }
    if (!fields.finish()) return std::nullopt;
    return out;
}

}  // namespace

std::vector<FingeringChart> read_fingering_charts(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("fingering", source, diagnostics, read_chart);
}

const std::vector<FingeringChart>& fingering_charts() {
    static const std::vector<FingeringChart> kCharts =
        read_templates("fingerings.toml", "fingering", read_fingering_charts, &FingeringChart::id);
    return kCharts;
}

const FingeringChart* find_fingering_chart(std::string_view id) {
    const auto& charts = fingering_charts();
    const auto at = std::ranges::find(charts, id, &FingeringChart::id);
    return at != charts.end() ? &*at : nullptr;
}

const FingeringChart* fingering_chart_of(const Instrument& instrument) {
    return instrument.fingering.empty() ? nullptr : find_fingering_chart(instrument.fingering);
}

}  // namespace shedbook
