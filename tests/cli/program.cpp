#include "program.h"

#include <sys/wait.h>

#include <cstdlib>
#include <ostream>

#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {

Outcome run_program(const std::string& arguments, const std::string& input) {
    const ScratchFolder folder;
    write_atomically(folder.file("in"), [&](std::ostream& out) { out << input; });
    // What books leave in the data folder goes with the run, where a test has not set another.
    const std::string command = "XDG_DATA_HOME=" + folder.file("data") + " " + std::string{SHEDBOOK_PROGRAM} +
                                " " + arguments + " < " + folder.file("in") + " > " + folder.file("out") +
                                " 2> " + folder.file("err");
    const int status = std::system(command.c_str());  // NOLINT: a shell is what users have
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, read_file(folder.file("out")),
            read_file(folder.file("err"))};
}

}  // namespace shedbook
