#include "level_arguments.h"

#include <algorithm>
#include <vector>

#include "arguments.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/write/sound_options.h"
#include "tunes.h"

namespace shedbook {

void add_level_options(CLI::App& app, LevelArguments& arguments) {
    app.add_option("--level", arguments.level,
                   "1 (first year) to 6 (everything): decides scales, drills, range, tempos and etude where "
                   "nothing else is asked")
        ->check(CLI::Range(kLowestLevel, kHighestLevel));
    app.add_option("--plan", arguments.plan,
                   "the book in sittings: " + join(plan_names(), ", ") + ", or a file of your own");
    app.add_option("--goal", arguments.goal,
                   "the tempo to arrive at, in beats a minute (default: the tune's, or 100)")
        ->check(CLI::Range(kSlowestTempo, kFastestTempo));
    app.add_option("--order", arguments.order,
                   "blocked (a chord at a time) or mixed (every time another chord and drill)");
    app.add_option(
        "--memory", arguments.memory,
        "pages to play from memory, the answers at the back: cell (only the first bar is printed) or "
        "symbol (only the chord symbol)");
    app.add_flag("--basic-first", arguments.basic_first,
                 "before a chord with colours, its plain seventh chord");
    app.add_option("--etude", arguments.etude,
                   "kind of the etude at the end: " + join(etude_kind_names(), ", "));
    app.add_option("--seed", arguments.seed, "another number, another etude");
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

void apply(const LevelArguments& arguments, BookOptions& options, std::optional<BookPlan>& plan) {
    if (!arguments.plan.empty()) {
        if (!arguments.order.empty() || !arguments.memory.empty() || arguments.basic_first)
            throw UsageError("a plan says itself what is mixed, from memory or begun with basic chords");
        plan = plan_called(arguments.plan);
        options.plan = &*plan;
    }
    if (arguments.goal > 0) options.goal_tempo = arguments.goal;
    if (!arguments.order.empty()) options.order = choice_of<Order>("--order", arguments.order);
    if (!arguments.memory.empty()) options.memory = choice_of<Memory>("--memory", arguments.memory);
    options.basic_first = arguments.basic_first;
    if (!arguments.etude.empty()) options.etudes = {etude_kind_called(arguments.etude).id};
    options.etude.seed = arguments.seed;
}

BookPlan plan_called(const std::string& name) {
    if (const BookPlan* plan = find_plan(name)) return *plan;
    if (!name.ends_with(".toml")) {
        unknown_name("plan", name, plan_names(),
                     "there are: " + join(plan_names(), ", ") + ", and files that end in .toml");
    }
    Diagnostics diagnostics;
    const std::vector<BookPlan> plans = read_plans(SourceText{name, read_file(name)}, diagnostics);
    print(diagnostics);
    if (diagnostics.has_errors() || plans.empty()) throw InputError{};
    return plans.front();
}

}  // namespace shedbook
