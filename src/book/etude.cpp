#include <algorithm>
#include <cassert>
#include <cstdlib>
#include <utility>

#include "bar_values.h"
#include "drill_section.h"
#include "handling.h"
#include "left_hand.h"
#include "shedbook/book/etude.h"
#include "shedbook/drill/speeds.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/line_breaks.h"

namespace shedbook {
namespace {

// Four bars a line. What more notes and rests take runs over the edge of the page.
constexpr int kUsualTempo = 120;  // beats a minute, of a tune that says none
constexpr int kLastLevelWithKeyNames = 3;
constexpr LineRules kEtudeLines{.room = 52 * kNoteWeight, .bars = 4};

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

// The scales of the chords under the names that they have in this part.
std::vector<PlacedScale> scales_in_part(const EtudeGround& ground, const Instrument& instrument,
                                        const std::optional<Key>& key, Prefer prefer, NamesOf names) {
    const Interval by = written_interval(instrument, key, {}, prefer);
    std::optional<Key> written_key;
    if (key) written_key = Key{key->tonic + by, key->mode};
    std::vector<PlacedScale> out;
    for (const ScaleSpan& span : ground.spans) {
        if (!span.notes.empty())
            out.push_back(scale_in_part(span.at, span.notes, span.symbol, by, written_key, names));
    }
    return out;
}

// The part of the range that reads and speaks well, if that is enough for the kind.
PitchRange comfortable_range(const BookPart& part, const EtudeKind& kind) {
    const PitchRange all = sounding_range(*part.instrument, part.range);
    if (!part.instrument->comfortable || !part.keeps_comfortable) return all;
    const PitchRange best = sounding_range(*part.instrument, *part.instrument->comfortable);
    const PitchRange out{std::max(all.low, best.low), std::min(all.high, best.high)};
    return out.low < out.high && fits(kind, out) ? out : all;
}

// Bars of odd length have a meter of their own.
std::vector<NotateOptions::BarPlan> bar_plan(const EtudeGround& ground) {
    std::vector<NotateOptions::BarPlan> out;
    for (const GroundBar& bar : ground.bars) {
        const auto number = static_cast<std::size_t>(bar.number);
        out.push_back({bar.length, meter_of_bar(bar.length, bar.meter, number), false});
    }
    return out;
}

// Names and double bars where the sections of the tune and its last time begin.
void mark_sections(WrittenMusic& music, const Tune& tune, const EtudeGround& ground) {
    for (std::size_t b = 0; b < ground.bars.size() && b < music.measures.size(); ++b) {
        const std::optional<int> section = ground.bars[b].section;
        const bool is_last_time = ground.has_last_time && b + 1 == ground.bars.size();
        if (!section && !is_last_time) continue;
        if (b > 0) music.measures[b - 1].right = Barline::Double;
        const std::string label =
            is_last_time ? "last time" : tune.chart.sections[static_cast<std::size_t>(*section)].label;
        if (!label.empty()) music.measures[b].signs_before.push_back({std::nullopt, label});
    }
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
    : parts_{parts}, request_{std::move(request)}, kind_{find_etude_kind(request_.kind)}, prefer_{prefer} {
    assert(kind_ != nullptr);
}

bool EtudeMaker::fits_part(std::size_t which) const {
    return fits(*kind_, window_of(which));
}

PitchRange EtudeMaker::window_of(std::size_t which) const {
    std::vector<PitchRange> ranges;
    for (const BookPart& part : parts_) ranges.push_back(comfortable_range(part, *kind_));
    return common_window(ranges, which);
}

ConcertLine EtudeMaker::line_for(const Tune& tune, const EtudeGround& ground, PitchRange range) {
    const int width = range.high.midi() - range.low.midi();
    for (const Composed& known : composed_) {
        const int by = range.low.midi() - known.range.low.midi();
        const bool is_alike = known.range.high.midi() - known.range.low.midi() == width && by % 12 == 0;
        if (known.tune == &tune && is_alike) return transposed(known.line, by / 12 * kOctave);
    }
    EtudeRequest request = request_;
    if (!request.tempo) request.tempo = tune.chart.tempo;
    if (!request.style) request.style = style_of(tune.chart.feel, ground);
    // Parts that play together have no hand in common, but they breathe together.
    if (parts_.size() == 1) request.handling = handling_of(*parts_.front().instrument, request.level);
    request.handling.breathes = std::ranges::any_of(
        parts_, [&](const BookPart& part) { return handling_of(*part.instrument, request.level).breathes; });
    composed_.push_back({&tune, range, make_etude(ground, request, range)});
    return composed_.back().line;
}

WrittenMusic EtudeMaker::music_of(const Tune& tune, const EtudeGround& ground, std::size_t which) {
    const BookPart& part = parts_[which];
    NotateOptions notation;
    notation.instrument = part.instrument;
    notation.key = key_of(tune);
    for (const GroundSymbol& symbol : ground.symbols) notation.chords.push_back({symbol.at, symbol.symbol});
    notation.bars = bar_plan(ground);
    notation.meter = notation.bars.front().change.value_or(Meter{});
    notation.prefer = prefer_;
    notation.ties_under_pushes = false;  // the line keeps its rhythm
    const NamesOf names = request_.level <= kLastLevelWithKeyNames ? NamesOf::Key : NamesOf::Scale;
    notation.scales = scales_in_part(ground, *part.instrument, notation.key, prefer_, names);
    const ConcertLine line = line_for(tune, ground, window_of(which));
    WrittenMusic music = notate(line, notation);
    add_left_hand(music, line, notation, nullptr);
    music.shows_bar_numbers = true;
    music.feel = tune.chart.feel;
    for (std::size_t b = 0; b < ground.bars.size() && b < music.measures.size(); ++b)
        music.measures[b].number = ground.bars[b].number;
    if (tune.chart.tempo)
        music.tempo = TempoMark{*tune.chart.tempo, note_value(notation.meter.beat_length())};
    mark_sections(music, tune, ground);
    if (part.fingerings == Fingerings::All) add_fingerings(music, *part.instrument, part.frets);
    break_lines(music, starts_of_lines(music, kEtudeLines));
    // Again: a string is named where a line begins.
    if (part.fingerings == Fingerings::All) add_fingerings(music, *part.instrument, part.frets);
    return music;
}

// For the part that it is hardest for: all play together.
TempoBoxes EtudeMaker::boxes_of(const Tune& tune, const EtudeGround& ground,
                                const std::vector<std::size_t>& which, const EtudeBoxes& boxes) {
    TempoBoxes out;
    out.from_memory = boxes.from_memory;
    const Meter& meter = ground.bars.front().meter;
    const int goal = boxes.goal.value_or(tune.chart.tempo.value_or(kUsualTempo));
    for (const std::size_t part : which) {
        const Speeds& speeds = speeds_of(parts_[part].instrument->sound);
        std::vector<int> own = box_tempos(line_for(tune, ground, window_of(part)), meter, speeds,
                                          request_.level, goal, boxes.per_cent);
        const bool is_slower = out.tempos.empty() || (!own.empty() && own.back() < out.tempos.back());
        if (is_slower) out.tempos = std::move(own);
    }
    return out;
}

std::optional<Etude> EtudeMaker::make(const Tune& tune, const std::vector<std::size_t>& which,
                                      const EtudeBoxes& boxes) {
    const EtudeGround ground =
        ground_of(tune.timeline, tune.analysis,
                  {.bars = request_.bars, .choruses = request_.choruses, .once = request_.once});
    if (!has_chords(ground)) return std::nullopt;
    Etude out;
    for (const std::size_t part : which) {
        if (!fits_part(part)) return std::nullopt;
        out.music.push_back(music_of(tune, ground, part));
    }
    out.boxes = boxes_of(tune, ground, which, boxes);
    for (WrittenMusic& music : out.music) {
        if (music.tempo && !out.boxes.tempos.empty())
            music.tempo->is_of_tune = out.boxes.tempos.back() < music.tempo->per_minute;
    }
    out.id = kind_->id;
    out.title = kind_->title;
    out.tune = name_of(tune.chart);
    return out;
}

void assemble_etudes(const std::vector<Tune>& tunes, EtudeMaker& maker, std::size_t which, BlockSink& sink,
                     Diagnostics& diagnostics) {
    const bool is_one = tunes.size() == 1;
    const std::string title = name_of(tunes.front().chart).title;
    sink.begin({is_one ? title : title + " and " + std::to_string(tunes.size() - 1) + " more",
                is_one ? tunes.front().chart.composer : "",
                {*maker.parts()[which].instrument},
                ""});
    for (std::size_t i = 0; i < tunes.size(); ++i) {
        std::optional<Etude> etude = maker.make(tunes[i], {which});
        if (!etude) {
            diagnostics.warning_at(name_of(tunes[i].chart).title,
                                   "there is no chord to play on, so no etude");
            continue;
        }
        const EtudeRequest& request = maker.request();
        if (!is_one) etude->number = {static_cast<int>(i) + 1, 0};
        etude->composer = tunes[i].chart.composer;
        etude->made = Etude::Made{request.level, request.seed, request.choruses};
        sink.take(*std::move(etude));
    }
    sink.finish();
}

}  // namespace shedbook
