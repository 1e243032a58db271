#include "level_request.h"

#include <algorithm>
#include <vector>

#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/job/words.h"

namespace shedbook {

TuneRequest as_at_level(TuneRequest request, int at) {
    if (request.scales.empty()) request.scales = to_word(level(at).palette);
    return request;
}

void apply_level(const Level& level, BookOptions& options) {
    options.drills.clear();
    for (const std::string& id : level.drills) options.drills.push_back(find_drill(id));
    options.material = level.material;
    options.most_chords = std::nullopt;
    if (level.chords > 0) options.most_chords = static_cast<std::size_t>(level.chords);
    if (!level.tempos.empty()) options.tempos = level.tempos;
    options.etude.level = level.number;
    options.etudes = level.etudes;
}

void apply(const LevelRequest& request, BookOptions& options, std::optional<BookPlan>& plan, Caller& caller) {
    if (!request.plan.empty()) {
        if (!request.order.empty() || !request.memory.empty() || request.basic_first)
            throw UsageError("a plan says itself what is mixed, from memory or begun with basic chords");
        plan = plan_called(request.plan, caller);
        options.plan = &*plan;
    }
    if (request.goal > 0) options.goal_tempo = request.goal;
    if (!request.order.empty()) options.order = choice_of<Order>("--order", request.order);
    if (!request.memory.empty()) options.memory = choice_of<Memory>("--memory", request.memory);
    options.basic_first = request.basic_first;
    if (!request.etude.empty()) options.etudes = {etude_kind_called(request.etude).id};
    options.etude.seed = request.seed;
}

BookPlan plan_called(const std::string& name, Caller& caller) {
    if (const BookPlan* plan = find_plan(name)) return *plan;
    if (!name.ends_with(".toml")) {
        unknown_name("plan", name, plan_names(),
                     "there are: " + join(plan_names(), ", ") + ", and files that end in .toml");
    }
    Diagnostics diagnostics;
    const std::vector<BookPlan> plans = read_plans(SourceText{name, read_file(name)}, diagnostics);
    caller.say(diagnostics);
    if (diagnostics.has_errors() || plans.empty()) throw InputError{};
    return plans.front();
}

}  // namespace shedbook
