// Tunes of the folder: list, read, save, new, rename, remove; and taking files in.
#include <algorithm>
#include <array>
#include <chrono>
#include <filesystem>
#include <utility>

#include "json.h"
#include "listener.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "shedbook/book/roster.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/job/jobs.h"
#include "tune_names.h"

namespace shedbook {
namespace {

constexpr std::chrono::milliseconds kPatienceOfList{300};

Deadline soon() {
    return std::chrono::steady_clock::now() + kPatienceOfList;
}

Answer list_tunes(Desk& desk, const Ask& /*all of them*/) {
    Data::Array tunes;
    const Deadline until = soon();
    for (const std::string& file : desk.folder.chart_files()) {
        if (auto tune = desk.shelf.describe(desk.folder, file, until))
            tunes.push_back(as_data(*std::move(tune)));
    }
    return answered({{"tunes", as_data(std::move(tunes))}});
}

Answer read_one(Desk& desk, const Ask& ask) {
    return answered(described_tune(desk, tune_file(desk, ask.path[2]), true));
}

// The notes of a starter stand in the page beside the chart, under "How a chart is written".
std::string without_notes(const std::string& text) {
    std::string out;
    for (const std::string_view line : split(text, '\n')) {
        const bool is_second_blank = trimmed(line).empty() && (out.empty() || out.ends_with("\n\n"));
        if (!line.starts_with(';') && !is_second_blank) out += std::string{line} + "\n";
    }
    while (out.ends_with("\n\n")) out.pop_back();
    return out;
}

// The text of a starter, from the same function that writes its file.
std::string starter_text(const Body& body, const std::string& title, Caller& caller) {
    StarterRequest request;
    request.title = title;
    request.form = body.text("form");
    request.bars = body.number("bars");
    if (body.has("key")) request.key = body.text("key");
    if (body.has("meter")) request.meter = body.text("meter");
    const TemporaryFolder folder;
    request.file = folder.path() + "/new.tune";
    return without_notes(read_file(start_chart(request, caller).front()));
}

Answer new_tune(Desk& desk, const Ask& ask) {
    const Body body{ask};
    const std::string title = body.text("title");
    const std::string name = plain_name(title);
    if (name.empty()) throw Refusal(422, "a tune needs a title with letters in it");
    const std::string file = name + ".tune";
    if (desk.folder.has(file)) throw Refusal(409, "there is a tune '" + name + "' already");
    Listener listener;
    const std::string text = body.has("text") ? body.text("text") : starter_text(body, title, listener);
    if (std::holds_alternative<TuneFolder::Conflict>(desk.folder.save(file, text, "", false)))
        throw Refusal(409, "there is a tune '" + name + "' already");
    return answered(described_tune(desk, file, true), 201);
}

// The text in tidy form; as it is where it has errors.
std::string tidied(const std::string& name, const std::string& text, Diagnostics& diagnostics) {
    const std::optional<Chart> chart = read_tune(SourceText{name, text}, diagnostics);
    return chart && !diagnostics.has_errors() ? write_tune(*chart) : text;
}

Answer tidy(Desk& /*of no file*/, const Ask& ask) {
    const Body body{ask};
    const std::string text = body.text("text");
    Diagnostics diagnostics;
    const std::string tidy_text = tidied("tune", text, diagnostics);
    return answered({{"text", as_data(tidy_text)}, {"slips", as_data(slips_of(diagnostics, &text))}});
}

Answer conflict(std::optional<StoredText> theirs) {
    Data::Object stored;
    if (theirs) {
        stored = {{"text", is_valid_utf8(theirs->text) ? as_data(theirs->text) : Data{}},
                  {"revision", as_data(theirs->revision)},
                  {"changed", as_data(theirs->changed)}};
    }
    return refused(409, theirs ? "This tune was changed outside." : "This tune was removed outside.",
                   {{"theirs", theirs ? as_data(std::move(stored)) : Data{}}});
}

Answer save_tune(Desk& desk, const Ask& ask) {
    const Body body{ask};
    const std::string& name = ask.path[2];
    check_file_name(name);
    const std::string file = desk.folder.file_of(name).value_or(name + ".tune");
    if (!file.ends_with(".tune")) throw Refusal(422, "only text charts (.tune) are written here");
    if (!body.has("text")) throw Refusal(400, "'text' is missing in what was sent");
    std::string text = body.text("text");
    Diagnostics diagnostics;
    const std::string tidy_text = tidied(name, text, diagnostics);
    if (body.flag("tidy")) text = tidy_text;
    auto saved = desk.folder.save(file, text, revision_asked(ask), ask.if_match == "*");
    if (auto* other = std::get_if<TuneFolder::Conflict>(&saved)) return conflict(std::move(other->theirs));
    const StoredText& stored = std::get<StoredText>(saved);
    return answered({{"revision", as_data(stored.revision)},
                     {"changed", as_data(stored.changed)},
                     {"text", as_data(stored.text)},
                     {"slips", as_data(slips_of(diagnostics, &stored.text))}});
}

Answer rename_tune(Desk& desk, const Ask& ask) {
    const Body body{ask};
    const std::string file = tune_file(desk, ask.path[2]);
    const std::string name = body.text("to");
    check_file_name(name);
    const std::string to = name + std::filesystem::path{file}.extension().string();
    if (to != file && !desk.folder.rename(file, to))
        throw Refusal(409, "there is a tune '" + name + "' already");
    return answered(described_tune(desk, to, false));
}

Answer remove_tune(Desk& desk, const Ask& ask) {
    return answered({{"bin", as_data(desk.folder.remove(tune_file(desk, ask.path[2])))}});
}

std::size_t chords_in(const Chart& chart) {
    std::size_t out = 0;
    for (const Section& section : chart.sections) {
        for (const Bar& bar : section.bars) out += bar.chords.size();
    }
    return out;
}

// A file of any form as a text chart of the folder.
Answer take_in(Desk& desk, const std::string& given, const std::string& bytes) {
    Diagnostics diagnostics;
    const std::optional<Chart> chart = read_chart(given, bytes, {}, diagnostics);
    Data::Array slips = slips_of(diagnostics);
    if (!chart || diagnostics.has_errors())
        throw Refusal(422, "'" + given + "' cannot be read as a tune",
                      {{"slips", as_data(std::move(slips))}});
    const std::string stem = plain_name(std::filesystem::path{given}.stem().string());
    const std::string file = desk.folder.free_name((stem.empty() ? "tune" : stem) + ".tune");
    if (std::holds_alternative<TuneFolder::Conflict>(desk.folder.save(file, write_tune(*chart), "", false)))
        throw Refusal(409, "there is a tune of that name already");
    int bars = 0;
    for (const Section& section : chart->sections) bars += static_cast<int>(section.bars.size());
    return answered(
        {{"tune", as_data(described_tune(desk, file, false))},
         {"read", as_data(std::to_string(bars) + " bars, " + std::to_string(chords_in(*chart)) + " chords")},
         {"lost", as_data(lost_in_tune(*chart))},
         {"slips", as_data(std::move(slips))}},
        201);
}

Answer import_file(Desk& desk, const Ask& ask) {
    const std::string given = ask.word("file");
    check_file_name(given);
    return take_in(desk, given, ask.body);
}

Answer import_here(Desk& desk, const Ask& ask) {
    const std::string file = tune_file(desk, ask.path[2]);
    return take_in(desk, file, desk.folder.read(file).value_or(StoredText{}).text);
}

}  // namespace

std::string tune_file(const Desk& desk, const std::string& name) {
    const std::optional<std::string> file = desk.folder.file_of(name);
    if (!file) throw Refusal(404, "there is no tune '" + name + "'");
    return *file;
}

Data::Object described_tune(Desk& desk, const std::string& file, bool with_text) {
    std::optional<Data::Object> out = desk.shelf.describe(desk.folder, file, soon());
    if (!out) throw Refusal(404, "there is no tune '" + file + "'");
    if (with_text) {
        const std::optional<StoredText> stored = desk.folder.read(file);
        const bool is_text = file.ends_with(".tune") && stored && is_valid_utf8(stored->text);
        out->emplace_back("text", is_text ? as_data(stored->text) : Data{});
    }
    return *std::move(out);
}

std::string revision_asked(const Ask& ask) {
    if (ask.if_match.empty())
        throw Refusal(428, "of which revision? If-Match is missing, or * where nothing is there to be kept");
    std::string out = ask.if_match;
    std::erase(out, '"');
    return out;
}

std::span<const Route> tune_routes() {
    static constexpr std::array<Route, 9> kRoutes{{
        {"GET", "/api/tunes", list_tunes},
        {"POST", "/api/tunes", new_tune},
        {"GET", "/api/tunes/*", read_one},
        {"PUT", "/api/tunes/*", save_tune},
        {"DELETE", "/api/tunes/*", remove_tune},
        {"POST", "/api/tunes/*/rename", rename_tune},
        {"POST", "/api/tunes/*/import-here", import_here},
        {"POST", "/api/import", import_file},
        {"POST", "/api/tidy", tidy, true},
    }};
    return kRoutes;
}

}  // namespace shedbook
