#include <algorithm>
#include <cassert>
#include <cstdlib>
#include <utility>

#include "bar_values.h"
#include "drill_section.h"
#include "left_hand.h"
#include "shedbook/book/etude.h"
#include "shedbook/notation/fingering.h"

namespace shedbook {
namespace {

constexpr std::size_t kBarsASystem = 4;
// What more notes and rests take runs over the edge of the page; an accidental counts half a note.
constexpr std::size_t kMostHalfNotesASystem = 96;

// Four bars a line; where they are crowded, two.
void break_into_systems(WrittenMusic& music) {
    for (std::size_t bar = 0; bar < music.measures.size(); bar += kBarsASystem) {
        music.measures[bar].new_system = bar > 0;
        const std::size_t end = std::min(bar + kBarsASystem, music.measures.size());
        std::size_t room = 0;
        for (std::size_t m = bar; m < end; ++m) {
            for (const Event& event : music.events_of(music.measures[m])) {
                const auto* note = std::get_if<Sounded>(&event.what);
                room += note != nullptr && note->shown != Accidental::None ? 3 : 2;
            }
        }
        if (room > kMostHalfNotesASystem && bar + kBarsASystem / 2 < end)
            music.measures[bar + kBarsASystem / 2].new_system = true;
    }
}

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
        out.push_back({bar.length, meter_of_bar(bar.length, bar.meter, out.size() + 1), false});
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

EtudeMaker::EtudeMaker(std::span<const BookPart> parts, EtudeRequest request, Prefer prefer)
    : parts_{parts}, request_{std::move(request)}, prefer_{prefer} {}

ConcertLine EtudeMaker::line_for(const Tune& tune, const EtudeGround& ground, PitchRange range) {
    const int width = range.high.midi() - range.low.midi();
    for (const Composed& known : composed_) {
        const int by = range.low.midi() - known.range.low.midi();
        const bool is_alike = known.range.high.midi() - known.range.low.midi() == width && by % 12 == 0;
        if (known.tune == &tune && is_alike) return transposed(known.line, by / 12 * kOctave);
    }
    EtudeRequest request = request_;
    if (!request.tempo) request.tempo = tune.chart.tempo;
    composed_.push_back({&tune, range, make_etude(ground, request, range)});
    return composed_.back().line;
}

std::optional<WrittenMusic> EtudeMaker::make(const Tune& tune, std::size_t which) {
    const EtudeGround ground =
        ground_of(tune.timeline, tune.analysis, {.bars = request_.bars, .choruses = request_.choruses});
    if (!has_chords(ground)) return std::nullopt;
    NotateOptions notation;
    notation.instrument = parts_[which].instrument;
    notation.key = tune.chart.key.value_or(tune.analysis.home);
    for (const GroundSymbol& symbol : ground.symbols) notation.chords.push_back({symbol.at, symbol.symbol});
    notation.bars = bar_plan(ground);
    notation.meter = notation.bars.front().change.value_or(Meter{});
    notation.prefer = prefer_;
    const PitchRange range = common_window(sounding_ranges(parts_), which);
    const EtudeKind* kind = find_etude_kind(request_.kind);
    assert(kind != nullptr);
    if (!fits(*kind, range)) return std::nullopt;
    const ConcertLine line = line_for(tune, ground, range);
    WrittenMusic music = notate(line, notation);
    add_left_hand(music, line, notation, nullptr);
    music.title = kind->title;
    music.shows_bar_numbers = true;
    music.feel = tune.chart.feel;
    if (tune.chart.tempo)
        music.tempo = TempoMark{*tune.chart.tempo, note_value(notation.meter.beat_length())};
    break_into_systems(music);
    const BookPart& part = parts_[which];
    if (part.fingerings == Fingerings::All) add_fingerings(music, *part.instrument, part.frets);
    return music;
}

std::optional<WrittenMusic> etude_music(const Tune& tune, std::span<const BookPart> parts, std::size_t which,
                                        const EtudeRequest& request, Prefer prefer) {
    return EtudeMaker{parts, request, prefer}.make(tune, which);
}

void assemble_etudes(const std::vector<Tune>& tunes, EtudeMaker& maker, std::size_t which, BlockSink& sink,
                     Diagnostics& diagnostics) {
    const BookPart& part = maker.parts()[which];
    const EtudeKind* kind = find_etude_kind(maker.request().kind);
    std::vector<std::string> titles;
    for (const Tune& tune : tunes) titles.push_back(tune.chart.name());
    DocumentHead head;
    head.title = titles.size() == 1 ? titles.front()
                                    : titles.front() + " and " + std::to_string(titles.size() - 1) + " more";
    if (tunes.size() == 1) head.composer = tunes.front().chart.composer;
    head.instrument = *part.instrument;
    head.range = "Written range " + to_string(part.range.low.on_paper()) + " to " +
                 to_string(part.range.high.on_paper());
    head.is_book = false;
    sink.begin(head);
    for (std::size_t i = 0; i < tunes.size(); ++i) {
        std::optional<WrittenMusic> music = maker.make(tunes[i], which);
        if (!music) {
            diagnostics.warning_at(titles[i], "there is no chord to play on, so no etude");
            continue;
        }
        music->number = std::to_string(i + 1);
        music->remark = level_in_words(maker.request());
        if (tunes.size() > 1) music->title = titles[i] + ": " + music->title;
        if (i > 0) sink.take(PageBreak{});
        sink.take(std::move(*music));
    }
    if (kind != nullptr) sink.take(Text{kind->about});
    sink.finish();
}

}  // namespace shedbook
