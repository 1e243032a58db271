#include "drill_section.h"

#include "left_hand.h"

#include <algorithm>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/drill/evaluate.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/memory_page.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// As many notes stay readable on one line at a stand: four bars of eighths and a few more (house rule;
// editors break longer lines by themselves).
constexpr std::size_t kNotesASystem = 36;
// Characters of a title and its remark on one line.
constexpr std::size_t kHeadingRoom = 72;

// Breaks a drill into lines of about as many notes each, and as few lines as that allows.
void break_into_systems(WrittenMusic& music) {
    const std::size_t systems = (music.events.size() + kNotesASystem - 1) / kNotesASystem;
    std::size_t done = 1;
    for (Measure& measure : music.measures) {
        // A line ends where the next bar would lie, by its middle, behind its share of the notes.
        const std::size_t middle = 2 * measure.first_event + measure.event_count;
        if (done >= systems || middle * systems <= 2 * done * music.events.size()) continue;
        measure.new_system = true;
        ++done;
    }
}

std::vector<std::string> degree_labels(const ScaleLadder& ladder) {
    std::vector<std::string> out;
    for (const std::string_view degree : degree_names(*ladder.scale().type))
        out.push_back(with_signs(degree));
    return out;
}

ScaleLadder ladder_for(const SectionTopic& topic) {
    std::optional<PitchClass> home;
    if (topic.key) home = topic.key->tonic;
    return ScaleLadder{topic.scale.scale, topic.symbol, home};
}

// Which of the octaves that the range has room for.
std::string octave_name(int position, int positions) {
    if (positions == 2) return position == 0 ? "low octave" : "high octave";
    if (positions == 3) return position == 0 ? "low octave" : position == 1 ? "middle octave" : "high octave";
    return "octave " + std::to_string(position + 1) + " of " + std::to_string(positions);
}

Scale written_scale(const Scale& scale, Interval to_written) {
    return {scale.tonic + to_written, scale.type};
}

}  // namespace

std::vector<PitchRange> sounding_ranges(std::span<const BookPart> parts) {
    std::vector<PitchRange> out;
    for (const BookPart& part : parts) out.push_back(sounding_range(*part.instrument, part.range));
    return out;
}

DrillSectionMaker::DrillSectionMaker(std::span<const BookPart> parts, std::size_t which,
                                     const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics)
    : parts_{parts},
      which_{which},
      options_{options},
      sink_{sink},
      diagnostics_{diagnostics},
      ranges_{sounding_ranges(parts)} {}

NotateOptions DrillSectionMaker::notation_for(const SectionTopic& topic, const ScaleLadder& ladder,
                                              const DrillTemplate& drill) const {
    NotateOptions notation;
    notation.instrument = parts_[which_].instrument;
    notation.key = topic.key;
    notation.open_key = true;
    notation.scale = ladder.notes();
    notation.prefer = options_.prefer;
    notation.meter = drill.meter;
    if (topic.symbol) notation.chords.push_back({Position{}, topic.symbol});
    return notation;
}

std::vector<WrittenMusic> DrillSectionMaker::music_of(const SectionTopic& topic, const ScaleLadder& ladder,
                                                      const DrillTemplate& shipped, Memory memory) {
    const DrillTemplate drill = in_setting(shipped, options_.setting);
    const std::optional<DrillPlan> plan = plan_drill(drill, ladder, ranges_);
    if (!plan) {
        say_missing(drill, topic, ladder);
        return {};
    }
    int positions = 1;
    if (drill.in_every_octave) {
        // As many for every part, so that numbers agree.
        positions = octave_positions(drill, ladder, *plan, ranges_[0]);
        for (const PitchRange& range : ranges_)
            positions = std::min(positions, octave_positions(drill, ladder, *plan, range));
    }
    const NotateOptions notation = notation_for(topic, ladder, drill);
    std::vector<WrittenMusic> out;
    for (int position = 0; position < positions; ++position) {
        Placement placement;
        if (positions > 1) placement.position = position;
        const ConcertLine line = evaluate(drill, ladder, *plan, ranges_[which_], placement);
        WrittenMusic music = notate(line, notation);
        add_left_hand(music, line, notation, &ladder);
        music.title = drill.title;
        music.remark = plan->remark;
        // A long title and a long remark would run over the page edge: then it says what, and not why.
        if (count_characters(music.title) + count_characters(music.remark) > kHeadingRoom)
            music.remark = music.remark.substr(0, music.remark.find(" to "));
        if (positions > 1) {
            music.remark += (music.remark.empty() ? "" : ", ") + octave_name(position, positions);
        }
        if (drill.meter != options_.usual_meter.value_or(Meter{}) && !music.measures.empty())
            music.measures.front().meter = drill.meter;
        break_into_systems(music);
        if (memory == Memory::None) {
            add_row(music, drill);
            out.push_back(std::move(music));
        } else {
            out.push_back(with_empty_staves(music, memory == Memory::Cell ? 1 : 0));
        }
    }
    return out;
}

