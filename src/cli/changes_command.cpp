#include <algorithm>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include "command.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/report/report.h"
#include "terminal.h"

namespace shedbook {
namespace {

struct ChangesArguments {
    std::vector<std::string> tunes;
    TuneRequest tune;
    bool json = false;
    bool why = false;
    bool units = false;
    bool difficulty = false;
    std::string output;
    std::string symbols;
};

int run_changes(const ChangesArguments& arguments) {
    Terminal terminal;
    const SymbolStyle style = symbol_style_of(arguments.symbols);
    const bool is_table = !arguments.json && arguments.output.empty();
    if (!is_table && (arguments.why || arguments.units || arguments.difficulty || !arguments.symbols.empty()))
        throw UsageError(
            "--why, --units, --difficulty and --symbols are for the table, not for --json or a map");
    if (arguments.why && (arguments.units || arguments.difficulty))
        throw UsageError("--why stands under each chord; --units and --difficulty are tables of their own");
    if (arguments.json && !arguments.output.empty())
        throw UsageError("--json goes to standard output, a map to a file: not both at once");
    if (!arguments.output.empty()) {
        if (arguments.tunes.size() != 1) throw UsageError("a map shows one tune");
        terminal.announce(draw_map(arguments.tunes.front(), arguments.tune, arguments.output, terminal));
        return kDone;
    }
    bool failed = false;
    for (const std::string& path : arguments.tunes) {
        try {
            const Tune tune = load_tune(path, arguments.tune, terminal);
            if (arguments.json) {
                write_changes_json(tune.chart, tune.analysis, std::cout);
            } else if (arguments.units || arguments.difficulty) {
                std::cout << printable(tune.chart.name()) << "\n";
                const TuneUnits units = units_of(tune.chart, tune.analysis);
                if (arguments.units) std::cout << units_table(units);
                if (arguments.difficulty) std::cout << difficulty_table(units);
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

Action changes_command(Syntax& syntax) {
    auto arguments = std::make_shared<ChangesArguments>();
    syntax.add_option("tune", arguments->tunes, "tunes: " + chart_endings() + "; - is standard input")
        .required()
        .reads_file();
    syntax.begin_group("What is shown");
    syntax.add_flag("--why", arguments->why, "give the reason under each chord");
    syntax.add_flag("--units", arguments->units,
                    "the tune cut into practice units, with their places and how hard they are");
    syntax.add_flag("--difficulty", arguments->difficulty, "its bars, the hardest first, and why");
    syntax.add_flag("--json", arguments->json, "JSON lines, for programs");
    syntax
        .add_option("-o,--output", arguments->output,
                    "draw the form as a picture instead: map.svg, .pdf or .png")
        .writes_file()
        .checked([](const std::string& file) {
            const std::vector<std::string> forms{".svg", ".pdf", ".png"};
            const std::string name = lower_case(file);
            if (std::ranges::none_of(forms, [&](const std::string& form) { return name.ends_with(form); }))
                throw UsageError(fault_of_ending(file, forms));
        });
    syntax
        .add_option("--symbols", arguments->symbols,
                    "how chord symbols are printed, e.g. signs,triangle,dash (also: letters, M)")
        .takes("WORDS");
    add_tune_options(syntax, arguments->tune);
    return [arguments] { return run_changes(*arguments); };
}

}  // namespace shedbook
