// Rosters of classes: tables (.csv) of the folder, edited cell by cell, lists (.toml) to look at, and what
// each student is to play.
#include <algorithm>
#include <array>
#include <utility>

#include "json.h"
#include "listener.h"
#include "roster_shown.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "shedbook/book/roster.h"
#include "shedbook/job/log_data.h"
#include "shedbook/job/log_jobs.h"
#include "tune_names.h"

namespace shedbook {
namespace {

// A table can be edited here; a list in TOML, whose comments are its writer's, is only shown.
constexpr std::array<const char*, 2> kEndings{".csv", ".toml"};
constexpr const char* kTable = kEndings.front();
constexpr std::array<const char*, 3> kFirstColumns{"name", "instrument", "level"};
constexpr std::size_t kMostRosterRows = 2000;

bool is_table(const std::string& file) {
    return file.ends_with(kTable);
}

Answer list_classes(Desk& desk, const Ask& /*all of them*/) {
    Data::Array out;
    for (const char* ending : kEndings) {
        for (const std::string& file : desk.folder.files_with(ending)) {
            const std::optional<StoredText> stored = desk.folder.read(file);
            if (!stored || !is_valid_utf8(stored->text) || !is_roster(file, stored->text)) continue;
            Diagnostics said;
            const Roster roster = read_roster(SourceText{file, stored->text}, said);
            out.push_back(as_data(Data::Object{{"name", as_data(class_called(file))},
                                               {"editable", {is_table(file)}},
                                               {"rows", size_as_data(roster.rows)},
                                               {"slips", size_as_data(said.error_count())}}));
        }
    }
    return answered({{"rosters", as_data(std::move(out))}});
}

Answer read_class(Desk& desk, const Ask& ask) {
    const std::string file = roster_file(desk, ask.path[2]);
    return answered(roster_as_data(file, desk.folder.read(file).value_or(StoredText{})));
}

// RFC 4180.
std::string csv_cell(const std::string& text) {
    if (text.find_first_of(",;\t\"\n\r") == std::string::npos && trimmed(text).size() == text.size())
        return text;
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? std::string{"\"\""} : std::string{c};
    return out + "\"";
}

std::string csv_line(const std::vector<std::string>& cells) {
    std::vector<std::string> out;
    out.reserve(cells.size());
    for (const std::string& cell : cells) out.push_back(csv_cell(cell));
    return join(out, ",") + "\n";
}

// Plans of one's own are files beside the roster; no other is named from a page.
void check_cell(const std::string& text) {
    if (text.find('/') != std::string::npos && text.ends_with(".toml"))
        throw Refusal(422, "a plan of your own lies beside the roster");
}

// The file of a class that is written here.
std::string table_asked(const Desk& desk, const Ask& ask) {
    std::string file = roster_file(desk, ask.path[2]);
    if (!is_table(file))
        throw Refusal(422,
                      "this list is a text of its own (" + file + "): make a table of it to edit it here");
    return file;
}

std::string csv_said(const Body& body) {
    std::vector<std::string> columns = body.texts("columns");
    if (columns.empty()) columns.assign(kFirstColumns.begin(), kFirstColumns.end());
    std::string out = csv_line(columns);
    const Data* rows = body.find("rows");
    if (rows == nullptr) return out;
    const Data::Array* list = rows->as_array();
    if (list == nullptr || list->size() > kMostRosterRows)
        throw Refusal(400, "'rows' is a list, of 2000 at most");
    for (const Data& row : *list) {
        const Data::Array* cells = row.as_array();
        if (cells == nullptr) throw Refusal(400, "a row is a list of texts");
        std::vector<std::string> texts;
        for (const Data& cell : *cells) {
            texts.push_back(cell.as_string().value_or(""));
            check_cell(texts.back());
        }
        const bool is_empty =
            std::ranges::all_of(texts, [](const std::string& t) { return trimmed(t).empty(); });
        if (!is_empty) out += csv_line(texts);
    }
    return out;
}

Answer save_class(Desk& desk, const Ask& ask) {
    const std::string file = table_asked(desk, ask);
    const Body body{ask};
    auto saved = desk.folder.save(file, csv_said(body), revision_asked(ask), ask.if_match == "*");
    if (auto* other = std::get_if<TuneFolder::Conflict>(&saved)) {
        const bool is_there = other->theirs.has_value();
        return refused(409, is_there ? "This list was changed outside." : "This list was removed outside.",
                       {{"theirs", is_there ? as_data(roster_as_data(file, *other->theirs)) : Data{}}});
    }
    return answered(roster_as_data(file, std::get<StoredText>(saved)));
}

Answer new_class(Desk& desk, const Ask& ask) {
    const Body body{ask};
    const std::string name = plain_name(body.text("name"));
    if (name.empty()) throw Refusal(422, "a class needs a name with letters in it");
    const std::string file = name + kTable;
    for (const char* ending : kEndings) {
        if (desk.folder.has(name + ending)) throw Refusal(409, "there is a class '" + name + "' already");
    }
    auto saved = desk.folder.save(file, csv_said(body), "", false);
    if (std::holds_alternative<TuneFolder::Conflict>(saved))
        throw Refusal(409, "there is a class '" + name + "' already");
    return answered(roster_as_data(file, std::get<StoredText>(saved)), 201);
}

Answer remove_class(Desk& desk, const Ask& ask) {
    return answered({{"bin", as_data(desk.folder.remove(roster_file(desk, ask.path[2])))}});
}

Answer tell_class_today(Desk& desk, const Ask& ask) {
    TodayRequest request;
    request.place = desk.log_place();
    request.place.player.clear();
    request.roster = desk.folder.path_of(roster_file(desk, ask.path[2]));
    request.minutes = ask.number("minutes", request.minutes);
    Listener listener;
    Data::Array students;
    for (const StudentDay& student : today_for_class(request, listener)) {
        Data::Object states;
        for (std::size_t i = 0; i < student.items.size(); ++i)
            states.emplace_back(to_word(static_cast<Mastery>(i)), as_data(std::int64_t{student.items[i]}));
        students.push_back(
            as_data(Data::Object{{"name", as_data(student.name)},
                                 {"level", as_data(std::int64_t{student.level})},
                                 {"minutes_this_week", as_data(std::int64_t{student.minutes_this_week})},
                                 {"days_this_week", as_data(std::int64_t{student.days_this_week})},
                                 {"last", student.last ? as_data(date_text(*student.last)) : Data{}},
                                 {"items", as_data(std::move(states))},
                                 {"today", as_data(today_as_data(student.today))}}));
    }
    return answered({{"students", as_data(std::move(students))}, {"says", as_data(listener.sentences())}});
}

Answer forget_student(Desk& desk, const Ask& ask) {
    const Body body{ask};
    const std::string student = body.text("student");
    if (student.empty() || body.text("typed") != student)
        throw Refusal(422, "type the name to forget all that was entered for it");
    LogPlace place = desk.log_place();
    place.player = student;
    return answered({{"entries", size_as_data(forget_player(place))}});
}

}  // namespace

std::string roster_file(const Desk& desk, const std::string& name) {
    check_file_name(name);
    for (const char* ending : kEndings) {
        if (desk.folder.has(name + ending)) return name + ending;
    }
    throw Refusal(404, "there is no class '" + name + "'");
}

std::span<const Route> class_routes() {
    static constexpr std::array<Route, 7> kRoutes{{
        {"GET", "/api/class", list_classes},
        {"POST", "/api/class", new_class},
        {"GET", "/api/class/*", read_class},
        {"PUT", "/api/class/*", save_class},
        {"DELETE", "/api/class/*", remove_class},
        {"GET", "/api/class/*/today", tell_class_today},
        {"POST", "/api/class/*/forget", forget_student},
    }};
    return kRoutes;
}

}  // namespace shedbook
