#include "shedbook/etude/ground.h"

#include <algorithm>
#include <span>

namespace shedbook {
namespace {

// The reading that a chord has in this pass of the tune: its first one, or the one of a later pass.
const Reading* reading_of(const Analysis& analysis, int inst) {
    const auto at = std::ranges::lower_bound(analysis.readings, inst, {}, &Reading::inst);
    return at != analysis.readings.end() && at->inst == inst ? &*at : nullptr;
}

// The chord that the tune ends on leads back to its top: a dominant on the fifth above the home tonic or on
// the half step above it, sus chords counted (common practice).
bool leads_home(const Reading& last, const Key& home) {
    const int above = ((last.symbol.root.semitone() - home.tonic.semitone()) % 12 + 12) % 12;
    if (above == 0 || last.function == Function::Tonic) return false;
    const ChordFamily kind = family(last.symbol);
    const bool is_dominant = kind == ChordFamily::Dominant || (kind == ChordFamily::Suspended && above == 7);
    return last.function == Function::Dominant || (is_dominant && (above == 7 || above == 1));
}

// The first chord of the tune on the home tonic; its plain triad or sixth if there is none.
ScaleSpan home_chord(const Analysis& analysis) {
    for (const Reading& reading : analysis.readings) {
        if (reading.symbol.root != analysis.home.tonic || reading.symbol.bass) continue;
        const ChordFamily kind = family(reading.symbol);
        const bool is_plain =
            kind == ChordFamily::Major || kind == ChordFamily::Minor || kind == ChordFamily::Dominant;
        if (!is_plain || (kind == ChordFamily::Minor) != is_minor(analysis.home.mode)) continue;
        if (kind == ChordFamily::Dominant && reading.function == Function::Dominant) continue;
        return {{},
                {},
                reading.scale.notes,
                chord_notes(reading.symbol),
                reading.guide_tones,
                reading.scale.avoid,
                reading.symbol};
    }
    ChordSymbol symbol;
    symbol.root = analysis.home.tonic;
    symbol.kind = find_chord_kind(is_minor(analysis.home.mode) ? "minor_sixth" : "major_sixth");
    const ScaleChoice scale = scales_for(symbol).front();
    return {{}, {}, scale.notes, chord_notes(symbol), guide_tones(symbol), scale.avoid, symbol};
}

class Collector {
  public:
    Collector(const Timeline& timeline, const Analysis& analysis, const GroundOptions& options)
        : timeline_{timeline}, analysis_{analysis}, options_{options} {}

    EtudeGround collect() {
        out_.choruses = options_.choruses;
        out_.home = analysis_.home;
        for (int chorus = 0; chorus < options_.choruses; ++chorus) {
            next_ = 0;
            last_span_ = nullptr;
            is_restated_ = true;
            for (const PlayedBar& bar : options_.once ? one_time_through() : std::span{timeline_.bars}) {
                if (!is_wanted(bar.bar + 1)) continue;
                const bool is_pickup = bar.length < bar.meter.bar_length() && &bar == timeline_.bars.data();
                if (!is_pickup) add_bar(bar);
            }
        }
        if (!options_.bars) add_last_time();
        out_.length = end_ - Position{};
        return std::move(out_);
    }

  private:
    [[nodiscard]] bool is_wanted(int bar) const {
        return !options_.bars || (bar >= options_.bars->first && bar <= options_.bars->second);
    }

    // From the first bar asked for to the last, as they are played; where the repeat of an ending stands
    // between, the time that gets there.
    [[nodiscard]] std::span<const PlayedBar> one_time_through() const {
        const std::span<const PlayedBar> all{timeline_.bars};
        std::span<const PlayedBar> first;
        for (std::size_t from = 0; from < all.size(); ++from) {
            if (!is_wanted(all[from].bar + 1)) continue;
            std::size_t to = from + 1;
            while (to < all.size() && is_wanted(all[to].bar + 1) && all[to].bar > all[to - 1].bar) ++to;
            if (first.empty()) first = all.subspan(from, to - from);
            const bool is_whole = options_.bars && all[from].bar + 1 == options_.bars->first &&
                                  all[to - 1].bar + 1 == options_.bars->second;
            if (is_whole) return all.subspan(from, to - from);
            from = to - 1;
        }
        return first;
    }

    [[nodiscard]] bool has_pickup() const {
        const PlayedBar& first = timeline_.bars.front();
        return first.bar == 0 && first.length < first.meter.bar_length();
    }

