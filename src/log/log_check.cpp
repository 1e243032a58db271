// Whether what is in a log agrees with itself.
#include "log_inside.h"
#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

constexpr std::size_t kMostFaults = 50;

void add_rows(Database& database, const std::string& sql, const std::string& before,
              std::vector<std::string>& out) {
    Statement find = database.prepare(sql);
    while (find.step() && out.size() < kMostFaults) {
        const std::string text = find.text(0);
        if (text != "ok") out.push_back(before + text);
    }
}

}  // namespace

std::vector<std::string> LogBook::check() {
    Database& database = inside_->database();
    std::vector<std::string> out;
    add_rows(database, "PRAGMA integrity_check", "the file: ", out);
    if (!out.empty()) return out;
    add_rows(database, "SELECT \"table\" FROM pragma_foreign_key_check", "a row points to nothing: ", out);
    add_rows(database,
             "SELECT id FROM entry GROUP BY id HAVING sum(is_last) <> 1 OR max(version) <> count(*) "
             "OR count(DISTINCT uid) <> 1 OR count(DISTINCT player) <> 1",
             "the versions do not follow each other: entry ", out);
    add_rows(database,
             "SELECT id FROM entry e WHERE is_last = 1 AND version <> (SELECT max(version) FROM entry "
             "WHERE id = e.id)",
             "the last version is not the one that counts: entry ", out);
    // What is kept beside the entries, so that nobody has to read them all, says the same as they do.
    Statement pairs = database.prepare(
        "SELECT DISTINCT player, item FROM entry WHERE is_last = 1 AND is_removed = 0 UNION SELECT player, "
        "item "
        "FROM standing");
    Statement find = database.prepare(std::string{"SELECT "} + kStandingColumns +
                                      " FROM standing WHERE player = ? AND item = ?");
    std::size_t wrong = 0;
    while (pairs.step()) {
        const std::vector<Entry> entries = inside_->entries_of(pairs.number(0), pairs.number(1));
        const bool is_there = find.with(pairs.number(0)).with(pairs.number(1)).step();
        const bool agrees =
            entries.empty() ? !is_there : is_there && standing_in(find, 0) == standing_of(entries);
        if (!agrees) ++wrong;
        find.reset();
    }
    if (wrong > 0)
        out.push_back("the standing of " + std::to_string(wrong) + " items is not what their entries say");
    return out;
}

std::vector<std::string> check_log(const std::string& path) {
    try {
        LogBook log{path, {.for_reading = true, .on_network = {}}};
        return log.check();
    } catch (const FileError& error) {
        return {error.what()};
    }
}

}  // namespace shedbook
