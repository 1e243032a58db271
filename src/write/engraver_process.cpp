#include "engraver_process.h"

#include <charconv>
#include <chrono>
#include <filesystem>
#include <ostream>

#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"
#include "shedbook/write/writers.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

// Lines of kLilypondReport.
constexpr std::string_view kPartIsDone = "shedbook-part ";
constexpr std::string_view kPageIsSet = "shedbook-page ";
constexpr std::string_view kIsWide = "shedbook-wide ";
// What every file says first: which one it is.
constexpr std::string_view kFile = "shedbook-file ";
constexpr std::size_t kMostSaidOfAFile = 4U * 1024 * 1024;

double number_in(std::string_view text) {
    double out = 0;
    std::from_chars(text.data(), text.data() + text.size(), out);
    return out;
}

std::string engraver() {
    const std::optional<std::string> found = find_program("lilypond");
    if (found) return *found;
    throw MissingProgram(
        "pages need the engraver LilyPond (on Debian: apt-get install lilypond); .mxl, .musicxml, .ly and "
        ".mid work without it");
}

// Behind the line with its name, up to the next file's.
std::string said_of(const std::string& name, const std::string& said) {
    const std::string head = std::string{kFile} + name + "\n";
    const std::size_t at = said.find(head);
    if (at == std::string::npos) return {};
    const std::size_t begin = at + head.size();
    return said.substr(begin, said.find(kFile, begin) - begin);
}

// Of several files at once the engraver writes what it says into files of its own.
std::vector<fs::path> files_of_words(const TemporaryFolder& folder) {
    std::vector<fs::path> out;
    for (const auto& file : fs::directory_iterator{folder.path()}) {
        if (file.path().extension() == ".log") out.push_back(file.path());
    }
    return out;
}

std::string said_in_files(const TemporaryFolder& folder) {
    std::string out;
    for (const fs::path& file : files_of_words(folder))
        out += "\n" + read_file(file.string(), kMostSaidOfAFile);
    return out;
}

int pages_in(const std::string& said) {
    int out = 0;
    for (std::size_t at = 0; (at = said.find(kPageIsSet, at)) != std::string::npos; ++at) ++out;
    return out;
}

bool is_warning(std::string_view line) {
    // A letter that the fonts do not have leaves a gap in a title and no fault in the pages.
    return (line.find("warning") != std::string_view::npos || line.find("error") != std::string_view::npos) &&
           line.find("no glyph") == std::string_view::npos;
}

}  // namespace

std::string missing_for_pages() {
    try {
        static_cast<void>(engraver());
    } catch (const MissingProgram& error) {
        return error.what();
    }
    return {};
}

std::vector<std::pair<std::string, std::string>> engraver_environment() {
    std::error_code error;
    // A folder for each kind of machine: /usr/lib/x86_64-linux-gnu/lilypond/2.24.1/ccache.
    for (const auto& machine : fs::directory_iterator{"/usr/lib", error}) {
        for (const auto& version : fs::directory_iterator{machine.path() / "lilypond", error}) {
            const fs::path folder = version.path() / "ccache";
            if (fs::is_directory(folder, error)) return {{"GUILE_LOAD_COMPILED_PATH", folder.string()}};
        }
    }
    return {};
}

std::string engraver_identity() {
    const std::string path = engraver();
    std::error_code error;
    const auto changed = fs::last_write_time(path, error).time_since_epoch().count();
    return path + " " + std::to_string(fs::file_size(path, error)) + " " + std::to_string(changed);
}

std::vector<std::string> run_engraver(const TemporaryFolder& folder, const std::vector<std::string>& options,
                                      const std::vector<std::string>& names,
                                      const std::function<void(int pages)>& on_pages) {
    std::vector<std::string> command{engraver(), "--loglevel=WARN"};
    command.insert(command.end(), options.begin(), options.end());
    const bool are_several = names.size() > 1;
    if (are_several) command.push_back("-djob-count=" + std::to_string(names.size()));
    if (!are_several) command.insert(command.end(), {"-o", names.front()});
    for (const std::string& name : names) command.push_back(name + ".ly");
    const auto count_pages = [&](const std::string& said) {
        on_pages(pages_in(said) + (are_several ? pages_in(said_in_files(folder)) : 0));
    };
    const ProcessResult result =
        run_process(command, {folder.path(), engraver_environment(), std::chrono::seconds{600},
                              on_pages ? std::function<void(const std::string&)>{count_pages} : nullptr});
    if (result.timed_out) throw FailedProgram("the engraver did not end within ten minutes");
    if (result.interrupted) throw Stopped("stopped; nothing was written");
    if (result.signal != 0)
        throw FailedProgram("the engraver " + how_it_ended(result) + "; nothing was written");
    std::string said = result.said;
    if (are_several) {
        said += said_in_files(folder);
        for (const fs::path& file : files_of_words(folder)) fs::remove(file);
    }
    if (result.exit_code != 0)
        throw FailedProgram("the engraver could not set these pages: " + said.substr(0, 600));
    std::vector<std::string> out;
    out.reserve(names.size());
    for (const std::string& name : names) out.push_back(said_of(name, said));
    return out;
}

void put(const TemporaryFolder& folder, const std::string& name, std::string_view preamble,
         std::span<const EngraverPart> parts) {
    write_atomically(folder.path() + "/" + name + ".ly", [&](std::ostream& out) {
        out << "#(begin (format (current-error-port) \"" << kFile << name
            << "\\n\") (force-output (current-error-port)))\n"
            << preamble;
        for (const EngraverPart& part : parts) out << part.text;
    });
}

int Engraved::pages() const {
    int out = 0;
    for (const EngravedPart& part : parts) out += part.pages;
    return out;
}

Engraved read_engraver(std::string_view said) {
    Engraved out;
    EngravedPart part;
    for (const std::string_view line : split(said, '\n')) {
        if (line.starts_with(kIsWide)) {
            part.wide = std::max(part.wide, number_in(line.substr(kIsWide.size())));
        } else if (line.starts_with(kPartIsDone)) {
            // The part's key, or #f, then its pages.
            const std::string_view key = line.substr(kPartIsDone.size());
            if (!key.starts_with('#')) part.key = static_cast<int>(number_in(key));
            part.pages = static_cast<int>(number_in(key.substr(key.find(' ') + 1)));
            out.parts.push_back(std::move(part));
            part = {};
        } else if (is_warning(line)) {
            part.warning = line;
        }
    }
    out.fault = part.warning;
    return out;
}

}  // namespace shedbook
