#include "drill_section.h"

#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/drill/evaluate.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// As many notes stay readable on one line at a stand: four bars of eighths and a few more (house rule;
// editors break longer lines by themselves).
constexpr std::size_t kNotesASystem = 36;

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
    const ScaleType& type = *ladder.scale().type;
    std::vector<std::string> out;
    for (const std::string_view degree : split(type.labels.empty() ? type.degrees : type.labels, ' ')) {
        out.push_back(with_signs(degree));
    }
    return out;
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

void DrillSectionMaker::make(const SectionTopic& topic) {
    const ScaleLadder ladder{topic.scale.scale, topic.symbol};
    NotateOptions notation;
    notation.instrument = parts_[which_].instrument;
    notation.key = topic.key;
    notation.open_key = true;
    notation.scale = ladder.notes();
    notation.prefer = options_.prefer;
    if (topic.symbol) notation.chords.push_back({Position{}, topic.symbol});
    head(topic, ladder, written_interval(*notation.instrument, topic.key, notation.scale, options_.prefer));
    int count = 0;
    for (const DrillTemplate* drill : options_.drills) {
        const std::optional<DrillPlan> plan = plan_drill(*drill, ladder, ranges_);
        if (!plan) {
            say_missing(*drill, topic, ladder);
            continue;
        }
        WrittenMusic music = notate(evaluate(*drill, ladder, *plan, ranges_[which_]), notation);
        music.number = std::to_string(topic.number) + "." + std::to_string(++count);
        music.title = drill->title;
        music.remark = plan->remark;
        break_into_systems(music);
        sink_.take(std::move(music));
    }
}

void DrillSectionMaker::head(const SectionTopic& topic, const ScaleLadder& ladder, Interval to_written) {
    ChordHead head;
    if (topic.symbol) head.symbol = written_symbol(*topic.symbol, to_written);
    head.scale_name = to_string(written_scale(topic.scale.scale, to_written));
    for (const PitchClass note : ladder.notes()) head.notes.push_back(note + to_written);
    head.degrees = degree_labels(ladder);
    head.reason = topic.reason;
    head.bars = topic.bars;
    head.number = topic.number;
    sink_.take(std::move(head));
    sink_.take(TickBoxes{{"at 60", "at 80", "at 100", "from memory"}});
}

void DrillSectionMaker::say_missing(const DrillTemplate& drill, const SectionTopic& topic,
                                    const ScaleLadder& ladder) {
    const std::string where = to_string(topic.scale.scale);
    if (ladder.size() < drill.fewest_notes) {
        diagnostics_.note_at(where, "'" + drill.title + "' is left out: the scale has too few notes for it");
        return;
    }
    diagnostics_.note_at(where, "'" + drill.title + "' is left out: it does not fit the range of every part",
                         "a wider --range may hold it; thirds and triads need the least room");
}

}  // namespace shedbook
