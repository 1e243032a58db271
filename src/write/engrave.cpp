#include "engrave.h"

#include <filesystem>
#include <ostream>
#include <sstream>

#include "lilypond_book.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"

namespace shedbook {
namespace {

constexpr int kLoosest = 3;  // systems fewer a page that we try before giving up

// Debian's package does not find its own compiled Scheme by itself, and is twice as slow without it.
std::vector<std::pair<std::string, std::string>> engraver_environment() {
    std::error_code error;
    for (const auto& version :
         std::filesystem::directory_iterator{"/usr/lib/x86_64-linux-gnu/lilypond", error}) {
        const std::filesystem::path folder = version.path() / "ccache";
        if (std::filesystem::is_directory(folder, error))
            return {{"GUILE_LOAD_COMPILED_PATH", folder.string()}};
    }
    return {};
}

// A letter that the fonts do not have leaves a gap in a title and no fault in the pages; everything else is
// one.
bool says_page_is_wrong(const std::string& said) {
    for (const std::string_view line : split(said, '\n')) {
        if (line.find("warning") != std::string_view::npos && line.find("no glyph") == std::string_view::npos)
            return true;
    }
    return false;
}

}  // namespace

std::string lilypond_text(const std::function<void(BlockSink&)>& assemble, const WriteOptions& options,
                          int tightness) {
    PageRoom room;
    room.with_head -= tightness;
    room.without_head -= tightness;
    room.etude -= tightness;
    if (options.paper == Paper::Letter) {
        --room.without_head;
        room.contents_lines = 47;
        room.table_rows = 12;
    }
    PagePlanner planner;
    assemble(planner);
    std::ostringstream out;
    LilypondWriter writer{out, planner.plan(room), room, options.paper};
    assemble(writer);
    return out.str();
}

void write_pdf(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options) {
    const std::optional<std::string> engraver = find_program("lilypond");
    if (!engraver) {
        throw FileError(
            "a PDF needs the engraver LilyPond (on Debian: apt-get install lilypond); .mxl, .musicxml and "
            ".ly work "
            "without it");
    }
    std::string said;
    for (int tightness = 0; tightness <= kLoosest; ++tightness) {
        const TemporaryFolder folder;
        const std::string text = lilypond_text(assemble, options, tightness);
        write_atomically(folder.path() + "/book.ly", [&](std::ostream& out) { out << text; });
        const ProcessResult result =
            run_process({*engraver, "--loglevel=WARN", "-o", "book", "book.ly"},
                        {folder.path(), engraver_environment(), std::chrono::seconds{600}});
        if (result.timed_out) throw FileError("the engraver did not end within ten minutes");
        said = result.said;
        if (result.exit_code != 0) break;
        if (says_page_is_wrong(said)) continue;
        const std::string pdf = read_file(folder.path() + "/book.pdf", 512U * 1024 * 1024);
        write_atomically(path, [&](std::ostream& out) {
            out.write(pdf.data(), static_cast<std::streamsize>(pdf.size()));
        });
        return;
    }
    throw FileError("the engraver could not set this book: " + said.substr(0, 600));
}

}  // namespace shedbook
