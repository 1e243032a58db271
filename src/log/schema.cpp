#include "schema.h"

#include <array>
#include <filesystem>
#include <string>
#include <system_error>

#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

// "shed" in the file's header: whose it is.
constexpr std::int64_t kApplication = 0x73686564;

// What makes version n+1 of version n. A version that was given to anybody is never changed again: a change
// is a row more.
constexpr std::array<const char*, kLogVersion> kMigrations{R"sql(
CREATE TABLE player(id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
CREATE TABLE item(id INTEGER PRIMARY KEY, kind TEXT NOT NULL, subject TEXT NOT NULL, root INTEGER NOT NULL,
  work TEXT NOT NULL, instrument TEXT NOT NULL, UNIQUE(subject, root, work, instrument, kind));
CREATE TABLE entry(row INTEGER PRIMARY KEY, id INTEGER NOT NULL, version INTEGER NOT NULL,
  is_last INTEGER NOT NULL, is_removed INTEGER NOT NULL, uid INTEGER NOT NULL, written INTEGER NOT NULL,
  player INTEGER NOT NULL REFERENCES player(id), item INTEGER NOT NULL REFERENCES item(id),
  day INTEGER NOT NULL, tempo INTEGER, goal INTEGER, right INTEGER, wrong INTEGER,
  from_memory INTEGER NOT NULL, seconds INTEGER NOT NULL, note TEXT NOT NULL, typed TEXT NOT NULL,
  tune TEXT NOT NULL, source TEXT NOT NULL);
CREATE UNIQUE INDEX entry_by_id ON entry(id, version);
CREATE UNIQUE INDEX entry_by_uid ON entry(uid, version);
CREATE INDEX entry_by_item ON entry(player, item, day, id) WHERE is_last = 1 AND is_removed = 0;
CREATE INDEX entry_by_day ON entry(player, day, id) WHERE is_last = 1 AND is_removed = 0;
CREATE TABLE standing(player INTEGER NOT NULL REFERENCES player(id), item INTEGER NOT NULL REFERENCES item(id),
  state INTEGER NOT NULL, entries INTEGER NOT NULL, first INTEGER NOT NULL, last INTEGER NOT NULL,
  days INTEGER NOT NULL, step INTEGER NOT NULL, due INTEGER NOT NULL, goal INTEGER NOT NULL,
  clean_tempo INTEGER NOT NULL, best_tempo INTEGER NOT NULL, memory_days INTEGER NOT NULL,
  last_result INTEGER NOT NULL, PRIMARY KEY(player, item)) WITHOUT ROWID;
)sql"};

[[noreturn]] void refuse_newer(const std::string& path, std::int64_t version) {
    throw FileError(path + ": was written by a newer shedbook (version " + std::to_string(version) +
                    " of the log, this program knows " + std::to_string(kLogVersion) +
                    "); it was not touched. Use that shedbook, or another file with --data");
}

[[noreturn]] void refuse_foreign(const std::string& path) {
    throw FileError(path + ": is a database of another program, not a practice log; nothing was changed");
}

}  // namespace

int version_of_file(const std::string& path) {
    std::error_code error;
    if (std::filesystem::is_directory(path, error)) throw FileError(path + ": is a folder, not a log");
    if (!std::filesystem::exists(path, error) || std::filesystem::file_size(path, error) == 0) return 0;
    Database unchanging{path, Database::Access::ReadUnchanging};
    const std::int64_t version = unchanging.number("PRAGMA user_version");
    const std::int64_t application = unchanging.number("PRAGMA application_id");
    // Before its first table is there it has neither.
    if (application != kApplication && (application != 0 || version != 0)) refuse_foreign(path);
    if (version > kLogVersion) refuse_newer(path, version);
    return static_cast<int>(version);
}

void bring_up_to_date(Database& database) {
    const std::int64_t there = database.number("PRAGMA user_version");
    if (there > kLogVersion) refuse_newer(database.path(), there);
    if (there == kLogVersion) return;
    Transaction transaction{database};
    // Another process may have been first.
    const std::int64_t now = database.number("PRAGMA user_version");
    if (now == 0 && database.number("SELECT count(*) FROM sqlite_master") > 0)
        refuse_foreign(database.path());
    for (std::int64_t version = now; version < kLogVersion; ++version)
        database.run(kMigrations[static_cast<std::size_t>(version)]);
    database.run("PRAGMA application_id = " + std::to_string(kApplication));
    database.run("PRAGMA user_version = " + std::to_string(kLogVersion));
    transaction.commit();
    // The file itself says its version then, not only its write-ahead log: older programs look there.
    static_cast<void>(database.number("PRAGMA wal_checkpoint(TRUNCATE)"));
}

}  // namespace shedbook
