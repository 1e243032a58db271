#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include "class_summary.h"
#include "command.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
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
    syntax.add_option("roster", request->roster, "the class: a .toml file, a [[student]] for each")
        .required();
    syntax.add_option("tune", request->tune, "a tune: " + chart_endings()).required();
    syntax.add_option("-o,--output", request->folder, "folder for the books; made if it is not there")
        .required();
    syntax.add_option("--as", request->ending, writer_endings(Writer::kScore) + " (default: .mxl)");
    syntax.add_option("--score", request->score,
                      "drill of the teacher's score (default: thirds, or what the lowest level has)");
    syntax.add_flag("--no-score", request->no_score, "only the books");
    syntax.add_flag("--keep-going", request->keep_going,
                    "where a row is at fault, write the books of the others");
    syntax.add_option("--paper", request->paper, "A4, letter or tablet, for PDFs (default: A4)");
    syntax.add_flag("--no-cache", request->no_cache, "set all pages of PDFs anew");
    syntax.add_option("--prefer", request->prefer, "sharps or flats, where a key can be written both ways");
    return [request] { return run_class(*request); };
}

}  // namespace shedbook
