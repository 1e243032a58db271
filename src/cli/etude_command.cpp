#include <algorithm>
#include <cstdint>
#include <iostream>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "arguments.h"
#include "command.h"
#include "output.h"
#include "shedbook/base/text.h"
#include "shedbook/book/etude.h"
#include "shedbook/chart/readers.h"
#include "tunes.h"

namespace shedbook {
namespace {

struct Arguments {
    std::vector<std::string> tunes;
    PartArguments part;
    std::string kind = "composed";
    int level = 4;
    std::uint64_t seed = 1;
    std::string density = "usual";
    std::string feel;
    int choruses = 1;
    std::string bars;
    int start = 0;
    int end = 0;
    std::string cell;
    std::string scales = "usual";
    bool explain = false;
    TuneOptions tune;
};

constexpr int kMostChoruses = 32;

// A ballad that says so is written in triplets; anything else as its words say.
EtudeFeel feel_of(const std::string& word, const std::vector<Tune>& tunes) {
    if (!word.empty()) {
        return choice_of<EtudeFeel>("--feel", word);
    }
    const std::string words = tunes.empty() ? "" : lower_case(tunes.front().chart.feel);
    if (words.find("ballad") != std::string::npos) return EtudeFeel::Triplets;
    return words.find("swing") != std::string::npos ? EtudeFeel::Swing : EtudeFeel::Straight;
}

std::optional<std::pair<int, int>> bars_wanted(const Arguments& arguments) {
    if (!arguments.bars.empty()) {
        if (arguments.start != 0 || arguments.end != 0)
            throw UsageError("say the bars once: --bars 5-8, or --start 5 --end 8");
        return bars_of(arguments.bars);
    }
    if (arguments.start == 0 && arguments.end == 0) return std::nullopt;
    const int start = arguments.start == 0 ? 1 : arguments.start;
    if (arguments.end == 0) return std::pair{start, INT32_MAX};
    return bars_of(std::to_string(start) + "-" + std::to_string(arguments.end));
}

EtudeRequest request_of(const Arguments& arguments) {
    EtudeRequest out;
    out.kind = etude_kind_called(arguments.kind).id;
    out.level = arguments.level;
    out.seed = arguments.seed;
    out.density = choice_of<Density>("--density", arguments.density);
    out.choruses = arguments.choruses;
    out.bars = bars_wanted(arguments);
    out.explain = arguments.explain;
    if (!arguments.cell.empty()) {
        if (out.kind != "cell") throw UsageError("--cell belongs to --kind cell");
        if (const std::string fault = fault_of_cell(arguments.cell); !fault.empty())
            throw UsageError("--cell: " + fault);
        out.cell = arguments.cell;
    }
    return out;
}

void print_kinds() {
    for (const EtudeKind& kind : etude_kinds()) {
        std::cout << kind.id << ": " << kind.about << "\n";
        for (std::size_t i = 0; i < kind.levels.size(); ++i)
            std::cout << "  level " << i + 1 << ": " << kind.levels[i] << "\n";
    }
}

int run_etude(Arguments& arguments) {
    arguments.tune.palette = palette_of(arguments.scales);
    const std::vector<BookPart> parts = parts_of(arguments.part, &arguments.tunes);
    if (arguments.part.fingerings == "scales")
        throw UsageError("an etude is no scale: --fingerings takes all here, or none");
    EtudeRequest request = request_of(arguments);
    if (arguments.tunes.empty())
        throw UsageError("etude needs a tune: a file that ends in " + chart_endings());
    for (const BookPart& part : parts) {
        const EtudeKind& kind = etude_kind_called(request.kind);
        if (!fits(kind, sounding_range(*part.instrument, part.range)))
            throw UsageError("'" + kind.title + "' needs a --range of " + std::to_string(kind.narrowest) +
                             " half steps or more");
    }
    const std::vector<Tune> tunes = load_tunes(arguments.tunes, arguments.tune);
    request.feel = feel_of(arguments.feel, tunes);
    if (request.bars) {
        for (const Tune& tune : tunes) {
            if (!has_chords(ground_of(tune.timeline, tune.analysis, {.bars = request.bars})))
                throw UsageError("there is no chord in those bars of '" + tune.chart.title + "'");
        }
    }
    EtudeMaker maker{parts, request, prefer_of(arguments.part.prefer)};
    write_parts(
        arguments.part.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& diagnostics) {
            assemble_etudes(tunes, maker, which, sink, diagnostics);
        },
        write_options_of(arguments.part), arguments.part.only);
    return kDone;
}

}  // namespace

Action etude_command(CLI::App& app) {
    auto arguments = std::make_shared<Arguments>();
    app.add_option("tune", arguments->tunes, "tunes: " + chart_endings() + "; - is standard input");
    add_part_options(app, arguments->part);
    if (CLI::Option* drills = app.get_option_no_throw("--drills")) app.remove_option(drills);
    app.add_option("--kind", arguments->kind,
                   "what kind: " + join(etude_kind_names(), ", ") + " (default: composed)");
    app.add_flag_callback(
        "--kinds",
        [] {
            print_kinds();
            throw CLI::Success{};
        },
        "explain the kinds and their levels");
    app.add_option("--level", arguments->level, "how hard, 1 to 6 (default: 4)")
        ->check(CLI::Range(1, kHighestLevel));
    app.add_option("--seed", arguments->seed, "another number gives another etude (default: 1)");
    app.add_option("--density", arguments->density, "how many notes: sparse, usual or busy");
    app.add_option("--feel", arguments->feel,
                   "swing, straight or triplets (default: as the tune says; a ballad in triplets)");
    app.add_option("--chorus", arguments->choruses, "how many choruses (default: 1)")
        ->check(CLI::Range(1, kMostChoruses));
    app.add_option("--bars", arguments->bars, "only these bars, e.g. 5-8; with --chorus 4 four times over");
    app.add_option("--start", arguments->start, "the first of the bars")->check(CLI::PositiveNumber);
    app.add_option("--end", arguments->end, "the last of them")->check(CLI::PositiveNumber);
    app.add_option("--cell", arguments->cell, "degrees for --kind cell, e.g. \"1 2 3 5\"");
    app.add_option("--scales", arguments->scales,
                   "plain (as few scales as do the job), usual, or rich (colours on dominants)");
    app.add_flag("--explain", arguments->explain, "write the ideas under the staff, as small text");
    app.add_option("--transpose", arguments->tune.transpose, "to a key (Eb) or by an interval (\"up m3\")");
    app.add_option("--part", arguments->tune.part, "which part of a score with several");
    return [arguments] { return run_etude(*arguments); };
}

}  // namespace shedbook
