#include "drill_section.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "left_hand.h"
#include "shedbook/base/text.h"
#include "shedbook/drill/speeds.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/line_breaks.h"
#include "shedbook/notation/memory_page.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// As many notes stay readable on one line at a stand: four bars of eighths and a few more (house rule;
// editors break longer lines by themselves).
constexpr LineRules kDrillLines{};

std::vector<std::string> degree_labels(const ScaleLadder& ladder) {
    std::vector<std::string> out;
    for (const std::string_view degree : degree_names(*ladder.scale().type))
        out.push_back(with_signs(degree));
    return out;
}

ScaleLadder ladder_for(const SectionTopic& topic) {
    std::optional<PitchClass> home;
    if (topic.key) home = topic.key->tonic;
    std::optional<ChordSymbol> chord;
    if (topic.symbol) chord = topic.scale.chord(*topic.symbol);
    return ScaleLadder{topic.scale.scale, chord, home};
}

Topic topic_of(const SectionTopic& topic) {
    return {topic.symbol, topic.scale.scale};
}

// The scale of a chord of a tune, under the names that the tune's chart has in this part; nothing for a scale
// by itself, or a chord without a tune.
std::optional<PlacedScale> scale_of_chart(const SectionTopic& topic, const std::vector<PitchClass>& notes,
                                          const Instrument& instrument, Prefer prefer) {
    if (!topic.symbol || !topic.key) return std::nullopt;
    const Interval by = written_interval(instrument, topic.key, {}, prefer);
    return scale_in_part({}, notes, topic.symbol, by, Key{topic.key->tonic + by, topic.key->mode});
}

// The key, major or a mode of it, that has just these notes and a signature of seven accidentals at most.
std::optional<Key> key_of_notes(const std::vector<PitchClass>& notes) {
    constexpr std::size_t kNotes = 7;
    if (notes.size() != kNotes) return std::nullopt;
    for (const Mode mode : {Mode::Major, Mode::Dorian, Mode::Phrygian, Mode::Lydian, Mode::Mixolydian,
                            Mode::Aeolian, Mode::Locrian}) {
        const Key key{notes.front(), mode};
        if (within_signatures(key) == key &&
            std::ranges::all_of(notes, [&](PitchClass note) { return is_in_signature(key, note); }))
            return key;
    }
    return std::nullopt;
}

NotateOptions notation_for(const BookPart& part, const SectionTopic& topic, const ScaleLadder& ladder,
                           const DrillTemplate& drill, const BookOptions& options) {
    const Prefer prefer = options.prefer;
    NotateOptions notation;
    notation.instrument = part.instrument;
    notation.key = topic.key;
    const Signatures signatures =
        options.signatures.value_or(options.by == BookBy::Unit ? Signatures::Tune : Signatures::None);
    notation.open_key = signatures != Signatures::Tune;
    if (signatures == Signatures::Scale) notation.signature = key_of_notes(ladder.notes());
    if (const auto scale = scale_of_chart(topic, ladder.notes(), *part.instrument, prefer)) {
        notation.scales = {*scale};
    } else {
        notation.scale = ladder.notes();
    }
    notation.prefer = prefer;
    notation.meter = drill.meter;
    if (topic.symbol) notation.chords.push_back({Position{}, topic.symbol});
    return notation;
}

bool wants_fingerings(const BookPart& part, const DrillTemplate& drill) {
    static constexpr std::string_view kScales = "scales";
    return part.fingerings == Fingerings::All ||
           (part.fingerings == Fingerings::Scales && drill.family == kScales);
}

// Whether its reason is the one in all its bars.
bool holds_everywhere(const SectionTopic& topic) {
    return topic.bars_of_reason.empty() || topic.bars_of_reason == topic.bars;
}

std::string words_of_reason(const SectionTopic& topic, const Instrument& instrument, Prefer prefer) {
    // Its neighbours are called there as on the lead sheet: by the key of the tune.
    const std::vector<PitchClass> scale = topic.key ? std::vector<PitchClass>{} : ladder_for(topic).notes();
    const Interval by = written_interval(instrument, topic.key, scale, prefer);
    std::optional<Key> key;
    if (topic.key) key = Key{topic.key->tonic + by, topic.key->mode};
    return in_words(topic.scale.reason, by, key);
}

}  // namespace

std::vector<PitchRange> sounding_ranges(std::span<const BookPart> parts) {
    std::vector<PitchRange> out;
    for (const BookPart& part : parts) out.push_back(sounding_range(*part.instrument, part.range));
    return out;
}

