// What a book or a sheet asks of the player: --level, --plan, --goal, --order, --memory, --basic-first,
// --etude, --seed.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "command.h"
#include "shedbook/book/book.h"

namespace shedbook {

struct LevelArguments {
    int level = 0;  // 0: none asked
    std::string plan;
    int goal = 0;  // beats a minute; 0: the tune's tempo
    std::string order;
    std::string memory;
    bool basic_first = false;
    std::string etude;
    std::uint64_t seed = 1;
};
void add_level_options(CLI::App& app, LevelArguments& arguments);

// Drills, material, number of chords, tempos and etude of a level. Its palette and its range are the caller's
// to use: they belong to the analysis and to the part.
void apply_level(const Level& level, BookOptions& options);

// Sets what was asked. The plan lives in `plan`, which must outlast the options. UsageError for unknown
// names, InputError after printing the faults of a plan's file.
void apply(const LevelArguments& arguments, BookOptions& options, std::optional<BookPlan>& plan);

// The plan of that name, or the first in that file.
[[nodiscard]] BookPlan plan_called(const std::string& name);

}  // namespace shedbook
