#include "shedbook/etude/ground.h"

#include <algorithm>

namespace shedbook {
namespace {

// The reading that a chord has in this pass of the tune: its first one, or the one of a later pass.
const Reading* reading_of(const Analysis& analysis, int inst) {
    const auto at = std::ranges::lower_bound(analysis.readings, inst, {}, &Reading::inst);
    return at != analysis.readings.end() && at->inst == inst ? &*at : nullptr;
}

class Collector {
  public:
    Collector(const Timeline& timeline, const Analysis& analysis, const GroundOptions& options)
        : timeline_{timeline}, analysis_{analysis}, options_{options} {}

    EtudeGround collect() {
        out_.choruses = options_.choruses;
        for (int chorus = 0; chorus < options_.choruses; ++chorus) {
            next_ = 0;
            last_span_ = nullptr;
            for (const PlayedBar& bar : timeline_.bars) {
                if (!is_wanted(bar.bar + 1)) continue;
                const bool is_pickup = bar.length < bar.meter.bar_length() && &bar == timeline_.bars.data();
                if (is_pickup && chorus > 0) continue;
                add_bar(bar, is_pickup);
            }
        }
        out_.length = end_ - Position{};
        return std::move(out_);
    }

  private:
    [[nodiscard]] bool is_wanted(int bar) const {
        return !options_.bars || (bar >= options_.bars->first && bar <= options_.bars->second);
    }

    void add_bar(const PlayedBar& bar, bool is_pickup) {
        const Duration full = bar.meter.bar_length();
        // A pickup stands in a full bar here: the file has other music before it.
        const Duration lead = is_pickup ? full - bar.length : Duration{};
        out_.bars.push_back({end_, is_pickup ? full : bar.length, bar.meter});
        if (is_pickup) add_rest(end_, lead);
        const Position bar_end = bar.at + bar.length;
        Position filled = bar.at;
        for (; next_ < timeline_.chords.size(); ++next_) {
            const ChordSpan& span = timeline_.chords[next_];
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
        const bool starts = last_span_ != &span;
        // A symbol stands once a change, not again where a bar is repeated.
        const bool changes = out_.symbols.empty() || out_.symbols.back().symbol != span.symbol;
        if (starts && changes) out_.symbols.push_back({at, span.symbol});
        last_span_ = &span;
        const Reading* reading = span.symbol ? reading_of(analysis_, span.inst) : nullptr;
        if (reading == nullptr || is_pickup) return add_rest(at, length);
        // Bars of one chord are one span, so that the line sees where it ends.
        if (!starts && !out_.spans.empty() && !out_.spans.back().notes.empty()) {
            out_.spans.back().length += length;
            return;
        }
        out_.spans.push_back({at, length, reading->scale.notes, chord_notes(*span.symbol),
                              reading->guide_tones, reading->scale.avoid, span.symbol});
    }

    const Timeline& timeline_;
    const Analysis& analysis_;
    GroundOptions options_;
    EtudeGround out_;
    Position end_;
    std::size_t next_ = 0;
    const ChordSpan* last_span_ = nullptr;
};

}  // namespace

EtudeGround ground_of(const Timeline& timeline, const Analysis& analysis, const GroundOptions& options) {
    return Collector{timeline, analysis, options}.collect();
}

bool has_chords(const EtudeGround& ground) {
    return std::ranges::any_of(ground.spans, [](const ScaleSpan& span) { return !span.notes.empty(); });
}

}  // namespace shedbook
