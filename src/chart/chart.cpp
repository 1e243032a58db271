#include "shedbook/chart/chart.h"

#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

void transpose(PlacedChord& chord, Interval by) {
    if (chord.symbol) {
        chord.symbol = transposed(*chord.symbol, by);
        chord.text = to_string(*chord.symbol);
    }
    if (chord.fixed_scale) chord.fixed_scale->tonic = chord.fixed_scale->tonic + by;
}

}  // namespace

std::string Chart::name() const {
    if (!title.empty()) return title;
    return id.empty() ? "this tune" : id;
}

std::string numbers_of_ending(const BarMarks& marks) {
    std::vector<std::string> numbers;
    for (const int number : marks.endings) numbers.push_back(std::to_string(number));
    return join(numbers, ", ");
}

std::vector<WrittenBar> written_bars(const Chart& chart) {
    std::vector<WrittenBar> out;
    Meter meter = chart.meter.value_or(Meter{});
    for (const Section& section : chart.sections) {
        for (const Bar& bar : section.bars) {
            if (bar.meter) meter = *bar.meter;
            out.push_back({&section, &bar, meter, bar.length.value_or(meter.bar_length()),
                           static_cast<int>(out.size())});
        }
    }
    return out;
}

int first_bar_number(const Chart& chart) {
    const std::vector<WrittenBar> bars = written_bars(chart);
    return !bars.empty() && bars.front().bar->is_pickup ? 0 : 1;
}

Chart transposed(const Chart& chart, Interval by) {
    Chart out = chart;
    if (out.key) out.key->tonic = out.key->tonic + by;
    for (Section& section : out.sections) {
        for (Bar& bar : section.bars) {
            if (bar.key) bar.key->tonic = bar.key->tonic + by;
            for (PlacedChord& chord : bar.chords) transpose(chord, by);
            for (MelodyNote& note : bar.melody) {
                if (note.pitch) note.pitch = *note.pitch + by;
            }
        }
    }
    return out;
}

std::vector<std::string> lost_in_score(const Chart& chart) {
    bool has_notes = !chart.comments.empty() || !chart.closing_comments.empty();
    bool has_optional = false;
    bool has_fixed = false;
    bool has_similes = false;
    for (const Section& section : chart.sections) {
        has_notes = has_notes || !section.comments.empty() || !section.remark.empty();
        for (const Bar& bar : section.bars) {
            has_similes = has_similes || bar.simile > 0;
            has_notes = has_notes || !bar.comments.empty() || !bar.remark.empty();
            for (const PlacedChord& chord : bar.chords) {
                has_optional = has_optional || chord.is_optional;
                has_fixed = has_fixed || chord.fixed_scale;
            }
        }
    }
    std::vector<std::string> out;
    if (has_optional) out.emplace_back("the brackets of optional chords");
    if (has_fixed) out.emplace_back("fixed scales");
    for (const auto& [name, value] : chart.other_headers) out.push_back("the header '" + name + "'");
    if (has_notes) out.emplace_back("notes behind ;");
    if (has_similes) out.emplace_back("% (its bar is written out)");
    return out;
}

}  // namespace shedbook
