#include <memory>

#include "command.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/book/key_order.h"
#include "shedbook/job/jobs.h"
#include "terminal.h"

namespace shedbook {

Action drills_command(CLI::App& app) {
    auto request = std::make_shared<SheetRequest>();
    app.add_option("topic", request->topics, "chords (\"Db7#11\") or scales (\"F lydian\"), in concert pitch")
        ->required();
    add_part_options(app, request->part, request->output);
    add_drill_options(app, request->drill);
    app.add_option("--keys", request->keys,
                   "each chord or scale in all twelve keys, from its own on: " +
                       join(words_of<KeyOrder>(), ", ") + " (hardest: most accidentals in the part first)");
    app.add_option("--seed", request->seed, "another number, another shuffle");
    return [request] {
        Terminal terminal;
        make_sheet(*request, terminal);
        return kDone;
    };
}

}  // namespace shedbook
