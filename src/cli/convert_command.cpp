#include <memory>

#include "command.h"
#include "options.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
#include "terminal.h"

namespace shedbook {

Action convert_command(Syntax& syntax) {
    auto request = std::make_shared<ConvertRequest>();
    syntax.add_option("in", request->input, "tune to read: " + chart_endings() + "; - is standard input")
        .required();
    syntax.add_option("-o,--output", request->output.file, "file to write: .tune, .json, " + writer_endings())
        .required();
    syntax
        .add_option("--for", request->part.instruments, "write the changes for these instruments, transposed")
        .with_commas();
    syntax.add_option("--symbols", request->symbols,
                      "how chord symbols are printed, e.g. signs,triangle,dash (also: letters, M)");
    syntax.add_option("--prefer", request->part.prefer,
                      "sharps or flats, where a key can be written both ways");
    syntax.add_option("--transpose", request->tune.transpose, "to a key (Eb) or by an interval (\"up m3\")");
    syntax.add_option("--part", request->tune.part, "which part of a score with several");
    add_sound_options(syntax, request->output.sound);
    return [request] {
        Terminal terminal;
        convert(*request, terminal);
        return kDone;
    };
}

}  // namespace shedbook
