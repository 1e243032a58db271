#include <memory>

#include "command.h"
#include "options.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
#include "terminal.h"

namespace shedbook {

Action book_command(CLI::App& app) {
    auto request = std::make_shared<BookRequest>();
    app.add_option("tune", request->tunes, "tunes: " + chart_endings() + "; - is standard input");
    add_part_options(app, request->part, request->output);
    add_drill_options(app, request->drill);
    add_level_options(app, request->level);
    app.add_option("--by", request->by,
                   "what its sections are about: unit (the cadences, turnarounds and chains of the tune, the "
                   "hardest first: some 14 pages) or chord (each chord with its drills; so are books with "
                   "--plan, --drills, --bars, --chords, --all, --order, --memory, --basic-first or --etude)");
    app.add_option("--bars", request->bars, "only what sounds in these bars, e.g. 5-8");
    app.add_option("--chords", request->chords, "only these chords, e.g. --chords Dm7,G7");
    app.add_flag("--all", request->all, "every chord of the tune, however many");
    app.add_flag("--no-line", request->no_line, "without the line through the changes at the end");
    add_tune_options(app, request->tune);
    return [request] {
        Terminal terminal;
        make_book(*request, terminal);
        return kDone;
    };
}

}  // namespace shedbook
