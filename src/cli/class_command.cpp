#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include "class_summary.h"
#include "command.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "terminal.h"

namespace shedbook {
namespace {

int run_class(const ClassRequest& request) {
    Terminal terminal;
    const ClassResult result = make_class(request, terminal);
    terminal.end_line();
    write_summary(result.rows, std::cout);
    if (!result.missing.empty()) {
        std::vector<std::string> rows;
        for (const std::size_t row : result.missing) rows.push_back(std::to_string(row));
        std::cout << "\nNo book for the students at fault: " << join(rows, ", ") << " of " << result.of
                  << "\n";
    }
    if (result.machine_failed) return kMachine;
    return result.has_faults ? kBadInput : kDone;
}

}  // namespace

Action class_command(Syntax& syntax) {
    auto request = std::make_shared<ClassRequest>();
    syntax
        .add_option("roster", request->roster,
                    "the class: a .toml file with a [[student]] for each, or a .csv with a row for each")
        .required()
        .reads_file();
    syntax.add_option("tune", request->tune, "a tune: " + chart_endings()).required().reads_file();
    syntax.begin_group("What is written");
    syntax.add_option("-o,--output", request->folder, "folder for the books; made if it is not there")
        .takes("FOLDER")
        .required();
    syntax
        .add_option("--as", request->ending,
                    writer_endings(Writer::kScore | Writer::kScreen) + " (default: .mxl)")
        .takes("ENDING");
    syntax
        .add_option("--score", request->score,
                    "drill of the teacher's score (default: thirds, or what the lowest level has)")
        .takes("DRILL")
        .offers(drill_names)
        .checked([](const std::string& name) { (void)drill_called(name); });
    syntax.add_flag("--no-score", request->no_score, "only the books");
    syntax.add_flag("--keep-going", request->keep_going,
                    "where a row is at fault, write the books of the others");
    add_paper_option(syntax, request->paper, "A4, letter or tablet, for PDFs (default: A4)");
    syntax.add_flag("--no-cache", request->no_cache, "set all pages of PDFs anew");
    syntax.add_option("--prefer", request->prefer, "sharps or flats, where a key can be written both ways")
        .offers([] {
            return Words{"sharps", "flats"};
        });
    return [request] { return run_class(*request); };
}

}  // namespace shedbook
