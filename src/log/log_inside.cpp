#include "log_inside.h"

#include <fcntl.h>
#include <sys/random.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <filesystem>
#include <system_error>
#include <thread>

#include "schema.h"
#include "shedbook/io/errors.h"
#include "shedbook/log/place.h"

namespace shedbook {
namespace {

Day day_numbered(std::int64_t number) {
    return Day{std::chrono::days{number}};
}

bool is_there(const std::string& path) {
    std::error_code error;
    return std::filesystem::exists(path, error) && std::filesystem::file_size(path, error) > 0;
}

// Others that open the log at the same moment are in the way of each other for a moment only.
void set_journal(Database& database, const std::string& mode) {
    constexpr int kTries = 600;
    constexpr std::chrono::milliseconds kPause{50};
    for (int i = 0; i < kTries; ++i) {
        if (database.text("PRAGMA journal_mode") == mode) return;
        if (database.try_to_run("PRAGMA journal_mode = " + mode)) return;
        std::this_thread::sleep_for(kPause);
    }
    throw FileError(database.path() +
                    ": another shedbook has it open and does not come to an end; try again");
}

std::recursive_mutex& one_at_a_time() {
    static std::recursive_mutex out;
    return out;
}

}  // namespace

int number_of_day(Day day) {
    return days_between(Day{}, day);
}

std::uint64_t new_uid() {
    std::uint64_t out = 0;
    while (getrandom(&out, sizeof out, 0) != static_cast<ssize_t>(sizeof out) || out == 0) {
    }
    return out;
}

LogBook::Inside::Inside(const std::string& path, const LogBookOptions& options) : alone_{one_at_a_time()} {
    static_cast<void>(version_of_file(path));
    if (options.for_reading) {
        open_for_reading(path);
    } else {
        open_for_writing(path, options.on_network);
    }
}

// A log of an older version is read as it would be after its migration, which needs writing; one that cannot
// be written at all is read as it lies there.
void LogBook::Inside::open_for_reading(const std::string& path) {
    if (!is_there(path)) {
        database_.emplace(":memory:", Database::Access::Write);
        bring_up_to_date(*database_);
        return;
    }
    const std::filesystem::path folder = std::filesystem::path{path}.parent_path();
    const auto is_writable = [](const char* name) {
        return faccessat(AT_FDCWD, name, W_OK, AT_EACCESS) == 0;
    };
    const bool may_write = is_writable(path.c_str()) && is_writable(folder.empty() ? "." : folder.c_str());
    if (may_write) {
        database_.emplace(path, Database::Access::Write);
        bring_up_to_date(*database_);
        return;
    }
    // Readers of a write-ahead log write beside it; nobody can here.
    database_.emplace(path,
                      is_there(path + "-wal") ? Database::Access::Read : Database::Access::ReadUnchanging);
    if (database_->number("PRAGMA user_version") != kLogVersion)
        throw FileError(path + ": is of an older version and cannot be written; copy it and use the copy");
}

void LogBook::Inside::open_for_writing(const std::string& path, std::optional<bool> on_network) {
    make_private_file(path);
    database_.emplace(path, Database::Access::Write);
    database_->run("PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON; PRAGMA secure_delete = ON");
    bring_up_to_date(*database_);
    set_journal(*database_, on_network.value_or(is_on_network(path)) ? "delete" : "wal");
}

std::optional<std::int64_t> LogBook::Inside::player_row(const std::string& name, bool make) {
    Statement find = database_->prepare("SELECT id FROM player WHERE name = ?");
    if (find.with(name).step()) return find.number(0);
    if (!make) return std::nullopt;
    Statement add = database_->prepare("INSERT INTO player(name) VALUES(?) RETURNING id");
    add.with(name).step();
    const std::int64_t out = add.number(0);
    add.run();
    return out;
}

std::optional<std::int64_t> LogBook::Inside::item_row(const Item& item, bool make) {
    const std::string kind{to_word(item.kind)};
    Statement find = database_->prepare(
        "SELECT id FROM item WHERE subject = ? AND root = ? AND work = ? AND instrument = ? AND kind = ?");
    find.with(item.subject).with(item.root).with(item.work).with(item.instrument).with(kind);
    if (find.step()) return find.number(0);
    if (!make) return std::nullopt;
    Statement add = database_->prepare(
        "INSERT INTO item(subject, root, work, instrument, kind) VALUES(?, ?, ?, ?, ?) RETURNING id");
    add.with(item.subject).with(item.root).with(item.work).with(item.instrument).with(kind).step();
    const std::int64_t out = add.number(0);
    add.run();
    return out;
}

void LogBook::Inside::insert(const Record& record, std::int64_t player, std::int64_t item) {
    const Entry& entry = record.entry;
    if (!insert_) {
        insert_.emplace(
            database_->prepare("INSERT INTO entry(id, version, is_last, is_removed, uid, written, player, "
                               "item, day, tempo, goal, "
                               "right, wrong, from_memory, seconds, note, typed, tune, source) "
                               "VALUES(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"));
    }
    Statement& add = *insert_;
    add.with(record.id).with(record.version).with(record.is_last).with(record.is_removed);
    add.with(static_cast<std::int64_t>(record.uid)).with(record.written).with(player).with(item);
    add.with(number_of_day(entry.day)).with(entry.tempo).with(entry.goal).with(entry.right).with(entry.wrong);
    add.with(entry.from_memory).with(entry.seconds).with(entry.note).with(entry.typed);
    add.with(entry.tune).with(entry.source).run();
}

std::vector<Entry> LogBook::Inside::entries_of(std::int64_t player, std::int64_t item) {
    Statement find = database_->prepare(std::string{"SELECT "} + kRecordColumns + kRecordTables +
                                        "WHERE entry.player = ? AND entry.item = ? AND is_last = 1 AND "
                                        "is_removed = 0 ORDER BY day, entry.id");
    find.with(player).with(item);
    std::vector<Entry> out;
    while (find.step()) out.push_back(record_in(find).entry);
    return out;
}

// Only what a standing is worked out from, without the words beside it: an item may have thousands.
std::vector<Entry> LogBook::Inside::played(std::int64_t player, std::int64_t item) {
    Statement find = database_->prepare(
        "SELECT day, tempo, goal, right, wrong, from_memory FROM entry "
        "WHERE player = ? AND item = ? AND is_last = 1 AND is_removed = 0 ORDER BY day, id");
    find.with(player).with(item);
    std::vector<Entry> out;
    while (find.step()) {
        Entry& entry = out.emplace_back();
        entry.day = day_numbered(find.number(0));
        entry.tempo = find.optional(1);
        entry.goal = find.optional(2);
        entry.right = find.optional(3);
        entry.wrong = find.optional(4);
        entry.from_memory = find.integer(5) != 0;
    }
    return out;
}

void LogBook::Inside::refresh(std::int64_t player, std::int64_t item) {
    const std::vector<Entry> entries = played(player, item);
    if (entries.empty()) {
        database_->prepare("DELETE FROM standing WHERE player = ? AND item = ?")
            .with(player)
            .with(item)
            .run();
        return;
    }
    const Standing standing = standing_of(entries);
    Statement put =
        database_->prepare(std::string{"INSERT OR REPLACE INTO standing(player, item, "} + kStandingColumns +
                           ") VALUES(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    put.with(player).with(item).with(static_cast<int>(standing.state)).with(standing.entries);
    put.with(number_of_day(standing.first)).with(number_of_day(standing.last)).with(standing.days);
    put.with(standing.step).with(number_of_day(standing.due)).with(standing.goal).with(standing.clean_tempo);
    put.with(standing.best_tempo)
        .with(standing.memory_days)
        .with(static_cast<int>(standing.last_result))
        .run();
}

std::vector<Record> LogBook::Inside::versions_of(std::int64_t id) {
    Statement find = database_->prepare(std::string{"SELECT "} + kRecordColumns + kRecordTables +
                                        "WHERE entry.id = ? ORDER BY entry.version");
    find.with(id);
    std::vector<Record> out;
    while (find.step()) out.push_back(record_in(find));
    return out;
}

void LogBook::Inside::add_version(std::int64_t id, const Entry& now, bool is_removed, std::int64_t written) {
    Transaction transaction{*database_};
    const std::vector<Record> versions = versions_of(id);
    if (versions.empty() || versions.back().is_removed)
        throw FileError("entry " + std::to_string(id) + " has been removed meanwhile");
    Record next = versions.back();
    const std::optional<std::int64_t> before = item_row(next.entry.item, false);
    next.entry = now;
    next.version += 1;
    next.is_removed = is_removed;
    next.written = written;
    database_->prepare("UPDATE entry SET is_last = 0 WHERE id = ?").with(id).run();
    const std::int64_t player = *player_row(next.player, true);
    const std::int64_t item = *item_row(now.item, true);
    insert(next, player, item);
    refresh(player, item);
    if (before && *before != item) refresh(player, *before);
    transaction.commit();
}

Record record_in(const Statement& row) {
    Record out;
    int column = 0;
    out.id = row.number(column++);
    out.uid = static_cast<std::uint64_t>(row.number(column++));
    out.version = row.integer(column++);
    out.is_last = row.integer(column++) != 0;
    out.is_removed = row.integer(column++) != 0;
    out.written = row.number(column++);
    out.player = row.text(column++);
    Entry& entry = out.entry;
    entry.item.kind = from_word<ItemKind>(row.text(column++)).value_or(ItemKind::Scale);
    entry.item.subject = row.text(column++);
    entry.item.root = row.integer(column++);
    entry.item.work = row.text(column++);
    entry.item.instrument = row.text(column++);
    entry.day = day_numbered(row.number(column++));
    entry.tempo = row.optional(column++);
    entry.goal = row.optional(column++);
    entry.right = row.optional(column++);
    entry.wrong = row.optional(column++);
    entry.from_memory = row.integer(column++) != 0;
    entry.seconds = row.integer(column++);
    entry.note = row.text(column++);
    entry.typed = row.text(column++);
    entry.tune = row.text(column++);
    entry.source = row.text(column);
    return out;
}

Standing standing_in(const Statement& row, int first) {
    Standing out;
    int column = first;
    out.state = static_cast<Mastery>(row.integer(column++));
    out.entries = row.integer(column++);
    out.first = day_numbered(row.number(column++));
    out.last = day_numbered(row.number(column++));
    out.days = row.integer(column++);
    out.step = row.integer(column++);
    out.due = day_numbered(row.number(column++));
    out.goal = row.integer(column++);
    out.clean_tempo = row.integer(column++);
    out.best_tempo = row.integer(column++);
    out.memory_days = row.integer(column++);
    out.last_result = static_cast<DayResult>(row.integer(column));
    return out;
}

}  // namespace shedbook
