// Ticks on paper into the log.
#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "log_words.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/log/pages.h"
#include "shedbook/log/place.h"

namespace shedbook {
namespace {

using Words = std::vector<std::string>;

Words words_of_line(std::string_view line) {
    Words out;
    for (const std::string_view word : split(line, ' ')) {
        if (!trimmed(word).empty()) out.emplace_back(trimmed(word));
    }
    return out;
}

// One line as it was typed, or the lines of a file; an empty line and one that begins with # say nothing.
std::vector<Words> lines_of(const TicksRequest& request) {
    if (request.words.empty())
        throw UsageError(
            "ticks of which pages? the code in their footer, then what was ticked: K7PQ2M 2.3@86,115 2.4m");
    std::error_code error;
    if (request.words.size() > 1 || !std::filesystem::is_regular_file(request.words.front(), error))
        return {request.words};
    const std::string text = read_file(request.words.front());
    std::vector<Words> out;
    for (const std::string_view line : split(text, '\n')) {
        Words words = words_of_line(line);
        if (!words.empty() && !words.front().starts_with('#')) out.push_back(std::move(words));
    }
    return out;
}

std::string code_in(const std::string& word) {
    std::string out = word;
    std::ranges::transform(
        out, out.begin(), [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
    return out;
}

PrintedPages pages_with(const std::string& code, const TicksRequest& request, Caller& caller) {
    const std::string folder = pages_folder(log_file("", data_environment()));
    const std::vector<std::string> known = codes_in(folder);
    std::string file = request.pages;
    if (file.empty()) {
        if (std::ranges::find(known, code) == known.end()) {
            const std::string near = nearest(code, known);
            throw UsageError("no pages with the code '" + code + "' were made here" +
                             (near.empty() ? "; if they were made elsewhere, bring " + code +
                                                 ".json from its folder and name it with --pages"
                                           : "; did you mean '" + near + "'?"));
        }
        file = (std::filesystem::path{folder} / (code + ".json")).string();
    }
    Diagnostics diagnostics;
    std::optional<PrintedPages> out = read_pages(SourceText{file, read_file(file)}, diagnostics);
    caller.say(diagnostics);
    if (!out) throw InputError{};
    if (out->code != code)
        throw UsageError("'" + file + "' is about the pages " + out->code + ", not " + code);
    return *std::move(out);
}

}  // namespace

std::vector<Entered> enter_ticks(const TicksRequest& request, Caller& caller) {
    const std::string player = player_called(request.place.player);
    const Day day = day_called(request.on, request.place.today);
    std::vector<Entry> entries;
    Diagnostics diagnostics;
    for (const Words& line : lines_of(request)) {
        const PrintedPages pages = pages_with(code_in(line.front()), request, caller);
        if (line.size() < 2) throw UsageError("what was ticked on " + pages.code + "? 2.3@86,115 or 2.4m");
        for (Entry& entry : entries_of(pages, {line.begin() + 1, line.end()}, day, diagnostics))
            entries.push_back(std::move(entry));
    }
    caller.say(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    LogBook log{log_file(request.place.data, data_environment())};
    const std::vector<std::int64_t> ids = log.add_all(player, entries, request.place.now);
    std::vector<Entered> out;
    for (std::size_t i = 0; i < entries.size(); ++i)
        out.push_back(
            {ids[i], entries[i], std::nullopt, log.standing(player, entries[i].item).value_or(Standing{})});
    return out;
}

}  // namespace shedbook
