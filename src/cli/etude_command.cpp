#include <iostream>
#include <memory>

#include "command.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/etude/etude.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "terminal.h"

namespace shedbook {
namespace {

constexpr int kMostChoruses = 32;

void print_kinds() {
    for (const EtudeKind& kind : etude_kinds()) {
        std::cout << kind.id << ": " << kind.about << "\n";
        for (std::size_t i = 0; i < kind.levels.size(); ++i)
            std::cout << "  level " << i + 1 << ": " << kind.levels[i] << "\n";
    }
}

}  // namespace

Action etude_command(Syntax& syntax) {
    auto request = std::make_shared<EtudeJobRequest>();
    syntax.add_option("tune", request->tunes, "tunes: " + chart_endings() + "; - is standard input")
        .required()
        .reads_file();
    add_part_options(syntax, request->part, request->output);
    syntax.begin_group("What kind of etude");
    syntax
        .add_option("--kind", request->kind,
                    "what kind: " + join(etude_kind_names(), ", ") + " (default: composed)")
        .takes("KIND")
        .offers(etude_kind_names)
        .checked([](const std::string& name) { (void)etude_kind_called(name); });
    syntax.add_answer("--kinds", print_kinds, "explain the kinds and their levels");
    syntax.add_option("--level", request->level, "how hard, 1 to 6 (default: 4)").between(1, kHighestLevel);
    syntax.add_option("--seed", request->seed, "another number gives another etude (default: 1)");
    takes_word_of<Density>(
        syntax.add_option("--density", request->density, "how many notes: sparse, usual or busy"),
        "--density");
    takes_word_of<EtudeFeel>(
        syntax.add_option("--feel", request->feel, "swing, straight or triplets (default: as the tune says)"),
        "--feel");
    takes_word_of<EtudeStyle>(syntax
                                  .add_option("--style", request->style,
                                              join(words_of<EtudeStyle>(), ", ") +
                                                  " (default: by the tune's Feel, meter and harmony)")
                                  .takes("STYLE"),
                              "--style");
    syntax.add_option("--chorus", request->choruses, "how many choruses (default: 1)")
        .between(1, kMostChoruses);
    syntax.add_option("--bars", request->bars, "only these bars, e.g. 5-8; with --chorus 4 four times over")
        .takes("BARS");
    syntax.add_option("--start", request->start, "the first of the bars").positive();
    syntax.add_option("--end", request->end, "the last of them").positive();
    syntax.add_option("--cell", request->cell, "degrees for --kind cell, e.g. \"1 2 3 5\"").takes("DEGREES");
    syntax.add_flag("--explain", request->explain, "write the ideas under the staff, as small text");
    add_tune_options(syntax, request->tune);
    return [request] {
        Terminal terminal;
        terminal.announce(make_etude(*request, terminal));
        return kDone;
    };
}

}  // namespace shedbook
