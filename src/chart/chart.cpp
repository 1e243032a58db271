#include "shedbook/chart/chart.h"

#include "shedbook/base/text.h"

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

}  // namespace shedbook
