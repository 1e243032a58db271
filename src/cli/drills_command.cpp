#include <algorithm>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "arguments.h"
#include "command.h"
#include "drill_arguments.h"
#include "output.h"
#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/book/key_order.h"
#include "topics.h"
#include "tunes.h"

namespace shedbook {
namespace {

struct Arguments {
    std::vector<std::string> topics;
    PartArguments part;
    DrillArguments drills;
    std::string keys;
    std::uint64_t seed = 1;
};

// The topics as typed, or in all keys.
std::vector<SheetTopic> topics_wanted(const Arguments& arguments, const Instrument& instrument,
                                      Diagnostics& diagnostics) {
    std::vector<SheetTopic> topics = topics_of(arguments.topics, diagnostics);
    if (arguments.keys.empty() || diagnostics.has_errors()) return topics;
    KeyOrderOptions options;
    options.order = choice_of<KeyOrder>("--keys", arguments.keys);
    options.seed = arguments.seed;
    options.prefer = prefer_of(arguments.part.prefer);
    return in_all_keys(topics, options, instrument);
}

int run_drills(const Arguments& arguments) {
    const std::vector<BookPart> parts = parts_of(arguments.part, nullptr);
    BookOptions options;
    options.prefer = prefer_of(arguments.part.prefer);
    Diagnostics diagnostics;
    const bool has_drills = !arguments.part.drills.empty() || !arguments.drills.templates.empty();
    const std::optional<ChosenDrills> drills =
        choose_drills(arguments.drills, has_drills ? arguments.part.drills : sheet_drills(), diagnostics);
    if (drills) {
        options.drills = drills->pointers();
        options.setting = drills->setting;
    }
    const std::vector<SheetTopic> topics = topics_wanted(arguments, *parts.front().instrument, diagnostics);
    print(diagnostics);
    if (diagnostics.has_errors()) return kBadInput;
    write_parts(
        arguments.part.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& said) {
            assemble_sheet(topics, parts, which, options, sink, said);
        },
        write_options_of(arguments.part), arguments.part.only);
    return kDone;
}

}  // namespace

Action drills_command(CLI::App& app) {
    auto arguments = std::make_shared<Arguments>();
    app.add_option("topic", arguments->topics,
                   "chords (\"Db7#11\") or scales (\"F lydian\"), in concert pitch")
        ->required();
    add_part_options(app, arguments->part);
    add_drill_options(app, arguments->drills);
    app.add_option("--keys", arguments->keys,
                   "each chord or scale in all twelve keys, from its own on: " +
                       join(words_of<KeyOrder>(), ", ") + " (hardest: most accidentals in the part first)");
    app.add_option("--seed", arguments->seed, "another number, another shuffle");
    return [arguments] { return run_drills(*arguments); };
}

}  // namespace shedbook
