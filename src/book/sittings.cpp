#include "sittings.h"

#include <algorithm>
#include <numeric>
#include <set>
#include <utility>

#include "basic_chord.h"
#include "shedbook/drill/speeds.h"

namespace shedbook {
namespace {

// Indices of the topics of `from` that sound longest, in the order of the tune.
std::vector<std::size_t> longest(const std::vector<SectionTopic>& topics, std::vector<std::size_t> from,
                                 int most) {
    if (most <= 0 || from.size() <= static_cast<std::size_t>(most)) return from;
    std::ranges::stable_sort(from, std::ranges::greater{}, [&](std::size_t i) { return topics[i].sounding; });
    from.resize(static_cast<std::size_t>(most));
    std::ranges::sort(from);
    return from;
}

// Before each topic with a colourful symbol its plain chord, once.
std::vector<SectionTopic> with_basic_chords(const std::vector<SectionTopic>& topics) {
    std::vector<SectionTopic> out;
    for (const SectionTopic& topic : topics) {
        const auto basic = topic.symbol ? basic_chord(*topic.symbol) : std::nullopt;
        const auto is_known = [&](const SectionTopic& other) { return other.symbol == basic; };
        if (basic && std::ranges::none_of(topics, is_known) && std::ranges::none_of(out, is_known)) {
            SectionTopic plain = topic;
            plain.symbol = basic;
            plain.scale = scales_for(*basic).front();
            plain.is_listed = false;
            plain.scale.reason = {"the plain chord first; its colours come next"};
            out.push_back(std::move(plain));
        }
        out.push_back(topic);
    }
    return out;
}

class Planner {
  public:
    Planner(const std::vector<SectionTopic>& topics, const BookOptions& options)
        : topics_{topics}, options_{options} {}

    void add(const Sitting& sitting) {
        const std::vector<std::size_t> chosen = choose(sitting);
        PlannedSitting planned;
        planned.sitting = &sitting;
        planned.start = {sitting.title, sitting.subject, sitting.advice};
        planned.work.drills = drills_of(sitting, options_);
        planned.work.per_cent = sitting.tempos.empty() ? options_.tempos : sitting.tempos;
        planned.work.boxes = boxes_at(planned.work.per_cent, options_.goal_tempo);
        planned.work.memory = sitting.memory;
        for (const std::size_t i : chosen) planned.topics.push_back(topics_[i]);
        if (planned.work.drills.empty()) planned.topics.clear();
        if (sitting.basic_first) planned.topics = with_basic_chords(planned.topics);
        if (sitting.each) {
            add_each(planned);
        } else {
            out_.push_back(std::move(planned));
        }
    }

    std::vector<PlannedSitting> finish() { return std::move(out_); }

  private:
    std::vector<std::size_t> choose(const Sitting& sitting) {
        std::vector<std::size_t> from(topics_.size());
        std::iota(from.begin(), from.end(), std::size_t{0});
        if (sitting.which == Sitting::Chords::Same) return last_;
        if (sitting.which == Sitting::Chords::Next)
            std::erase_if(from, [&](std::size_t i) { return taken_.contains(i); });
        last_ = longest(topics_, std::move(from), sitting.most);
        taken_.insert(last_.begin(), last_.end());
        return last_;
    }

    void add_each(const PlannedSitting& all) {
        int number = 0;
        for (const SectionTopic& topic : all.topics) {
            PlannedSitting one = all;
            one.topics = {topic};
            one.start.title = all.start.title + " " + std::to_string(++number);
            out_.push_back(std::move(one));
        }
    }

    const std::vector<SectionTopic>& topics_;
    const BookOptions& options_;
    std::set<std::size_t> taken_;
    std::vector<std::size_t> last_;
    std::vector<PlannedSitting> out_;
};

}  // namespace

std::vector<const DrillTemplate*> drills_of(const Sitting& sitting, const BookOptions& options) {
    if (sitting.drills.empty()) return options.drills;
    std::vector<const DrillTemplate*> out;
    for (const std::string& id : sitting.drills) {
        if (const DrillTemplate* drill = find_drill(id)) out.push_back(drill);
    }
    return out;
}

std::vector<PlannedSitting> plan_sittings(const BookPlan& plan, const std::vector<SectionTopic>& topics,
                                          const BookOptions& options) {
    Planner planner{topics, options};
    for (const Sitting& sitting : plan.sittings) planner.add(sitting);
    return planner.finish();
}

BookPlan plain_plan(const BookOptions& options) {
    Sitting all;
    all.order = options.order;
    all.memory = options.memory;
    all.basic_first = options.basic_first;
    if (options.with_line) all.etudes = options.etudes;
    if (options.with_line && all.etudes.empty()) all.etudes = {options.etude.kind};
    BookPlan out;
    out.sittings.push_back(std::move(all));
    return out;
}

PlanTable table_of(const BookPlan& plan, const std::vector<PlannedSitting>& sittings,
                   const Instrument& instrument, Prefer prefer) {
    PlanTable out;
    out.title = plan.title;
    for (const PlannedSitting& planned : sittings) {
        PlanTable::Row row;
        row.sitting = planned.start;
        row.boxes = planned.work.boxes;
        for (const SectionTopic& topic : planned.topics)
            row.topics.push_back(in_part(topic, instrument, prefer));
        for (const DrillTemplate* drill : planned.work.drills) row.drills.push_back(drill->title);
        out.rows.push_back(std::move(row));
    }
    return out;
}

TempoBoxes boxes_at(const std::vector<int>& per_cent, int goal_tempo) {
    TempoBoxes out;
    for (const int part : per_cent)
        out.tempos.push_back(part == 100 ? goal_tempo : on_dial(part * goal_tempo / 100.0));
    out.from_memory = true;
    return out;
}

}  // namespace shedbook
