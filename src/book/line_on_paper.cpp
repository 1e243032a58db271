#include "line_on_paper.h"

#include <algorithm>
#include <utility>

#include "bar_values.h"
#include "left_hand.h"
#include "shedbook/drill/speeds.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/line_breaks.h"

namespace shedbook {
namespace {

constexpr int kUsualTempo = 120;  // beats a minute, of a tune that says none
constexpr int kLastLevelWithKeyNames = 2;
constexpr LineRules kEtudeLines{.room = 44 * kNoteWeight, .bars = 4};

// Four bars a line. What more notes and rests take runs over the edge of the page.

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

// The row of fingerings, if there is one.
void add_row(WrittenMusic& music, const BookPart& part, const LineFrame& frame) {
    if (frame.frets.empty()) {
        if (part.fingerings == Fingerings::All) add_fingerings(music, *part.instrument, part.frets);
        return;
    }
    music.fingerings.assign(music.events.size(), {});
    std::size_t next = 0;
    for (std::size_t e = 0; e < music.events.size() && next < frame.frets.size(); ++e) {
        const auto* note = std::get_if<Sounded>(&music.events[e].what);
        if (note == nullptr || note->tied_from_before) continue;
        music.fingerings[e].text = frame.frets[next++];
        music.fingerings[e].is_fret = true;
    }
}

}  // namespace

PitchRange comfortable_range(const BookPart& part, int narrowest) {
    const PitchRange all = sounding_range(*part.instrument, part.range);
    if (!part.instrument->comfortable || !part.keeps_comfortable) return all;
    const PitchRange best = sounding_range(*part.instrument, *part.instrument->comfortable);
    const PitchRange out{std::max(all.low, best.low), std::min(all.high, best.high)};
    return out.high.midi() - out.low.midi() >= narrowest ? out : all;
}

WrittenMusic line_on_paper(const ConcertLine& line, const Tune& tune, const EtudeGround& ground,
                           const BookPart& part, const LineFrame& frame) {
    NotateOptions notation;
    notation.instrument = part.instrument;
    notation.key = key_of(tune);
    for (const GroundSymbol& symbol : ground.symbols) notation.chords.push_back({symbol.at, symbol.symbol});
    notation.bars = bar_plan(ground);
    notation.meter = notation.bars.front().change.value_or(Meter{});
    notation.prefer = frame.prefer;
    const NamesOf names = frame.level <= kLastLevelWithKeyNames ? NamesOf::Key : NamesOf::Scale;
    notation.scales = scales_in_part(ground, *part.instrument, notation.key, frame.prefer, names);
    WrittenMusic music = notate(line, notation);
    if (frame.left != nullptr) {
        add_lower_staff(music, *frame.left, notation);
    } else {
        add_left_hand(music, line, notation, nullptr);
    }
    music.shows_bar_numbers = true;
    music.feel = tune.chart.feel;
    for (std::size_t b = 0; b < ground.bars.size() && b < music.measures.size(); ++b)
        music.measures[b].number = ground.bars[b].number;
    if (tune.chart.tempo)
        music.tempo = TempoMark{*tune.chart.tempo, note_value(notation.meter.beat_length())};
    mark_sections(music, tune, ground);
    add_row(music, part, frame);
    break_lines(music, frame.starts.empty() ? starts_of_lines(music, kEtudeLines) : frame.starts);
    // Again: a string is named where a line begins.
    add_row(music, part, frame);
    return music;
}

TempoBoxes boxes_for(const std::vector<PartLine>& lines, const Tune& tune, const EtudeGround& ground,
                     int level, const EtudeBoxes& boxes) {
    TempoBoxes out;
    out.from_memory = boxes.from_memory;
    const Meter& meter = ground.bars.front().meter;
    const int goal = boxes.goal.value_or(tune.chart.tempo.value_or(kUsualTempo));
    for (const PartLine& part : lines) {
        const Speeds& speeds = speeds_of(part.part->instrument->sound);
        std::vector<int> own =
            box_tempos(part.line, meter, speeds, boxes.speed_level.value_or(level), goal, boxes.per_cent);
        const bool is_slower = out.tempos.empty() || (!own.empty() && own.back() < out.tempos.back());
        if (is_slower) out.tempos = std::move(own);
    }
    return out;
}

void say_whose_tempo(Etude& etude) {
    for (WrittenMusic& music : etude.music) {
        if (music.tempo && !etude.boxes.tempos.empty())
            music.tempo->is_of_tune = etude.boxes.tempos.back() < music.tempo->per_minute;
    }
}

}  // namespace shedbook
