#include "tune_chapter.h"

#include <algorithm>
#include <utility>

#include "shedbook/book/etude.h"
#include "shedbook/book/lead_sheet.h"
#include "topics.h"

namespace shedbook {
namespace {

// The etude keeps to the bars of the book unless it names its own.
EtudeRequest request_of(const std::string& kind, const BookOptions& options) {
    EtudeRequest out = options.etude;
    out.kind = kind;
    if (!out.bars) out.bars = options.only_bars;
    return out;
}

bool is_mixed(const PlannedSitting& sitting) {
    return sitting.sitting->order == Order::Mixed;
}

void write_rounds(const PlannedSitting& sitting, const SectionWork& work, DrillSectionMaker& sections) {
    for (int round = 1; round <= static_cast<int>(work.drills.size()); ++round)
        sections.make_round(sitting.first_round + round - 1, round, sitting.topics, work);
}

}  // namespace

Changes changes_of(const Tune& tune, const Ensemble& ensemble, Prefer prefer) {
    Changes out{name_of(tune.chart), {}};
    Chart chart = tune.chart;
    chart.key = key_of(tune);
    for (const std::size_t which : ensemble.written)
        out.music.push_back(rhythm_part(chart, *ensemble.parts[which].instrument, prefer));
    return out;
}

void say_missing(const EtudeKind& kind, const Tune& tune, Diagnostics& diagnostics) {
    diagnostics.note_at(name_of(tune.chart).title, "'" + kind.title + "' is left out: it needs " +
                                                       std::to_string(kind.narrowest) +
                                                       " half steps of range");
}

TuneChapter::TuneChapter(const Tune& tune, Ensemble ensemble, const BookPlan& plan,
                         const BookOptions& options, Diagnostics& diagnostics)
    : tune_{&tune},
      ensemble_{std::move(ensemble)},
      plan_{&plan},
      options_{&options},
      diagnostics_{&diagnostics} {
    sittings_ = plan_sittings(plan, topics_of(tune, options, diagnostics), options);
}

PlanTable TuneChapter::table() const {
    const BookPart& part = ensemble_.parts[ensemble_.written.front()];
    return table_of(*plan_, sittings_, *part.instrument, options_->prefer);
}

std::optional<Etude> TuneChapter::etude_of(const std::string& kind, const PlannedSitting& sitting) const {
    EtudeMaker maker{ensemble_.parts, request_of(kind, *options_), {.prefer = options_->prefer}};
    std::optional<Etude> out =
        maker.make(*tune_, ensemble_.written,
                   {sitting.work.per_cent, options_->goal_tempo, sitting.work.boxes.from_memory});
    if (out) return out;
    const EtudeKind& asked = *find_etude_kind(kind);
    if (!maker.fits_part(ensemble_.written.front())) say_missing(asked, *tune_, *diagnostics_);
    return std::nullopt;
}

void TuneChapter::number_sections(int& number) {
    std::vector<SectionTopic> known;
    for (PlannedSitting& sitting : sittings_) {
        etudes_.emplace_back();
        if (!sitting.topics.empty() && is_mixed(sitting)) {
            sitting.first_round = number + 1;
            number += static_cast<int>(sitting.work.drills.size());
        } else {
            for (SectionTopic& topic : sitting.topics) {
                topic.number = ++number;
                topic.is_listed =
                    topic.is_listed && std::ranges::none_of(known, [&](const SectionTopic& other) {
                        return other.symbol == topic.symbol && other.scale.scale == topic.scale.scale;
                    });
                if (topic.is_listed) known.push_back(topic);
            }
        }
        for (const std::string& kind : sitting.sitting->etudes) {
            std::optional<Etude> etude = etude_of(kind, sitting);
            if (!etude) continue;
            etude->number = {++number, 0};
            etudes_.back().push_back(*std::move(etude));
        }
    }
}

ScaleTable TuneChapter::scale_table() const {
    const Instrument& instrument = *ensemble_.parts[ensemble_.written.front()].instrument;
    ScaleTable out;
    for (const PlannedSitting& sitting : sittings_) {
        if (is_mixed(sitting)) continue;
        for (const SectionTopic& topic : sitting.topics) {
            if (!topic.is_listed) continue;
            out.rows.push_back({topic.number, in_part(topic, instrument, options_->prefer),
                                reason_in_table(topic, instrument, options_->prefer), topic.bars});
        }
    }
    return out;
}

void TuneChapter::write(DrillSectionMaker& sections, BlockSink& sink, int& number) {
    number_sections(number);
    sink.take(changes_of(*tune_, ensemble_, options_->prefer));
    sink.take(scale_table());
    for (std::size_t i = 0; i < sittings_.size(); ++i) {
        if (options_->plan != nullptr) sink.take(sittings_[i].start);
        write_sections(sittings_[i], sections);
        for (Etude& etude : etudes_[i]) sink.take(std::move(etude));
        if (options_->plan != nullptr) sink.take(SittingEnd{});
    }
    write_answers(sections, sink);
}

void TuneChapter::write_sections(const PlannedSitting& sitting, DrillSectionMaker& sections) const {
    if (sitting.topics.empty()) return;
    if (is_mixed(sitting)) return write_rounds(sitting, sitting.work, sections);
    for (const SectionTopic& topic : sitting.topics) sections.make(topic, sitting.work);
}

// The whole drills of the memory pages, under the same numbers.
void TuneChapter::write_answers(DrillSectionMaker& sections, BlockSink& sink) const {
    const auto is_from_memory = [](const PlannedSitting& sitting) {
        return sitting.work.memory != Memory::None && !sitting.topics.empty();
    };
    if (std::ranges::none_of(sittings_, is_from_memory)) return;
    sink.take(AnswersStart{});
    for (const PlannedSitting& sitting : sittings_) {
        if (!is_from_memory(sitting)) continue;
        SectionWork whole = sitting.work;
        whole.memory = Memory::None;
        // They are looked at, not practised.
        whole.boxes = {};
        whole.per_cent.clear();
        if (is_mixed(sitting)) {
            write_rounds(sitting, whole, sections);
        } else {
            for (const SectionTopic& topic : sitting.topics) sections.make(topic, whole);
        }
    }
    sink.take(AnswersEnd{});
}

}  // namespace shedbook
