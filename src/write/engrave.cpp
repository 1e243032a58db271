#include "engrave.h"

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <iterator>
#include <ostream>
#include <sstream>

#include "score_pages.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/process.h"
#include "shedbook/io/temporary_folder.h"

namespace shedbook {
namespace {

using Assemble = std::function<void(BlockSink&)>;

constexpr int kMostRounds = 4;  // of loosening the parts that did not fit, before giving up
// More pages than this are engraved in two halves at once, where there is a program that joins them.
constexpr int kMostAtOnce = 60;
constexpr std::uintmax_t kMostBytes = 512U * 1024 * 1024;

int number_in(std::string_view text) {
    int out = 0;
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

// Everything that the engraver said: of several files at once it writes what it says of each into a file.
std::string run_engraver(const TemporaryFolder& folder, const std::vector<std::string>& arguments) {
    std::vector<std::string> command{engraver(), "--loglevel=WARN"};
    command.insert(command.end(), arguments.begin(), arguments.end());
    const ProcessResult result =
        run_process(command, {folder.path(), engraver_environment(), std::chrono::seconds{600}});
    if (result.timed_out) throw FailedProgram("the engraver did not end within ten minutes");
    if (result.interrupted) throw Stopped("stopped; nothing was written");
    if (result.signal != 0)
        throw FailedProgram("the engraver " + how_it_ended(result) + "; nothing was written");
    std::string said = result.said;
    for (const auto& file : std::filesystem::directory_iterator{folder.path()}) {
        if (file.path().extension() == ".log") said += read_file(file.path().string(), kMostBytes);
    }
    if (result.exit_code != 0)
        throw FailedProgram("the engraver could not set these pages: " + said.substr(0, 600));
    return said;
}

void put(const TemporaryFolder& folder, const std::string& name, std::string_view preamble,
         std::span<const EngraverPart> parts) {
    write_atomically(folder.path() + "/" + name, [&](std::ostream& out) {
        out << preamble;
        for (const EngraverPart& part : parts) out << part.text;
    });
}

void hand_over(const std::string& from, const std::string& path) {
    // One of its own helpers may have been ended: then it says nothing of it and leaves no pages.
    if (!std::filesystem::exists(from))
        throw FailedProgram("the engraver ended without its pages; nothing was written");
    const std::string bytes = read_file(from, kMostBytes);
    write_atomically(path, [&](std::ostream& out) {
        out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    });
}

// Engraves a book as book.pdf in a folder.
std::string engrave_book(const TemporaryFolder& folder, const EngraverText& text) {
    const std::optional<std::string> joiner = find_program("qpdf");
    const std::span<const EngraverPart> parts{text.parts};
    if (text.pages <= kMostAtOnce || !joiner) {
        put(folder, "book.ly", text.preamble, parts);
        return run_engraver(folder, {"-o", "book", "book.ly"});
    }
    const auto middle = std::ranges::find_if(
        parts, [&](const EngraverPart& part) { return part.first_page > text.pages / 2; });
    const auto half = static_cast<std::size_t>(middle - parts.begin());
    put(folder, "one.ly", text.preamble, parts.first(half));
    put(folder, "two.ly", text.preamble, parts.subspan(half));
    std::string said = run_engraver(folder, {"-djob-count=2", "one.ly", "two.ly"});
    const ProcessResult joined =
        run_process({*joiner, "--empty", "--pages", "one.pdf", "two.pdf", "--", "book.pdf"},
                    {folder.path(), {}, std::chrono::seconds{60}});
    if (joined.interrupted) throw Stopped("stopped; nothing was written");
    if (joined.exit_code != 0)
        throw FailedProgram("qpdf could not join the pages: it " + how_it_ended(joined) + ": " +
                            joined.said.substr(0, 300));
    return said;
}

// Sets the parts at fault by themselves, looser each time, until they fit.
void loosen(const Document& document, Paper paper, Faults& faults, std::vector<int> faulty) {
    for (int round = 0; round < kMostRounds && !faulty.empty(); ++round) {
        for (const int key : faulty) ++faults[key];
        const EngraverText text = engraver_text(document, paper, faults);
        std::vector<EngraverPart> parts;
        std::ranges::copy_if(text.parts, std::back_inserter(parts), [&](const EngraverPart& part) {
            return std::ranges::find(faulty, part.key) != faulty.end();
        });
        const TemporaryFolder folder;
        put(folder, "parts.ly", text.preamble, parts);
        faulty = read_engraver(run_engraver(folder, {"-o", "parts", "parts.ly"})).faulty;
    }
}

void write_picture(const std::string& path, const Assemble& assemble, const WriteOptions& options,
                   const std::string& format, const std::string& stem) {
    const InterruptWatch watch;
    const EngraverText text = engraver_text(recorded(assemble), options.paper);
    // The last part that begins at or before the page.
    const auto behind = std::ranges::find_if(
        text.parts, [&](const EngraverPart& part) { return part.first_page > options.page; });
    const bool is_there = behind != text.parts.begin();
    const TemporaryFolder folder;
    Engraved engraved;
    int page = options.page;
    if (is_there) {
        const EngraverPart& part = *(behind - 1);
        page -= part.first_page - 1;
        put(folder, "page.ly", text.preamble, {&part, 1});
        engraved =
            read_engraver(run_engraver(folder, {"--" + format, "-dresolution=150", "-o", "page", "page.ly"}));
    }
    if (page > engraved.pages) {
        throw UnusableRequest("there is no page " + std::to_string(options.page) +
                              (text.pages > 0 ? "; the book has " + std::to_string(text.pages) : ""));
    }
    if (!engraved.fault.empty())
        throw FailedProgram("the engraver could not set this page: " + engraved.fault);
    hand_over(
        folder.path() + "/page" + (engraved.pages == 1 ? "" : stem + std::to_string(page)) + "." + format,
        path);
}

}  // namespace

std::vector<std::pair<std::string, std::string>> engraver_environment() {
    namespace fs = std::filesystem;
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

EngraverText engraver_text(const Document& document, Paper paper, const Faults& faults) {
    if (document.head.parts.size() > 1) return score_text(document, paper);
    return book_text(document, room_of(paper), faults);
}

Engraved read_engraver(std::string_view said) {
    Engraved out;
    std::string warning;  // the last one of this part
    for (const std::string_view line : split(said, '\n')) {
        if (line.starts_with(kPartDone)) {
            // The part's key, or #f, then its pages.
            const std::string_view key = line.substr(kPartDone.size());
            out.pages += number_in(key.substr(key.find(' ') + 1));
            if (!warning.empty() && key.starts_with('#')) out.fault = warning;
            if (!warning.empty() && !key.starts_with('#')) out.faulty.push_back(number_in(key));
            warning.clear();
        } else if ((line.find("warning") != std::string_view::npos ||
                    line.find("error") != std::string_view::npos) &&
                   line.find("no glyph") == std::string_view::npos) {
            // A letter that the fonts do not have leaves a gap in a title and no fault in the pages.
            warning = line;
        }
    }
    if (!warning.empty()) out.fault = warning;
    return out;
}

void write_pdf(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    const InterruptWatch watch;  // so that Ctrl-C ends the engraver too, and leaves nothing behind
    const Document document = recorded(assemble);
    Faults faults;
    // What fits by itself fits in the book: one round is enough but for a change of plan by new page numbers.
    for (int round = 0; round < kMostRounds; ++round) {
        const TemporaryFolder folder;
        const EngraverText text = engraver_text(document, options.paper, faults);
        Engraved engraved = read_engraver(engrave_book(folder, text));
        if (engraved.faulty.empty() && text.pages > 0 && engraved.pages != text.pages) {
            engraved.fault = std::to_string(text.pages) + " pages were planned, and it made " +
                             std::to_string(engraved.pages);
        }
        if (!engraved.fault.empty())
            throw FailedProgram("the engraver could not set this book: " + engraved.fault);
        if (engraved.faulty.empty()) return hand_over(folder.path() + "/book.pdf", path);
        loosen(document, options.paper, faults, engraved.faulty);
    }
    throw FailedProgram("the engraver could not set this book: over-full pages");
}

void write_svg(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    write_picture(path, assemble, options, "svg", "-");
}

void write_png(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    write_picture(path, assemble, options, "png", "-page");
}

}  // namespace shedbook
