#include <algorithm>
#include <cstdlib>
#include <utility>

#include "bar_values.h"
#include "drill_section.h"
#include "shedbook/book/etude.h"

namespace shedbook {
namespace {

constexpr std::size_t kBarsASystem = 4;

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

// Bars of odd length have a meter of their own.
std::vector<NotateOptions::BarPlan> bar_plan(const EtudeGround& ground) {
    std::vector<NotateOptions::BarPlan> out;
    for (const GroundBar& bar : ground.bars) {
        const Meter meter = bar.length == bar.meter.bar_length() ? bar.meter : meter_of_length(bar.length);
        out.push_back({bar.length, meter, false});
    }
    return out;
}

std::string level_in_words(const EtudeRequest& request) {
    std::string out = "level " + std::to_string(request.level) + ", seed " + std::to_string(request.seed);
    if (request.choruses > 1) out += ", " + std::to_string(request.choruses) + " choruses";
    return out;
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

std::optional<WrittenMusic> etude_music(const Tune& tune, std::span<const BookPart> parts, std::size_t which,
                                        const EtudeRequest& request, Prefer prefer) {
    const EtudeGround ground =
        ground_of(tune.timeline, tune.analysis, {.bars = request.bars, .choruses = request.choruses});
    if (!has_chords(ground)) return std::nullopt;
    NotateOptions notation;
    notation.instrument = parts[which].instrument;
    notation.key = tune.chart.key.value_or(tune.analysis.home);
    for (const GroundSymbol& symbol : ground.symbols) notation.chords.push_back({symbol.at, symbol.symbol});
    notation.bars = bar_plan(ground);
    notation.meter = notation.bars.front().change.value_or(Meter{});
    notation.prefer = prefer;
    const PitchRange range = common_window(sounding_ranges(parts), which);
    EtudeRequest in_tempo = request;
    if (!in_tempo.tempo) in_tempo.tempo = tune.chart.tempo;
    WrittenMusic music = notate(make_etude(ground, in_tempo, range), notation);
    const EtudeKind* kind = find_etude_kind(request.kind);
    music.title = kind != nullptr ? kind->title : "";
    music.shows_bar_numbers = true;
    music.feel = tune.chart.feel;
    if (tune.chart.tempo)
        music.tempo = TempoMark{*tune.chart.tempo, note_value(notation.meter.beat_length())};
    for (std::size_t bar = kBarsASystem; bar < music.measures.size(); bar += kBarsASystem) {
        music.measures[bar].new_system = true;
    }
    return music;
}

void assemble_etudes(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                     const EtudeRequest& request, Prefer prefer, BlockSink& sink, Diagnostics& diagnostics) {
    const EtudeKind* kind = find_etude_kind(request.kind);
    std::vector<std::string> titles;
    for (const Tune& tune : tunes)
        titles.push_back(tune.chart.title.empty() ? tune.chart.id : tune.chart.title);
    DocumentHead head;
    head.title = titles.size() == 1 ? titles.front()
                                    : titles.front() + " and " + std::to_string(titles.size() - 1) + " more";
    if (tunes.size() == 1) head.composer = tunes.front().chart.composer;
    head.instrument = *parts[which].instrument;
    head.range = "Written range " + to_string(parts[which].range.low.on_paper()) + " to " +
                 to_string(parts[which].range.high.on_paper());
    head.is_book = false;
    sink.begin(head);
    for (std::size_t i = 0; i < tunes.size(); ++i) {
        std::optional<WrittenMusic> music = etude_music(tunes[i], parts, which, request, prefer);
        if (!music) {
            diagnostics.warning_at(titles[i], "there is no chord to play on, so no etude");
            continue;
        }
        music->number = std::to_string(i + 1);
        music->remark = level_in_words(request);
        if (tunes.size() > 1) music->title = titles[i] + ": " + music->title;
        if (i > 0) sink.take(PageBreak{});
        sink.take(std::move(*music));
    }
    if (kind != nullptr) sink.take(Text{kind->about});
    sink.finish();
}

}  // namespace shedbook
