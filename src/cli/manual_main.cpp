// Writes the pages of the manual and the completions into a folder: man/shedbook.1, man/shedbook-book.1 ...,
// completions/shedbook.bash, completions/_shedbook, completions/shedbook.fish. It is for the build, and is
// not installed.
#include <exception>
#include <filesystem>
#include <iostream>
#include <ostream>
#include <string>

#include "manual.h"
#include "run.h"
#include "shedbook/io/files.h"

namespace {

void write_text(const std::filesystem::path& path, const std::string& text) {
    shedbook::write_atomically(path.string(), [&](std::ostream& out) { out << text; });
}

void write_pages(const std::filesystem::path& folder, const shedbook::CommandRows& command,
                 const std::string& version) {
    write_text(folder / (shedbook::man_page_name(command) + ".1"), shedbook::man_page_of(command, version));
    for (const shedbook::CommandRows& own : command.commands) write_pages(folder, own, version);
}

void write_manual(const std::filesystem::path& folder, const std::string& version) {
    const std::vector<shedbook::CommandRows> commands = shedbook::all_commands();
    std::filesystem::create_directories(folder / "man");
    std::filesystem::create_directories(folder / "completions");
    write_text(folder / "man/shedbook.1", shedbook::man_page_of_program(commands, version));
    for (const shedbook::CommandRows& command : commands) write_pages(folder / "man", command, version);
    write_text(folder / "completions/shedbook.bash", shedbook::bash_completion(commands));
    write_text(folder / "completions/_shedbook", shedbook::zsh_completion(commands));
    write_text(folder / "completions/shedbook.fish", shedbook::fish_completion(commands));
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 3) {
        std::cerr << "usage: shedbook_manual FOLDER VERSION\n";
        return 2;
    }
    try {
        write_manual(argv[1], argv[2]);
        return 0;
    } catch (const std::exception& error) {
        std::cerr << "shedbook_manual: " << error.what() << "\n";
        return 3;
    }
}
