#include <algorithm>

#include "shedbook/book/book.h"

namespace shedbook {
namespace {

// Where a written symbol sounds: its bars (written, from 1, rising), and for how long in all.
struct Presence {
    std::vector<int> bars;
    Duration sounding;
};

// Bars in which a scale is chosen for one reason.
struct BarsOfReason {
    Reason reason;
    std::vector<int> bars;
};

// Whatever chord comes next.
bool is_alike(const Reason& a, const Reason& b) {
    return a.words == b.words && a.brings == b.brings && a.key == b.key;
}

void add_bar(std::vector<int>& bars, int bar) {
    const auto at = std::ranges::lower_bound(bars, bar);
    if (at == bars.end() || *at != bar) bars.insert(at, bar);
}

std::vector<Presence> presence_of_symbols(const Timeline& timeline) {
    std::vector<Presence> out;
    for (const ChordSpan& span : timeline.chords) {
        const auto inst = static_cast<std::size_t>(span.inst);
        if (out.size() <= inst) out.resize(inst + 1);
        out[inst].sounding += span.length;
        const Position end = span.at + span.length;
        for (auto b = static_cast<std::size_t>(span.played_bar); b < timeline.bars.size(); ++b) {
            if (timeline.bars[b].at >= end) break;
            add_bar(out[inst].bars, timeline.bars[b].bar + 1);
        }
    }
    return out;
}

bool is_wanted(const ChordSymbol& symbol, const std::vector<int>& bars, const BookOptions& options) {
    const auto inside = [&](int bar) {
        return !options.only_bars || (bar >= options.only_bars->first && bar <= options.only_bars->second);
    };
    if (!std::ranges::any_of(bars, inside)) return false;
    if (options.only_chords.empty()) return true;
    return std::ranges::find(options.only_chords, symbol) != options.only_chords.end();
}

// An inversion is practised as its chord; a bass that is no tone of it makes another chord (C/D, C/Bb).
ChordSymbol without_inversion(ChordSymbol symbol) {
    if (!symbol.bass) return symbol;
    const int over_root = (symbol.bass->semitone() - symbol.root.semitone() + 12) % 12;
    if (has_tone(symbol, over_root)) symbol.bass.reset();
    return symbol;
}

// The same root, kind and scale.
bool is_same(const ChordInContext& known, const Reading& reading) {
    return known.symbol == without_inversion(reading.symbol) && known.scale.scale == reading.scale.scale;
}

}  // namespace

std::vector<ChordInContext> chords_in_context(const Tune& tune, const BookOptions& options) {
    std::vector<ChordInContext> out;
    std::vector<std::vector<BarsOfReason>> reasons;  // of each
    const std::vector<Presence> presence = presence_of_symbols(tune.timeline);
    const auto add = [&](const Reading& reading, bool is_later) {
        const Presence& where = presence[static_cast<std::size_t>(reading.inst)];
        if (!is_wanted(reading.symbol, where.bars, options)) return;
        auto at =
            std::ranges::find_if(out, [&](const ChordInContext& known) { return is_same(known, reading); });
        if (at == out.end()) {
            ChordInContext found{
                without_inversion(reading.symbol), reading.scale, reading.key, reading.numeral, {}, {}, {}};
            out.push_back(std::move(found));
            reasons.emplace_back();
            at = out.end() - 1;
        }
        std::vector<BarsOfReason>& known = reasons[static_cast<std::size_t>(at - out.begin())];
        auto reason = std::ranges::find_if(
            known, [&](const BarsOfReason& each) { return is_alike(each.reason, reading.scale.reason); });
        if (reason == known.end()) reason = known.insert(known.end(), {reading.scale.reason, {}});
        for (const int bar : where.bars) {
            add_bar(at->bars, bar);
            add_bar(reason->bars, bar);
        }
        // The time of a symbol read in two ways counts for its first reading.
        if (!is_later) at->sounding += where.sounding;
    };
    for (std::size_t i = 0; i < tune.analysis.readings.size(); ++i) {
        const Reading& reading = tune.analysis.readings[i];
        if (static_cast<std::size_t>(reading.inst) >= presence.size()) continue;
        add(reading, false);
        if (i >= tune.analysis.also.size()) continue;
        for (const Reading& other : tune.analysis.also[i]) add(other, true);
    }
    // The one that holds for the most bars speaks for all.
    for (std::size_t i = 0; i < out.size(); ++i) {
        BarsOfReason& most = *std::ranges::max_element(
            reasons[i], {}, [](const BarsOfReason& each) { return each.bars.size(); });
        out[i].scale.reason = std::move(most.reason);
        out[i].bars_of_reason = std::move(most.bars);
    }
    return out;
}

}  // namespace shedbook