TopicInPart in_part(const SectionTopic& topic, const Instrument& instrument, Prefer prefer) {
    const ScaleLadder ladder = ladder_for(topic);
    TopicInPart out;
    if (const auto scale = scale_of_chart(topic, ladder.notes(), instrument, prefer)) {
        const Interval by = written_interval(instrument, topic.key, {}, prefer);
        out.symbol = written_symbol(*topic.symbol, by, Key{topic.key->tonic + by, topic.key->mode});
        out.notes.assign(scale->written.begin(),
                         scale->written.begin() + static_cast<std::ptrdiff_t>(ladder.notes().size()));
        out.scale = {out.notes.front(), topic.scale.scale.type};
        return out;
    }
    const Interval by = written_interval(instrument, topic.key, ladder.notes(), prefer);
    if (topic.symbol) out.symbol = written_symbol(*topic.symbol, by);
    out.scale = {topic.scale.scale.tonic + by, topic.scale.scale.type};
    for (const PitchClass note : ladder.notes()) out.notes.push_back(note + by);
    return out;
}

std::string reason_in_table(const SectionTopic& topic, const Instrument& instrument, Prefer prefer) {
    std::string out = words_of_reason(topic, instrument, prefer);
    if (out.empty() || holds_everywhere(topic)) return out;
    const bool is_usual = 2 * topic.bars_of_reason.size() > topic.bars.size();
    return is_usual ? "mostly " + out : bars_in_words(topic.bars_of_reason) + " \u2013 " + out;
}

std::string reason_in_part(const SectionTopic& topic, const Instrument& instrument, Prefer prefer) {
    std::string out = words_of_reason(topic, instrument, prefer);
    if (out.empty() || holds_everywhere(topic)) return out;
    std::vector<int> others;
    std::ranges::set_difference(topic.bars, topic.bars_of_reason, std::back_inserter(others));
    out += " (" + bars_in_words(topic.bars_of_reason) + "); the same scale in " + bars_in_words(others);
    return out;
}

DrillSectionMaker::DrillSectionMaker(Ensemble ensemble, const BookOptions& options, BlockSink& sink,
                                     Diagnostics& diagnostics)
    : ensemble_{std::move(ensemble)},
      options_{options},
      sink_{sink},
      diagnostics_{diagnostics},
      ranges_{sounding_ranges(ensemble_.parts)} {}

int DrillSectionMaker::octaves_for_all(const DrillTemplate& drill, const ScaleLadder& ladder,
                                       const DrillPlan& plan) const {
    if (!drill.in_every_octave) return 1;
    int out = octave_positions(drill, ladder, plan, ranges_[0]);
    for (const PitchRange& range : ranges_) out = std::min(out, octave_positions(drill, ladder, plan, range));
    return out;
}

WrittenMusic DrillSectionMaker::music_of(const BookPart& part, const SectionTopic& topic,
                                         const ScaleLadder& ladder, const DrillTemplate& drill,
                                         const ConcertLine& line, Memory memory) const {
    const NotateOptions notation = notation_for(part, topic, ladder, drill, options_);
    WrittenMusic music = notate(line, notation);
    add_left_hand(music, line, notation, &ladder);
    if (drill.meter != options_.usual_meter.value_or(Meter{}) && !music.measures.empty())
        music.measures.front().meter = drill.meter;
    const bool has_fingerings = memory == Memory::None && wants_fingerings(part, drill);
    if (has_fingerings) add_fingerings(music, *part.instrument, part.frets);
    break_lines(music, starts_of_lines(music, kDrillLines));
    if (memory == Memory::Cell) return with_empty_staves(music, 1);
    if (memory == Memory::Symbol) {
        // There is nothing to write: a line tells how many bars it is.
        for (Measure& measure : music.measures) measure.new_system = false;
        return with_empty_staves(music, 0);
    }
    // Again: a string is named where a line begins.
    if (has_fingerings) add_fingerings(music, *part.instrument, part.frets);
    return music;
}

// The boxes of a drill are those of the part that it is hardest for: all play together.
void DrillSectionMaker::slow_down(TempoBoxes& boxes, const ConcertLine& line, const DrillTemplate& drill,
                                  const Instrument& instrument, const SectionWork& work) const {
    std::vector<int> own =
        box_tempos(line, drill.meter, speeds_of(instrument.sound),
                   options_.speed_level.value_or(options_.etude.level), options_.goal_tempo, work.per_cent);
    const bool is_slower = boxes.tempos.empty() || (!own.empty() && own.back() < boxes.tempos.back());
    if (is_slower) boxes.tempos = std::move(own);
    boxes.from_memory = work.boxes.from_memory;
}

