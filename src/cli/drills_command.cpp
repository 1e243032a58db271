#include <memory>
#include <string>
#include <vector>

#include "arguments.h"
#include "command.h"
#include "drill_arguments.h"
#include "output.h"
#include "shedbook/book/book.h"
#include "topics.h"
#include "tunes.h"

namespace shedbook {
namespace {

struct Arguments {
    std::vector<std::string> topics;
    PartArguments part;
    DrillArguments drills;
};

int run_drills(const Arguments& arguments) {
    const std::vector<BookPart> parts = parts_of(arguments.part, nullptr);
    BookOptions options;
    options.prefer = prefer_of(arguments.part.prefer);
    Diagnostics diagnostics;
    const std::optional<ChosenDrills> drills =
        choose_drills(arguments.drills, arguments.part.drills, diagnostics);
    if (drills) {
        options.drills = drills->pointers();
        options.setting = drills->setting;
    }
    const std::vector<SheetTopic> topics = topics_of(arguments.topics, diagnostics);
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
    return [arguments] { return run_drills(*arguments); };
}

}  // namespace shedbook