void DrillSectionMaker::add_row(WrittenMusic& music, const DrillTemplate& drill) const {
    static constexpr std::string_view kScales = "scales";
    const BookPart& part = parts_[which_];
    const bool is_wanted = part.fingerings == Fingerings::All ||
                           (part.fingerings == Fingerings::Scales && drill.family == kScales);
    if (is_wanted) add_fingerings(music, *part.instrument, part.frets);
}

void DrillSectionMaker::make(const SectionTopic& topic, const SectionWork& work) {
    const ScaleLadder ladder = ladder_for(topic);
    head(topic, ladder,
         written_interval(*parts_[which_].instrument, topic.key, ladder.notes(), options_.prefer));
    sink_.take(work.boxes);
    int count = 0;
    for (const DrillTemplate* drill : work.drills) {
        for (WrittenMusic& music : music_of(topic, ladder, *drill, work.memory)) {
            music.number = std::to_string(topic.number) + "." + std::to_string(++count);
            sink_.take(std::move(music));
        }
    }
}

void DrillSectionMaker::make_round(int number, std::size_t round, std::span<const SectionTopic> topics,
                                   const SectionWork& work) {
    ChordHead head;
    head.number = number;
    head.scale_name = "Round " + std::to_string(round + 1);
    head.reason = "another chord and another drill every time";
    head.is_listed = false;
    sink_.take(std::move(head));
    sink_.take(work.boxes);
    int count = 0;
    for (std::size_t t = 0; t < topics.size(); ++t) {
        const SectionTopic& topic = topics[t];
        const ScaleLadder ladder = ladder_for(topic);
        const DrillTemplate& drill = *work.drills[(round + t) % work.drills.size()];
        const Interval to_written =
            written_interval(*parts_[which_].instrument, topic.key, ladder.notes(), options_.prefer);
        for (WrittenMusic& music : music_of(topic, ladder, drill, work.memory)) {
            // A round has no head that names the scale of each chord.
            const std::string scale = to_string(written_scale(topic.scale.scale, to_written));
            const std::string name =
                topic.symbol ? to_string(written_symbol(*topic.symbol, to_written)) : scale;
            music.title = name + ": " + lower_case(music.title.substr(0, 1)) + music.title.substr(1);
            if (topic.symbol) music.remark = scale + (music.remark.empty() ? "" : ", ") + music.remark;
            if (count_characters(music.title) + count_characters(music.remark) > kHeadingRoom && topic.symbol)
                music.remark = scale;
            if (count_characters(music.title) + count_characters(music.remark) > kHeadingRoom)
                music.remark.clear();
            music.number = std::to_string(number) + "." + std::to_string(++count);
            sink_.take(std::move(music));
        }
    }
}

void DrillSectionMaker::head(const SectionTopic& topic, const ScaleLadder& ladder, Interval to_written) {
    ChordHead head;
    if (topic.symbol) head.symbol = written_symbol(*topic.symbol, to_written);
    head.scale_name = to_string(written_scale(topic.scale.scale, to_written));
    for (const PitchClass note : ladder.notes()) head.notes.push_back(note + to_written);
    head.degrees = degree_labels(ladder);
    // Its neighbours are called there as on the lead sheet: by the key of the tune.
    const Interval by_key = written_interval(*parts_[which_].instrument, topic.key, {}, options_.prefer);
    head.reason = in_words(topic.scale.reason, topic.key ? by_key : to_written);
    head.bars = topic.bars;
    head.number = topic.number;
    head.is_listed = topic.is_listed;
    sink_.take(std::move(head));
}

void DrillSectionMaker::say_missing(const DrillTemplate& drill, const SectionTopic& topic,
                                    const ScaleLadder& ladder) {
    const DrillAdvice advice = advice_on(drill, ladder, ranges_, drill_templates());
    std::string hint;
    if (advice.needs) {
        // In the notes that the player reads.
        const Interval to_written = -to_sounding(parts_[advice.which].instrument->transposition);
        const auto written = [&](Pitch note) {
            return to_string(without_double_accidental(note + to_written));
        };
        hint = "--range " + written(advice.needs->low) + "-" + written(advice.needs->high) + " would hold it";
        if (parts_.size() > 1) hint += " (" + parts_[advice.which].instrument->name + ")";
    }
    if (advice.instead != nullptr)
        hint += (hint.empty() ? "'" : "; '") + advice.instead->id + "' fits as it is";
    const std::string what = topic.symbol ? to_string(*topic.symbol) + ", " : "";
    diagnostics_.note_at(what + to_string(topic.scale.scale),
                         "'" + drill.title + "' is left out: " + advice.why, hint);
}

}  // namespace shedbook
