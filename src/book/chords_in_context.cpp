#include <algorithm>

#include "shedbook/base/text.h"
#include "shedbook/book/book.h"

namespace shedbook {
namespace {

bool is_wanted(const ChordSymbol& symbol, int bar, const BookOptions& options) {
    if (options.only_bars && (bar < options.only_bars->first || bar > options.only_bars->second))
        return false;
    if (options.only_chords.empty()) return true;
    return std::ranges::find(options.only_chords, symbol) != options.only_chords.end();
}

// The same root, kind and scale: a slash bass makes no new section.
bool is_same(const ChordInContext& known, const Reading& reading) {
    ChordSymbol a = known.symbol;
    ChordSymbol b = reading.symbol;
    a.bass.reset();
    b.bass.reset();
    return a == b && known.scale.scale == reading.scale.scale;
}

void add_bar(std::vector<int>& bars, int bar) {
    const auto at = std::ranges::lower_bound(bars, bar);
    if (at == bars.end() || *at != bar) bars.insert(at, bar);
}

}  // namespace

std::vector<ChordInContext> chords_in_context(const Tune& tune, const BookOptions& options) {
    std::vector<ChordInContext> out;
    const auto add = [&](const Reading& reading, int bar, Duration length, std::size_t index,
                         std::optional<std::size_t> later) {
        if (!is_wanted(reading.symbol, bar, options)) return;
        auto at =
            std::ranges::find_if(out, [&](const ChordInContext& known) { return is_same(known, reading); });
        if (at == out.end()) {
            ChordInContext found{reading.symbol, reading.scale, reading.key, reading.numeral, {}, {},
                                 index,          later};
            found.symbol.bass.reset();
            found.scale.why = reading.why;
            out.push_back(std::move(found));
            at = out.end() - 1;
        }
        add_bar(at->bars, bar);
        at->sounding += length;
    };
    std::vector<int> bar_of;
    std::vector<Duration> length_of;
    for (const ChordSpan& span : tune.timeline.chords) {
        const auto inst = static_cast<std::size_t>(span.inst);
        if (bar_of.size() <= inst) {
            bar_of.resize(inst + 1, 0);
            length_of.resize(inst + 1);
        }
        bar_of[inst] = span.bar + 1;
        length_of[inst] += span.length;
    }
    for (std::size_t i = 0; i < tune.analysis.readings.size(); ++i) {
        const Reading& reading = tune.analysis.readings[i];
        const auto inst = static_cast<std::size_t>(reading.inst);
        if (inst >= bar_of.size() || bar_of[inst] == 0) continue;
        add(reading, bar_of[inst], length_of[inst], i, std::nullopt);
        if (i >= tune.analysis.also.size()) continue;
        const std::vector<Reading>& others = tune.analysis.also[i];
        for (std::size_t k = 0; k < others.size(); ++k) add(others[k], bar_of[inst], Duration{}, i, k);
    }
    return out;
}

std::string bars_in_words(const std::vector<int>& bars) {
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < bars.size();) {
        std::size_t j = i;
        while (j + 1 < bars.size() && bars[j + 1] == bars[j] + 1) ++j;
        std::string part = std::to_string(bars[i]);
        if (j > i) part += (j == i + 1 ? ", " : " to ") + std::to_string(bars[j]);
        parts.push_back(std::move(part));
        i = j + 1;
    }
    return (bars.size() == 1 ? "bar " : "bars ") + join(parts, ", ");
}

}  // namespace shedbook
