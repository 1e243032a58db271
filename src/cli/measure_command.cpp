#include <iostream>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "command.h"
#include "shedbook/base/text.h"
#include "shedbook/book/grading.h"
#include "shedbook/job/jobs.h"
#include "terminal.h"

namespace shedbook {
namespace {

struct MeasureArguments {
    std::vector<std::string> files;
    std::string part;
};

int run_measure(const MeasureArguments& arguments) {
    Terminal terminal;
    bool failed = false;
    for (const std::string& file : arguments.files) {
        const std::optional<MeasuredScore> score = measure(file, arguments.part, terminal);
        if (!score) {
            failed = true;
            continue;
        }
        std::cout << file << (score->title.empty() ? "" : ": " + printable(score->title)) << "\n";
        write_grading(score->grading, std::cout);
        if (&file != &arguments.files.back()) std::cout << "\n";
    }
    return failed ? kBadInput : kDone;
}

}  // namespace

Action measure_command(Syntax& syntax) {
    auto arguments = std::make_shared<MeasureArguments>();
    syntax.add_option("file", arguments->files, "scores: .mxl or .musicxml, ours or anybody's")
        .required()
        .reads_file();
    syntax.add_option("--part", arguments->part, "which part of a score with several").takes("NAME");
    return [arguments] { return run_measure(*arguments); };
}

}  // namespace shedbook
