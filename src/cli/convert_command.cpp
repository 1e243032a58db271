#include <algorithm>
#include <memory>
#include <string>

#include "command.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/write/writers.h"
#include "terminal.h"

namespace shedbook {
namespace {

// Charts as text and JSON are written beside what all writers write.
void check_ending(const std::string& file) {
    Words endings{".tune", ".txt", ".json"};
    for (const Writer& writer : writers()) endings.emplace_back(writer.ending);
    const std::string name = lower_case(file);
    const bool is_known = file == "-" || std::ranges::any_of(endings, [&](const std::string& ending) {
                              return name.ends_with(ending);
                          });
    if (!is_known) throw UsageError(fault_of_ending(file, endings));
}

}  // namespace

Action convert_command(Syntax& syntax) {
    auto request = std::make_shared<ConvertRequest>();
    syntax.add_option("tune", request->input, "tune to read: " + chart_endings() + "; - is standard input")
        .required()
        .reads_file();
    syntax.begin_group("What is written");
    syntax.add_option("-o,--output", request->output.file, "file to write: .tune, .json, " + writer_endings())
        .required()
        .writes_file()
        .checked(check_ending);
    add_instruments(syntax, request->part, "write the changes for these instruments, transposed");
    syntax
        .add_option("--symbols", request->symbols,
                    "how chord symbols are printed, e.g. signs,triangle,dash (also: letters, M)")
        .takes("WORDS");
    syntax
        .add_option("--prefer", request->part.prefer, "sharps or flats, where a key can be written both ways")
        .offers([] {
            return Words{"sharps", "flats"};
        });
    add_transpose_option(syntax, request->tune);
    add_sound_options(syntax, request->output.sound);
    return [request] {
        Terminal terminal;
        terminal.announce(convert(*request, terminal));
        return kDone;
    };
}

}  // namespace shedbook
