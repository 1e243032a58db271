#include <iostream>
#include <memory>
#include <ostream>
#include <string>
#include <vector>

#include "arguments.h"
#include "command.h"
#include "shedbook/base/text.h"
#include "shedbook/book/map_of_tune.h"
#include "shedbook/chart/readers.h"
#include "shedbook/harmony/report.h"
#include "shedbook/io/files.h"
#include "shedbook/write/form_map_svg.h"
#include "tunes.h"

namespace shedbook {
namespace {

struct Arguments {
    std::vector<std::string> tunes;
    bool json = false;
    bool why = false;
    std::string scales = "usual";
    std::string output;
    std::string symbols;
    TuneOptions tune;
};

// The form as a picture.
int draw_map(const Arguments& arguments) {
    if (!lower_case(arguments.output).ends_with(".svg"))
        throw UsageError("changes draws its map as .svg: -o map.svg");
    if (arguments.tunes.size() != 1) throw UsageError("a map shows one tune");
    const Tune tune = load_tune(arguments.tunes.front(), arguments.tune);
    write_atomically(arguments.output, [&](std::ostream& out) { write_form_map(map_of_tune(tune), out); });
    return kDone;
}

int run_changes(Arguments& arguments) {
    arguments.tune.palette = palette_of(arguments.scales);
    const SymbolStyle style = symbol_style_of(arguments.symbols);
    const bool is_table = !arguments.json && arguments.output.empty();
    if (!is_table && (arguments.why || !arguments.symbols.empty()))
        throw UsageError("--why and --symbols are for the table, not for --json or a map");
    if (arguments.json && !arguments.output.empty())
        throw UsageError("--json goes to standard output, a map to a file: not both at once");
    if (!arguments.output.empty()) return draw_map(arguments);
    bool failed = false;
    for (const std::string& path : arguments.tunes) {
        try {
            const Tune tune = load_tune(path, arguments.tune);
            if (arguments.json) {
                write_changes_json(tune.chart, tune.analysis, std::cout);
            } else {
                std::cout << changes_table(tune.chart, tune.analysis,
                                           {.why = arguments.why, .symbols = style});
            }
        } catch (const InputError&) {
            failed = true;
        }
    }
    return failed ? kBadInput : kDone;
}

}  // namespace

Action changes_command(CLI::App& app) {
    auto arguments = std::make_shared<Arguments>();
    app.add_option("tune", arguments->tunes, "tunes: " + chart_endings() + "; - is standard input")
        ->required();
    app.add_flag("--why", arguments->why, "give the reason under each chord");
    app.add_flag("--json", arguments->json, "JSON lines, for programs");
    app.add_option("-o,--output", arguments->output, "draw the form as a picture instead: map.svg");
    app.add_option("--scales", arguments->scales,
                   "plain (as few scales as do the job), usual, or rich (colours on dominants)");
    app.add_option("--symbols", arguments->symbols,
                   "how chord symbols are printed, e.g. signs,triangle,dash (also: letters, M)");
    app.add_option("--transpose", arguments->tune.transpose, "to a key (Eb) or by an interval (\"up m3\")");
    app.add_option("--part", arguments->tune.part, "which part of a score with several");
    return [arguments] { return run_changes(*arguments); };
}

}  // namespace shedbook