std::vector<Drill> DrillSectionMaker::drills_of(const SectionTopic& topic, const DrillTemplate& shipped,
                                                const SectionWork& work) {
    const ScaleLadder ladder = ladder_for(topic);
    DrillSetting setting = options_.setting;
    setting.keeps_start = std::ranges::any_of(
        ensemble_.parts, [](const BookPart& part) { return speeds_of(part.instrument->sound).is_bass; });
    const DrillTemplate drill = in_setting(shipped, setting);
    const std::optional<DrillPlan> plan = plan_drill(drill, ladder, ranges_);
    if (!plan) {
        say_missing(drill, topic, ladder);
        return {};
    }
    const int positions = octaves_for_all(drill, ladder, *plan);
    std::vector<Drill> out;
    for (int position = 0; position < positions; ++position) {
        const std::optional<int> octave = positions > 1 ? std::optional{position} : std::nullopt;
        Drill block;
        block.id = drill.id;
        block.title = drill.title;
        block.topic = topic_of(topic);
        block.remark.what = plan->remark;
        block.remark.why = plan->why;
        if (positions > 1) block.remark.octave = DrillRemark::Octave{position, positions};
        for (const std::size_t which : ensemble_.written) {
            const ConcertLine line = evaluate(drill, ladder, *plan, ranges_[which], octave);
            slow_down(block.boxes, line, drill, *ensemble_.parts[which].instrument, work);
            block.music.push_back(music_of(ensemble_.parts[which], topic, ladder, drill, line, work.memory));
        }
        out.push_back(std::move(block));
    }
    return out;
}

std::vector<Drill> DrillSectionMaker::drills_of(const SectionTopic& topic, const SectionWork& work) {
    std::vector<Drill> out;
    for (const DrillTemplate* drill : work.drills) {
        for (Drill& block : drills_of(topic, *drill, work)) {
            block.number = {topic.number, static_cast<int>(out.size()) + 1};
            out.push_back(std::move(block));
        }
    }
    return out;
}

SectionStart DrillSectionMaker::start_of(const SectionTopic& topic, Memory memory) const {
    TopicHead head;
    head.is_from_memory = memory != Memory::None;
    head.topic = topic_of(topic);
    for (const std::size_t which : ensemble_.written)
        head.parts.push_back(in_part(topic, *ensemble_.parts[which].instrument, options_.prefer));
    head.degrees = degree_labels(ladder_for(topic));
    head.reason = reason_in_part(topic, *first_part().instrument, options_.prefer);
    head.reason_tells_bars = !head.reason.empty() && !holds_everywhere(topic);
    head.bars = topic.bars;
    return {topic.number, std::move(head)};
}

void DrillSectionMaker::make(const SectionTopic& topic, const SectionWork& work) {
    sink_.take(start_of(topic, work.memory));
    int count = 0;
    for (const DrillTemplate* drill : work.drills) {
        for (Drill& block : drills_of(topic, *drill, work)) {
            block.number = {topic.number, ++count};
            sink_.take(std::move(block));
        }
    }
    sink_.take(SectionEnd{});
}

void DrillSectionMaker::make_round(int number, int round, std::span<const SectionTopic> topics,
                                   const SectionWork& work) {
    sink_.take(SectionStart{number, RoundHead{round}});
    int count = 0;
    for (std::size_t t = 0; t < topics.size(); ++t) {
        const std::size_t drill = (static_cast<std::size_t>(round) - 1 + t) % work.drills.size();
        for (Drill& block : drills_of(topics[t], *work.drills[drill], work)) {
            block.named = in_part(topics[t], *first_part().instrument, options_.prefer);
            block.number = {number, ++count};
            sink_.take(std::move(block));
        }
    }
    sink_.take(SectionEnd{});
}

void DrillSectionMaker::say_missing(const DrillTemplate& drill, const SectionTopic& topic,
                                    const ScaleLadder& ladder) {
    const DrillAdvice advice = advice_on(drill, ladder, ranges_, drill_templates());
    std::string hint;
    if (advice.needs) {
        // In the notes that the player reads.
        const Instrument& instrument = *ensemble_.parts[advice.which].instrument;
        const Interval to_written = -to_sounding(instrument.transposition);
        const auto written = [&](Pitch note) {
            return to_string(without_double_accidental(note + to_written));
        };
        hint = "--range " + written(advice.needs->low) + "-" + written(advice.needs->high) + " would hold it";
        if (ensemble_.parts.size() > 1) hint += " (" + instrument.name + ")";
    }
    if (advice.instead != nullptr)
        hint += (hint.empty() ? "'" : "; '") + advice.instead->id + "' fits as it is";
    diagnostics_.note_at(name_with_scale(topic_of(topic)), "'" + drill.title + "' is left out: " + advice.why,
                         hint);
}

}  // namespace shedbook
