#include "ending.h"

#include <algorithm>

#include "dealt.h"
#include "figures.h"

namespace shedbook {
namespace {

// The bar that an ending begins, and the part of it that a figure is for; nothing if it begins inside one.
std::optional<BarPart> bar_of(const RhythmSection& band) {
    const Position at = band.ending->at;
    const auto after = std::ranges::upper_bound(band.bars, at, {}, &BandBar::at);
    if (after == band.bars.begin()) return std::nullopt;
    const BandBar& bar = *(after - 1);
    if (at != bar.at && at != bar.at + bar.length) return std::nullopt;
    const std::vector<BarPart> parts = parts_of(bar.meter);
    const bool fits = parts.size() == 1 && parts[0].length <= band.ending->length;
    return fits ? std::optional{parts[0]} : std::nullopt;
}

}  // namespace

std::vector<EndingStroke> ending_strokes(const RhythmSection& band) {
    if (!band.ending) return {};
    const BandEnding& ending = *band.ending;
    const std::optional<BarPart> bar = bar_of(band);
    static const std::vector<BandFigure> kNone;
    const std::vector<BandFigure>& figures = bar ? ending_figures(band.style, *bar) : kNone;
    if (figures.empty()) return {{ending.at, ending.length}};
    std::vector<std::pair<std::size_t, int>> kinds;
    for (std::size_t i = 0; i < figures.size(); ++i) kinds.emplace_back(i, figures[i].share);
    Chance chance{band.seed * 22695477U + 3U};
    std::vector<EndingStroke> out;
    for (const Stroke& stroke : figures[Pack<std::size_t>{std::move(kinds), chance}.deal()].strokes)
        out.push_back({ending.at + stroke.at, stroke.length});
    out.back().length = ending.at + ending.length - out.back().at;
    return out;
}

}  // namespace shedbook
