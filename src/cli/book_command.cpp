#include <memory>

#include "command.h"
#include "options.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
#include "terminal.h"

namespace shedbook {

Action book_command(Syntax& syntax) {
    auto request = std::make_shared<BookRequest>();
    syntax.add_option("tune", request->tunes, "tunes: " + chart_endings() + "; - is standard input")
        .required()
        .reads_file();
    add_part_options(syntax, request->part, request->output);
    add_drill_options(syntax, request->drill);
    add_level_options(syntax, request->level);
    syntax.begin_group("Which pages");
    const SyntaxOption by = syntax.add_option(
        "--by", request->by,
        "what its sections are about: unit (the cadences, turnarounds and chains of the tune, the "
        "hardest first: some 14 pages) or chord (each chord with its drills; so are books with a plan on "
        "chords, --drills, --bars, --chords, --all, --order, --memory, --basic-first or --etude)");
    takes_word_of<BookBy>(by, "--by");
    syntax.add_option("--bars", request->bars, "only what sounds in these bars, e.g. 5-8").takes("BARS");
    syntax.add_option("--chords", request->chords, "only these chords, e.g. --chords Dm7,G7")
        .takes("CHORDS")
        .goes_on_with([](const std::string& word) {
            Diagnostics unused;
            return read_chord_symbol(SourceText{"--chords", word}, unused).has_value();
        });
    syntax.add_flag("--all", request->all, "every chord of the tune, however many");
    syntax.add_flag("--no-line", request->no_line, "without the line through the changes at the end");
    add_tune_options(syntax, request->tune);
    return [request] {
        Terminal terminal;
        terminal.announce(make_book(*request, terminal));
        return kDone;
    };
}

}  // namespace shedbook