    void add_bar(const PlayedBar& bar) {
        // A section begins again where it is repeated.
        const bool begins = before_ == nullptr || before_->section != bar.section || bar.bar <= before_->bar;
        before_ = &bar;
        const int number = bar.bar + (has_pickup() ? 0 : 1);
        out_.bars.push_back(
            {end_, bar.length, bar.meter, begins ? std::optional{bar.section} : std::nullopt, number});
        const Position bar_end = bar.at + bar.length;
        Position filled = bar.at;
        for (; next_ < timeline_.chords.size(); ++next_) {
            const ChordSpan& span = timeline_.chords[next_];
            const Position span_end = span.at + span.length;
            if (span.at >= bar_end) break;
            if (span_end <= bar.at) continue;
            const bool rests =
                options_.bars && bar.bar + 1 == options_.bars->second && options_.rests_on == span.inst;
            const Position from = std::max(span.at, bar.at);
            const Position to = std::min(span_end, bar_end);
            if (from > filled) add_rest(end_ + (filled - bar.at), from - filled);
            add_span(span, end_ + (from - bar.at), to - from);
            filled = to;
            if (rests && to < bar_end && next_ + 1 < timeline_.chords.size())
                out_.symbols.push_back({end_ + (to - bar.at), timeline_.chords[next_ + 1].symbol});
            if (rests || span_end > bar_end) break;  // goes on in the next bar
        }
        if (filled < bar_end) add_rest(end_ + (filled - bar.at), bar_end - filled);
        end_ += bar.length;
    }

    void add_last_time() {
        const ScaleSpan* last = nullptr;
        for (const ScaleSpan& span : out_.spans) last = span.notes.empty() ? last : &span;
        if (last == nullptr || last_span_ == nullptr || last_span_->symbol != last->symbol) return;
        const Reading* reading = reading_of(analysis_, last_span_->inst);
        if (reading == nullptr || !leads_home(*reading, analysis_.home)) return;
        GroundBar bar = out_.bars.back();
        bar.length = bar.meter.bar_length();
        bar.at = end_;
        bar.section.reset();
        ++bar.number;
        ScaleSpan home = home_chord(analysis_);
        home.at = end_;
        home.length = bar.length;
        out_.symbols.push_back({end_, home.symbol});
        out_.spans.push_back(std::move(home));
        out_.bars.push_back(std::move(bar));
        out_.has_last_time = true;
        end_ += out_.bars.back().length;
    }

    void add_rest(Position at, Duration length) { out_.spans.push_back({at, length, {}, {}}); }

    void add_span(const ChordSpan& span, Position at, Duration length) {
        const bool starts = last_span_ != &span;
        // A symbol stands once a change, not again where a bar is repeated.
        const bool changes =
            is_restated_ || out_.symbols.empty() || out_.symbols.back().symbol != span.symbol;
        is_restated_ = false;
        if (starts && changes) out_.symbols.push_back({at, span.symbol});
        last_span_ = &span;
        const Reading* reading = span.symbol ? reading_of(analysis_, span.inst) : nullptr;
        if (reading == nullptr) return add_rest(at, length);
        // Bars of one chord are one span, so that the line sees where it ends.
        if (!starts && !out_.spans.empty() && !out_.spans.back().notes.empty()) {
            out_.spans.back().length += length;
            return;
        }
        // Fm7 Fm/Eb stays a change, though both are heard as Fm7.
        const ChordSymbol& heard = reading->scale.chord(*span.symbol);
        const ChordSymbol& symbol = heard.root == span.symbol->root ? *span.symbol : heard;
        out_.spans.push_back({at, length, reading->scale.notes, chord_notes(symbol), reading->guide_tones,
                              reading->scale.avoid, symbol, span.inst});
    }

    const Timeline& timeline_;
    const Analysis& analysis_;
    GroundOptions options_;
    EtudeGround out_;
    Position end_;
    const PlayedBar* before_ = nullptr;
    std::size_t next_ = 0;
    const ChordSpan* last_span_ = nullptr;
    bool is_restated_ = false;  // the next symbol is the first of a chorus
};

// Everything so many times as long, each bar in so many.
EtudeGround stretched(EtudeGround ground, int times) {
    const Rational by{times};
    const auto moved = [&](Position at) { return Position{} + (at - Position{}) * by; };
    const std::vector<GroundBar> bars = std::move(ground.bars);
    ground.bars.clear();
    for (const GroundBar& bar : bars) {
        for (int part = 0; part < times; ++part) {
            ground.bars.push_back(bar);
            ground.bars.back().at = moved(bar.at) + bar.length * Rational{part};
            if (part > 0) ground.bars.back().section.reset();
        }
    }
    for (ScaleSpan& span : ground.spans) {
        span.at = moved(span.at);
        span.length = span.length * by;
    }
    for (GroundSymbol& symbol : ground.symbols) symbol.at = moved(symbol.at);
    ground.length = ground.length * by;
    return ground;
}

}  // namespace

EtudeGround ground_of(const Timeline& timeline, const Analysis& analysis, const GroundOptions& options) {
    EtudeGround out = Collector{timeline, analysis, options}.collect();
    return options.bars_for_one > 1 ? stretched(std::move(out), options.bars_for_one) : out;
}

bool has_chords(const EtudeGround& ground) {
    return std::ranges::any_of(ground.spans, [](const ScaleSpan& span) { return !span.notes.empty(); });
}

const ScaleSpan& span_at(const EtudeGround& ground, Position at) {
    const auto after = std::ranges::upper_bound(ground.spans, at, {}, &ScaleSpan::at);
    return after == ground.spans.begin() ? ground.spans.front() : *(after - 1);
}

}  // namespace shedbook
