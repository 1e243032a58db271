#include <algorithm>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "arguments.h"
#include "command.h"
#include "drill_arguments.h"
#include "level_arguments.h"
#include "output.h"
#include "shedbook/book/book.h"
#include "shedbook/chart/readers.h"
#include "tunes.h"

namespace shedbook {
namespace {

// More chords than this are more than a player gets through in a few weeks (our rule).
constexpr std::size_t kUsualChords = 16;

struct Arguments {
    std::vector<std::string> tunes;
    PartArguments part;
    DrillArguments drills;
    LevelArguments level;
    std::string scales;
    std::string bars;
    std::vector<std::string> chords;
    bool all = false;
    bool no_line = false;
    TuneOptions tune;
};

// "Dm7,G7(b9,#11)" as its two symbols: commas within brackets belong to a symbol.
std::vector<std::string> split_symbols(const std::vector<std::string>& typed) {
    std::vector<std::string> out;
    for (const std::string& text : typed) {
        int depth = 0;
        std::string symbol;
        for (const char c : text + ",") {
            depth += c == '(' ? 1 : c == ')' ? -1 : 0;
            if (depth > 0 || (c != ',' && c != ';')) {
                symbol += c;
            } else if (!symbol.empty()) {
                out.push_back(std::exchange(symbol, {}));
            }
        }
        if (!symbol.empty()) out.push_back(symbol);
    }
    return out;
}

std::vector<ChordSymbol> chords_of(const std::vector<std::string>& typed) {
    std::vector<ChordSymbol> out;
    Diagnostics diagnostics;
    for (const std::string& text : split_symbols(typed)) {
        if (const auto symbol = read_chord_symbol(SourceText{"--chords", text}, diagnostics))
            out.push_back(*symbol);
    }
    print(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    return out;
}

// Chords and bars that were asked for and that no tune has.
void check_choice(const std::vector<Tune>& tunes, const BookOptions& options) {
    const auto is_found = [&](const BookOptions& choice) {
        return std::ranges::any_of(
            tunes, [&](const Tune& tune) { return !chords_in_context(tune, choice).empty(); });
    };
    const std::string where = options.only_bars ? " in those --bars" : " in the tune";
    for (const ChordSymbol& symbol : options.only_chords) {
        BookOptions only = options;
        only.only_chords = {symbol};
        if (!is_found(only))
            throw UsageError("there is no " + to_string(symbol) + where +
                             "; 'shedbook changes' shows its chords");
    }
    if (!is_found(options)) throw UsageError("no chord is left to practise: there is none" + where);
}

// What the level says holds where nothing else was asked.
void take_from_level(Arguments& arguments) {
    if (arguments.level.level == 0) return;
    const Level& asked = level(arguments.level.level);
    if (arguments.part.range.empty()) arguments.part.range = asked.range;
}

BookOptions options_of(const Arguments& arguments, const ChosenDrills& drills,
                       std::optional<BookPlan>& plan) {
    BookOptions options;
    const bool has_drills = !arguments.part.drills.empty() || !arguments.drills.templates.empty();
    if (arguments.level.level > 0) apply_level(level(arguments.level.level), options);
    if (arguments.level.level == 0 || has_drills) options.drills = drills.pointers();
    options.setting = drills.setting;
    options.prefer = prefer_of(arguments.part.prefer);
    options.only_chords = chords_of(arguments.chords);
    if (!arguments.bars.empty()) options.only_bars = bars_of(arguments.bars);
    const bool chosen = arguments.all || !arguments.bars.empty() || !arguments.chords.empty();
    if (chosen) {
        options.most_chords = std::nullopt;
    } else if (arguments.level.level == 0 && arguments.level.plan.empty()) {
        options.most_chords = kUsualChords;
    }
    if (!arguments.chords.empty()) options.material = Material::Chords;
    options.with_line = !arguments.no_line;
    apply(arguments.level, options, plan);
    return options;
}

int run_book(Arguments& arguments) {
    take_from_level(arguments);
    arguments.tune.palette = !arguments.scales.empty()   ? palette_of(arguments.scales)
                             : arguments.level.level > 0 ? level(arguments.level.level).palette
                                                         : Palette::Usual;
    const std::vector<BookPart> parts = parts_of(arguments.part, &arguments.tunes);
    Diagnostics said_of_drills;
    const std::optional<ChosenDrills> drills =
        choose_drills(arguments.drills, arguments.part.drills, said_of_drills);
    print(said_of_drills);
    if (!drills) return kBadInput;
    std::optional<BookPlan> plan;
    BookOptions options = options_of(arguments, *drills, plan);
    if (arguments.tunes.empty())
        throw UsageError("book needs a tune: a file that ends in " + chart_endings());
    const std::vector<Tune> tunes = load_tunes(arguments.tunes, arguments.tune);
    if (arguments.drills.meter.empty()) options.setting.meter = options.usual_meter = meter_for_drills(tunes);
    if (arguments.level.goal == 0 && tunes.front().chart.tempo)
        options.goal_tempo = *tunes.front().chart.tempo;
    check_choice(tunes, options);
    write_parts(
        arguments.part.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& diagnostics) {
            assemble_book(tunes, parts, which, options, sink, diagnostics);
        },
        write_options_of(arguments.part), arguments.part.only);
    return kDone;
}

}  // namespace

Action book_command(CLI::App& app) {
    auto arguments = std::make_shared<Arguments>();
    app.add_option("tune", arguments->tunes, "tunes: " + chart_endings() + "; - is standard input");
    add_part_options(app, arguments->part);
    add_drill_options(app, arguments->drills);
    add_level_options(app, arguments->level);
    app.add_option("--bars", arguments->bars, "only what sounds in these bars, e.g. 5-8");
    app.add_option("--chords", arguments->chords, "only these chords, e.g. --chords Dm7,G7");
    app.add_flag("--all", arguments->all, "every chord of the tune, however many");
    app.add_flag("--no-line", arguments->no_line, "without the line through the changes at the end");
    app.add_option("--scales", arguments->scales,
                   "plain (as few scales as do the job), usual, or rich (colours on dominants)");
    app.add_option("--transpose", arguments->tune.transpose, "to a key (Eb) or by an interval (\"up m3\")");
    app.add_option("--part", arguments->tune.part, "which part of a score with several");
    return [arguments] { return run_book(*arguments); };
}

}  // namespace shedbook
