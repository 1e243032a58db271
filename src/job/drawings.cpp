#include "drawings.h"

#include <ostream>
#include <string_view>

#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/process.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/job/caller.h"

namespace shedbook {
namespace {

std::string converter() {
    if (const std::optional<std::string> found = find_program("rsvg-convert")) return *found;
    throw MissingProgram(
        "a drawing as .pdf or .png needs rsvg-convert (on Debian: apt-get install librsvg2-bin); .svg works "
        "without it");
}

void convert_drawing(const std::string& file, const std::string& form,
                     const std::function<void(std::ostream&)>& draw) {
    const InterruptWatch watch;
    const std::string program = converter();
    const TemporaryFolder folder;
    const std::string drawn = folder.path() + "/drawn." + form;
    write_atomically(folder.path() + "/drawing.svg", draw);
    const ProcessResult result =
        run_process({program, "-f", form, "-o", drawn, folder.path() + "/drawing.svg"});
    if (result.interrupted) throw Stopped("stopped; nothing was written");
    if (result.exit_code != 0)
        throw FailedProgram("rsvg-convert " + how_it_ended(result) + ": " + result.said.substr(0, 300));
    const std::string bytes = read_file(drawn);
    write_atomically(file, [&](std::ostream& out) { out << bytes; });
}

}  // namespace

void write_drawing(const std::string& file, const std::string& what,
                   const std::function<void(std::ostream&)>& draw) {
    const std::string name = lower_case(file);
    if (name.ends_with(".svg")) return write_atomically(file, draw);
    for (const std::string_view form : {"pdf", "png"}) {
        if (name.ends_with("." + std::string{form})) return convert_drawing(file, std::string{form}, draw);
    }
    throw UsageError(what + " is drawn as .svg, .pdf or .png, not as '" + file + "'");
}

}  // namespace shedbook
