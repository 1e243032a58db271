#include "changes_line.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "bar_values.h"
#include "drill_section.h"
#include "shedbook/etude/through_changes.h"

namespace shedbook {
namespace {

constexpr std::size_t kBarsASystem = 4;

// The reading that a chord has in this pass of the tune: its first one, or the one of a later pass.
const Reading* reading_of(const Analysis& analysis, int inst) {
    const auto at = std::ranges::lower_bound(analysis.readings, inst, {}, &Reading::inst);
    return at != analysis.readings.end() && at->inst == inst ? &*at : nullptr;
}

struct Stretch {
    std::vector<ScaleSpan> spans;
    std::vector<PlacedSymbol> symbols;
    std::vector<NotateOptions::BarPlan> bars;
};

class Collector {
  public:
    Collector(const Tune& tune, const BookOptions& options) : tune_{tune}, options_{options} {}

    Stretch collect() {
        const Timeline& timeline = tune_.timeline;
        for (std::size_t b = 0; b < timeline.bars.size(); ++b) {
            const PlayedBar& bar = timeline.bars[b];
            if (!is_wanted(bar.bar + 1)) continue;
            add_bar(bar);
        }
        return std::move(out_);
    }

  private:
    [[nodiscard]] bool is_wanted(int bar) const {
        return !options_.only_bars || (bar >= options_.only_bars->first && bar <= options_.only_bars->second);
    }

    void add_bar(const PlayedBar& bar) {
        const Duration full = bar.meter.bar_length();
        // A pickup stands in a full bar here: the file has other music before it.
        const bool is_pickup = bar.length < full && out_.bars.empty();
        const Duration lead = is_pickup ? full - bar.length : Duration{};
        const Meter meter = bar.length == full || is_pickup ? bar.meter : meter_of_length(bar.length);
        out_.bars.push_back({is_pickup ? full : bar.length, meter, false});
        if (is_pickup) out_.spans.push_back({end_, lead, {}, {}});
        const Position bar_end = bar.at + bar.length;
        Position filled = bar.at;
        for (; next_ < tune_.timeline.chords.size(); ++next_) {
            const ChordSpan& span = tune_.timeline.chords[next_];
            const Position span_end = span.at + span.length;
            if (span.at >= bar_end) break;
            if (span_end <= bar.at) continue;
            const Position from = std::max(span.at, bar.at);
            const Position to = std::min(span_end, bar_end);
            if (from > filled) add_rest(end_ + lead + (filled - bar.at), from - filled);
            add_span(span, end_ + lead + (from - bar.at), to - from, is_pickup);
            filled = to;
            if (span_end > bar_end) break;  // goes on in the next bar
        }
        if (filled < bar_end) add_rest(end_ + lead + (filled - bar.at), bar_end - filled);
        end_ += lead + bar.length;
    }

    void add_rest(Position at, Duration length) { out_.spans.push_back({at, length, {}, {}}); }

    void add_span(const ChordSpan& span, Position at, Duration length, bool is_pickup) {
        const bool starts = out_.symbols.empty() || last_span_ != &span;
        // A symbol stands once a change, not again where a bar is repeated.
        const bool changes = out_.symbols.empty() || out_.symbols.back().symbol != span.symbol;
        if (starts && changes) out_.symbols.push_back({at, span.symbol});
        last_span_ = &span;
        const Reading* reading = span.symbol ? reading_of(tune_.analysis, span.inst) : nullptr;
        if (reading == nullptr || is_pickup) return add_rest(at, length);
        std::vector<PitchClass> chord = chord_notes(*span.symbol);
        // Bars of one chord are one span, so that the line sees where it ends.
        if (!starts && !out_.spans.empty() && !out_.spans.back().notes.empty()) {
            out_.spans.back().length += length;
            return;
        }
        out_.spans.push_back({at, length, reading->scale.notes, std::move(chord)});
    }

    const Tune& tune_;
    const BookOptions& options_;
    Stretch out_;
    Position end_;
    std::size_t next_ = 0;
    const ChordSpan* last_span_ = nullptr;
};

// The key number of the window's low end, an octave of `low`, where the window lies nearest the middle of the
// range.
std::optional<int> place_in(const PitchRange& range, int low, int width) {
    std::optional<int> best;
    const int middle = range.low.midi() + range.high.midi();
    for (int at = low; at + width <= range.high.midi(); at += 12) {
        if (at < range.low.midi()) continue;
        if (!best || std::abs(2 * at + width - middle) < std::abs(2 * *best + width - middle)) best = at;
    }
    return best;
}

Pitch pitch_at(int midi) {
    return Pitch{simplest_name(midi % 12), midi / 12 - 1};
}

}  // namespace

PitchRange common_window(const std::vector<PitchRange>& ranges, std::size_t which) {
    const PitchRange own = ranges[which];
    if (ranges.size() == 1) return own;
    int widest = own.high.midi() - own.low.midi();
    for (const PitchRange& range : ranges) widest = std::min(widest, range.high.midi() - range.low.midi());
    for (int width = widest; width >= 12; --width) {
        for (int low = 0; low < 12; ++low) {
            const bool fits_all = std::ranges::all_of(
                ranges, [&](const PitchRange& range) { return place_in(range, low, width).has_value(); });
            if (!fits_all) continue;
            const int at = *place_in(own, low, width);
            return {pitch_at(at), pitch_at(at + width)};
        }
    }
    return own;
}

std::optional<WrittenMusic> changes_line(const Tune& tune, std::span<const BookPart> parts, std::size_t which,
                                         const BookOptions& options) {
    const BookPart& part = parts[which];
    Stretch stretch = Collector{tune, options}.collect();
    const bool has_chords =
        std::ranges::any_of(stretch.spans, [](const ScaleSpan& span) { return !span.notes.empty(); });
    if (!has_chords) return std::nullopt;
    NotateOptions notation;
    notation.instrument = part.instrument;
    notation.meter = stretch.bars.front().change.value_or(Meter{});
    notation.key = tune.chart.key.value_or(tune.analysis.home);
    notation.chords = std::move(stretch.symbols);
    notation.bars = std::move(stretch.bars);
    notation.prefer = options.prefer;
    const PitchRange range = common_window(sounding_ranges(parts), which);
    WrittenMusic music = notate(unbroken_scale_line(stretch.spans, range), notation);
    music.shows_bar_numbers = true;
    music.feel = tune.chart.feel;
    if (tune.chart.tempo)
        music.tempo = TempoMark{*tune.chart.tempo, note_value(notation.meter.beat_length())};
    for (std::size_t bar = kBarsASystem; bar < music.measures.size(); bar += kBarsASystem) {
        music.measures[bar].new_system = true;
    }
    return music;
}

}  // namespace shedbook
