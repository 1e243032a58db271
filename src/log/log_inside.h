// What a log is made of: the open database, and rows to values and back.
#pragma once

#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/log/log_book.h"
#include "sqlite.h"

namespace shedbook {

class LogBook::Inside {
  public:
    Inside(const std::string& path, const LogBookOptions& options);

    Database& database() { return *database_; }
    // Its row; with `make`, one is made where there is none.
    std::optional<std::int64_t> player_row(const std::string& name, bool make);
    std::optional<std::int64_t> item_row(const Item& item, bool make);
    void insert(const Record& record, std::int64_t player, std::int64_t item);
    // Works the standing out again from all entries.
    void refresh(std::int64_t player, std::int64_t item);
    [[nodiscard]] std::vector<Entry> entries_of(std::int64_t player, std::int64_t item);
    [[nodiscard]] std::vector<Record> versions_of(std::int64_t id);
    // A version more of an entry, in a transaction of its own.
    void add_version(std::int64_t id, const Entry& now, bool is_removed, std::int64_t written);

  private:
    [[nodiscard]] std::vector<Entry> played(std::int64_t player, std::int64_t item);
    void open_for_reading(const std::string& path);
    void open_for_writing(const std::string& path, std::optional<bool> on_network);
    // One log at a time in a program, whichever thread has it: the system's locks are those of a process, and
    // go for all of it when one of its threads closes the file (sqlite.org, "How To Corrupt An SQLite
    // Database File", 2.2).
    std::unique_lock<std::recursive_mutex> alone_;
    std::optional<Database> database_;
    std::optional<Statement> insert_;  // prepared once: an import has a million
};

// The columns of a record, and a record from them. "entry", "player" and "item" are the names in the query.
inline constexpr const char* kRecordColumns =
    "entry.id, entry.uid, entry.version, entry.is_last, entry.is_removed, entry.written, player.name, "
    "item.kind, item.subject, item.root, item.work, item.instrument, entry.day, entry.tempo, entry.goal, "
    "entry.right, entry.wrong, entry.from_memory, entry.seconds, entry.note, entry.typed, entry.tune, "
    "entry.source";
inline constexpr const char* kRecordTables =
    " FROM entry JOIN player ON player.id = entry.player JOIN item ON item.id = entry.item ";
[[nodiscard]] Record record_in(const Statement& row);
// The columns of a standing, from `first` on, in the order of the table.
inline constexpr const char* kStandingColumns =
    "state, entries, first, last, days, step, due, goal, clean_tempo, best_tempo, memory_days, last_result";
[[nodiscard]] Standing standing_in(const Statement& row, int first);

[[nodiscard]] int number_of_day(Day day);
// Random, so that no two entries of any log have the same.
[[nodiscard]] std::uint64_t new_uid();

}  // namespace shedbook
