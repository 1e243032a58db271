#include "shedbook/log/log_book.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <system_error>

#include "log_inside.h"
#include "schema.h"
#include "shedbook/io/errors.h"
#include "shedbook/log/place.h"

namespace shedbook {
namespace {

std::int64_t next_id(Database& database) {
    return database.number("SELECT coalesce(max(id), 0) + 1 FROM entry");
}

// What a filter asks for, as a condition and the values of its parameters.
struct Condition {
    std::string sql;
    std::vector<std::string> texts;
};

Condition condition_of(const LogFilter& filter) {
    Condition out{filter.with_history ? "1 = 1" : "entry.is_last = 1 AND entry.is_removed = 0", {}};
    const auto equal = [&](const char* column, const std::string& value) {
        if (value.empty()) return;
        out.sql += std::string{" AND "} + column + " = ?";
        out.texts.push_back(value);
    };
    equal("player.name", filter.player);
    equal("item.subject", filter.subject);
    equal("item.work", filter.work);
    equal("item.instrument", filter.instrument);
    equal("entry.tune", filter.tune);
    if (filter.from) out.sql += " AND entry.day >= " + std::to_string(number_of_day(*filter.from));
    if (filter.to) out.sql += " AND entry.day <= " + std::to_string(number_of_day(*filter.to));
    return out;
}

}  // namespace

LogBook::LogBook(const std::string& path, const LogBookOptions& options)
    : inside_{std::make_unique<Inside>(path, options)} {}

LogBook::~LogBook() = default;

std::int64_t LogBook::add(const std::string& player, const Entry& entry, std::int64_t written) {
    return add_all(player, {entry}, written).front();
}

std::vector<std::int64_t> LogBook::add_all(const std::string& player, const std::vector<Entry>& entries,
                                           std::int64_t written) {
    Transaction transaction{inside_->database()};
    const std::int64_t player_row = *inside_->player_row(player, true);
    std::int64_t id = next_id(inside_->database());
    std::vector<std::int64_t> out;
    for (const Entry& entry : entries) {
        const std::int64_t item = *inside_->item_row(entry.item, true);
        Record record;
        record.id = id;
        record.uid = new_uid();
        record.written = written;
        record.entry = entry;
        inside_->insert(record, player_row, item);
        inside_->refresh(player_row, item);
        out.push_back(id++);
    }
    transaction.commit();
    return out;
}

std::optional<Record> LogBook::find(std::int64_t id) {
    std::vector<Record> versions = inside_->versions_of(id);
    if (versions.empty()) return std::nullopt;
    return versions.back();
}

void LogBook::correct(std::int64_t id, const Entry& now, std::int64_t written) {
    inside_->add_version(id, now, false, written);
}

void LogBook::remove(std::int64_t id, std::int64_t written) {
    const std::optional<Record> there = find(id);
    if (!there) throw FileError("there is no entry " + std::to_string(id));
    inside_->add_version(id, there->entry, true, written);
}

void LogBook::each(const LogFilter& filter, const std::function<void(const Record&)>& take) {
    const Condition condition = condition_of(filter);
    std::string sql = std::string{"SELECT "} + kRecordColumns + kRecordTables + "WHERE " + condition.sql;
    if (filter.most > 0) {
        sql += " ORDER BY entry.day DESC, entry.id DESC, entry.version DESC LIMIT " +
               std::to_string(filter.most);
    } else {
        sql += " ORDER BY entry.day, entry.id, entry.version";
    }
    Statement find = inside_->database().prepare(sql);
    for (const std::string& text : condition.texts) find.with(text);
    if (filter.most == 0) {
        while (find.step()) take(record_in(find));
        return;
    }
    std::vector<Record> last;
    while (find.step()) last.push_back(record_in(find));
    std::ranges::reverse(last);
    for (const Record& record : last) take(record);
}

std::vector<KnownItem> LogBook::standings(const std::string& player, const std::string& instrument) {
    Statement find = inside_->database().prepare(
        std::string{"SELECT item.kind, item.subject, item.root, item.work, item.instrument, "} +
        kStandingColumns +
        " FROM standing JOIN player ON player.id = standing.player JOIN item ON item.id = standing.item "
        "WHERE player.name = ? AND (item.instrument = ? OR ? = '') "
        "ORDER BY item.kind, item.subject, item.root, item.work, item.instrument");
    find.with(player).with(instrument).with(instrument);
    std::vector<KnownItem> out;
    while (find.step()) {
        KnownItem& known = out.emplace_back();
        known.item = {from_word<ItemKind>(find.text(0)).value_or(ItemKind::Scale), find.text(1),
                      find.integer(2), find.text(3), find.text(4)};
        known.standing = standing_in(find, 5);
    }
    return out;
}

std::optional<Standing> LogBook::standing(const std::string& player, const Item& item) {
    const auto player_row = inside_->player_row(player, false);
    const auto item_row = inside_->item_row(item, false);
    if (!player_row || !item_row) return std::nullopt;
    Statement find = inside_->database().prepare(std::string{"SELECT "} + kStandingColumns +
                                                 " FROM standing WHERE player = ? AND item = ?");
    if (!find.with(*player_row).with(*item_row).step()) return std::nullopt;
    return standing_in(find, 0);
}

std::vector<Entry> LogBook::entries_of(const std::string& player, const Item& item) {
    const auto player_row = inside_->player_row(player, false);
    const auto item_row = inside_->item_row(item, false);
    if (!player_row || !item_row) return {};
    return inside_->entries_of(*player_row, *item_row);
}

std::vector<std::string> LogBook::players() {
    Statement find = inside_->database().prepare("SELECT name FROM player ORDER BY name");
    std::vector<std::string> out;
    while (find.step()) out.push_back(find.text(0));
    return out;
}

std::string LogBook::last_instrument(const std::string& player) {
    const auto row = inside_->player_row(player, false);
    if (!row) return {};
    // By the index of days: a player who has many entries is answered as soon as one with few.
    Statement find = inside_->database().prepare(
        "SELECT item.instrument FROM entry JOIN item ON item.id = entry.item WHERE entry.player = ? AND "
        "is_last = 1 AND is_removed = 0 ORDER BY day DESC, entry.id DESC LIMIT 1");
    return find.with(*row).step() ? find.text(0) : std::string{};
}

std::int64_t LogBook::highest_id() {
    return next_id(inside_->database()) - 1;
}

std::int64_t LogBook::state() {
    return inside_->database().number("SELECT coalesce(max(row), 0) FROM entry");
}

void LogBook::backup(const std::string& path) {
    const int file = open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
    if (file < 0) {
        throw FileError(path + (errno == EEXIST
                                    ? std::string{": is there already; a backup takes nothing's place"}
                                    : std::string{": cannot be made: "} + std::strerror(errno)));
    }
    close(file);
    try {
        Database copy{path, Database::Access::Write};
        inside_->database().copy_to(copy);
        // One file that can be carried away: nothing beside it belongs to it.
        copy.run("PRAGMA journal_mode = DELETE");
        if (copy.text("PRAGMA integrity_check(1)") != "ok") throw FileError(path + ": is damaged; try again");
    } catch (const FileError&) {
        std::error_code ignored;
        std::filesystem::remove(path, ignored);
        throw;
    }
}

std::optional<std::size_t> LogBook::forget(const std::string& player) {
    Database& database = inside_->database();
    std::int64_t entries = 0;
    {
        Transaction transaction{database};
        const auto row = inside_->player_row(player, false);
        if (!row) return std::nullopt;
        entries =
            database.number("SELECT count(DISTINCT id) FROM entry WHERE player = " + std::to_string(*row));
        for (const char* sql : {"DELETE FROM standing WHERE player = ?", "DELETE FROM entry WHERE player = ?",
                                "DELETE FROM player WHERE id = ?"})
            database.prepare(sql).with(*row).run();
        database.run("DELETE FROM item WHERE id NOT IN (SELECT item FROM entry)");
        transaction.commit();
    }
    // What was written over is gone; the pages that are free now, and the write-ahead log, go too.
    database.run("VACUUM");
    Statement checkpoint = database.prepare("PRAGMA wal_checkpoint(TRUNCATE)");
    if (checkpoint.step() && checkpoint.number(0) != 0)
        throw FileError(
            database.path() +
            ": the entries are removed, but another shedbook still has the log open, and old bytes "
            "may lie in '" +
            database.path() + "-wal' until it ends; say it once more then");
    return static_cast<std::size_t>(entries);
}

}  // namespace shedbook
