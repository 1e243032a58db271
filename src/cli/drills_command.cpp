#include <memory>

#include "command.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/book/key_order.h"
#include "shedbook/book/plan.h"
#include "shedbook/book/unit_sheet.h"
#include "shedbook/job/jobs.h"
#include "shedbook/write/sound_options.h"
#include "terminal.h"

namespace shedbook {

Action drills_command(Syntax& syntax) {
    auto request = std::make_shared<SheetRequest>();
    syntax.add_option("topic", request->topics,
                      "chords (\"Db7#11\") or scales (\"F lydian\"), in concert pitch");
    syntax.begin_group("What it is about");
    syntax
        .add_option(
            "--unit", request->unit,
            "instead of chords: lines on a unit of harmony in all keys: " + join(plain_unit_names(), ", "))
        .takes("UNIT")
        .offers(plain_unit_names);
    takes_word_of<KeyOrder>(syntax
                                .add_option("--keys", request->keys,
                                            "each chord or scale in all twelve keys, from its own on: " +
                                                join(words_of<KeyOrder>(), ", ") +
                                                " (hardest: most accidentals in the part first)")
                                .takes("ORDER"),
                            "--keys");
    syntax.add_option("--seed", request->seed, "another number, another shuffle");
    syntax
        .add_option("--level", request->level.level,
                    "its drills, range and tempos, 1 to 6 (of a --unit: 3 where none is said)")
        .between(kLowestLevel, kHighestLevel);
    syntax.add_option("--goal", request->level.goal, "the tempo to arrive at (default: 100)")
        .between(kSlowestTempo, kFastestTempo);
    add_part_options(syntax, request->part, request->output);
    add_drill_options(syntax, request->drill);
    return [request] {
        Terminal terminal;
        terminal.announce(make_sheet(*request, terminal));
        return kDone;
    };
}

}  // namespace shedbook
