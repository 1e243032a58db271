#include <cstdint>
#include <iostream>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "command.h"
#include "shedbook/base/text.h"
#include "shedbook/book/grading.h"
#include "shedbook/io/data.h"
#include "shedbook/job/jobs.h"
#include "terminal.h"

namespace shedbook {
namespace {

struct MeasureArguments {
    std::vector<std::string> files;
    std::string part;
    bool json = false;
};

Data::Object as_data(const std::string& file, const MeasuredScore& score) {
    const Grading& g = score.grading;
    const auto number = [](int value) { return Data{std::int64_t{value}}; };
    Data::Object out{
        {"file", {file}}, {"title", {score.title}}, {"bars", number(g.bars)}, {"notes", number(g.notes)}};
    if (g.notes == 0) return out;
    const Data::Object figures{{"lowest", {to_string(g.lowest)}},
                               {"highest", {to_string(g.highest)}},
                               {"range", number(g.range)},
                               {"largest_leap", number(g.largest_leap)},
                               {"mean_leap", {g.mean_leap}},
                               {"most_accidentals", number(g.most_accidentals)},
                               {"mean_accidentals", {g.mean_accidentals}},
                               {"most_notes_a_beat", {g.most_notes_a_beat}},
                               {"mean_notes_a_beat", {g.mean_notes_a_beat}},
                               {"off_beat_percent", number(g.off_beat_percent)},
                               {"distinct_scales", number(g.distinct_scales)}};
    out.insert(out.end(), figures.begin(), figures.end());
    return out;
}

int run_measure(const MeasureArguments& arguments) {
    Terminal terminal;
    bool failed = false;
    for (const std::string& file : arguments.files) {
        const std::optional<MeasuredScore> score = measure(file, arguments.part, terminal);
        if (!score) {
            failed = true;
            continue;
        }
        if (arguments.json) {
            std::cout << write_json({as_data(file, *score)}) << "\n";
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
    syntax.add_flag("--json", arguments->json, "a JSON object a line for each score, for programs");
    return [arguments] { return run_measure(*arguments); };
}

}  // namespace shedbook
