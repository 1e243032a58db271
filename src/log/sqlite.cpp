#include "sqlite.h"

#include <sqlite3.h>

#include <array>
#include <utility>

#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

// So long one waits for another who writes.
constexpr int kPatienceMs = 30'000;

struct FaultWords {
    int code;
    const char* words;
};
constexpr std::array<FaultWords, 10> kFaultWords{{
    {SQLITE_FULL, "the disk is full; what was entered before is there, this was not entered"},
    {SQLITE_READONLY, "cannot be written (the file or its folder is read-only); nothing was entered"},
    {SQLITE_CANTOPEN, "cannot be opened, or its folder cannot be written; nothing was entered"},
    {SQLITE_PERM, "may not be opened by you; nothing was entered"},
    {SQLITE_BUSY, "another shedbook is writing and does not come to an end; nothing was entered, try again"},
    {SQLITE_LOCKED,
     "another shedbook is writing and does not come to an end; nothing was entered, try again"},
    {SQLITE_CORRUPT,
     "is damaged; nothing was changed. 'shedbook log check' says more; keep the file, and put "
     "a backup in its place"},
    {SQLITE_NOTADB, "is no practice log, or its beginning is damaged; nothing was changed"},
    {SQLITE_IOERR, "could not be read or written (the disk may be full or gone); this was not entered"},
    {SQLITE_NOMEM, "needs more memory than there is"},
}};

int flags_of(Database::Access access) {
    switch (access) {
        case Database::Access::Write:
            return SQLITE_OPEN_READWRITE;
        case Database::Access::Read:
            return SQLITE_OPEN_READONLY;
        case Database::Access::ReadUnchanging:
            return SQLITE_OPEN_READONLY | SQLITE_OPEN_URI;
    }
    return SQLITE_OPEN_READONLY;
}

// A name that the library reads as an address, for what only an address can say.
std::string address_of(const std::string& path) {
    std::string out = "file:";
    for (const char c : path) {
        if (c == '?' || c == '#' || c == '%') {
            constexpr std::string_view kHex = "0123456789ABCDEF";
            const auto byte = static_cast<unsigned char>(c);
            out += '%';
            out += kHex[byte / 16];
            out += kHex[byte % 16];
        } else {
            out += c;
        }
    }
    return out + "?immutable=1";
}

}  // namespace

Database::Database(const std::string& path, Access access) : path_{path} {
    const std::string name = access == Access::ReadUnchanging ? address_of(path) : path;
    const int code = sqlite3_open_v2(name.c_str(), &db_, flags_of(access), nullptr);
    if (code != SQLITE_OK) {
        sqlite3_close(std::exchange(db_, nullptr));
        fail(code);
    }
    sqlite3_busy_timeout(db_, kPatienceMs);
    sqlite3_extended_result_codes(db_, 0);
}

Database::~Database() {
    sqlite3_close_v2(db_);
}

void Database::fail(int code) const {
    const std::string name = path_ == ":memory:" ? "the log" : path_;
    for (const FaultWords& row : kFaultWords) {
        if (row.code == (code & 0xFF)) throw FileError(name + ": " + row.words);
    }
    throw FileError(name + ": " + (db_ != nullptr ? sqlite3_errmsg(db_) : sqlite3_errstr(code)));
}

void Database::run(const std::string& sql) {
    const int code = sqlite3_exec(db_, sql.c_str(), nullptr, nullptr, nullptr);
    if (code != SQLITE_OK) fail(code);
}

bool Database::try_to_run(const std::string& sql) {
    const int code = sqlite3_exec(db_, sql.c_str(), nullptr, nullptr, nullptr);
    if (code == SQLITE_BUSY || code == SQLITE_LOCKED) return false;
    if (code != SQLITE_OK) fail(code);
    return true;
}

Statement Database::prepare(std::string_view sql) {
    sqlite3_stmt* statement = nullptr;
    const int code = sqlite3_prepare_v2(db_, sql.data(), static_cast<int>(sql.size()), &statement, nullptr);
    if (code != SQLITE_OK) fail(code);
    return {*this, statement};
}

std::int64_t Database::number(const std::string& sql) {
    Statement statement = prepare(sql);
    return statement.step() ? statement.number(0) : 0;
}

std::string Database::text(const std::string& sql) {
    Statement statement = prepare(sql);
    return statement.step() ? statement.text(0) : std::string{};
}

int Database::changes() const {
    return sqlite3_changes(db_);
}

void Database::copy_to(Database& other) {
    sqlite3_backup* backup = sqlite3_backup_init(other.db_, "main", db_, "main");
    if (backup == nullptr) other.fail(sqlite3_errcode(other.db_));
    const int stepped = sqlite3_backup_step(backup, -1);
    const int finished = sqlite3_backup_finish(backup);
    if (stepped != SQLITE_DONE) other.fail(stepped);
    if (finished != SQLITE_OK) other.fail(finished);
}

Statement::~Statement() {
    sqlite3_finalize(statement_);
}

Statement::Statement(Statement&& other) noexcept
    : database_{other.database_},
      statement_{std::exchange(other.statement_, nullptr)},
      bound_{other.bound_} {}

Statement& Statement::with(std::int64_t value) {
    sqlite3_bind_int64(statement_, ++bound_, value);
    return *this;
}

Statement& Statement::with(const std::string& text) {
    sqlite3_bind_text(statement_, ++bound_, text.data(), static_cast<int>(text.size()), SQLITE_TRANSIENT);
    return *this;
}

Statement& Statement::with(std::optional<int> value) {
    if (value) return with(std::int64_t{*value});
    sqlite3_bind_null(statement_, ++bound_);
    return *this;
}

bool Statement::step() {
    const int code = sqlite3_step(statement_);
    if (code != SQLITE_ROW && code != SQLITE_DONE) database_->fail(code);
    return code == SQLITE_ROW;
}

void Statement::run() {
    while (step()) {
    }
    reset();
}

void Statement::reset() {
    sqlite3_reset(statement_);
    sqlite3_clear_bindings(statement_);
    bound_ = 0;
}

std::int64_t Statement::number(int column) const {
    return sqlite3_column_int64(statement_, column);
}

std::optional<int> Statement::optional(int column) const {
    if (sqlite3_column_type(statement_, column) == SQLITE_NULL) return std::nullopt;
    return integer(column);
}

std::string Statement::text(int column) const {
    const void* bytes = sqlite3_column_blob(statement_, column);
    const int size = sqlite3_column_bytes(statement_, column);
    return bytes == nullptr ? std::string{}
                            : std::string{static_cast<const char*>(bytes), static_cast<std::size_t>(size)};
}

Transaction::Transaction(Database& database) : database_{database} {
    database_.run("BEGIN IMMEDIATE");
}

Transaction::~Transaction() {
    if (!is_open_) return;
    try {
        database_.run("ROLLBACK");
    } catch (const FileError&) {
        // The library has rolled back by itself: that is why we are here.
        is_open_ = false;
    }
}

void Transaction::commit() {
    database_.run("COMMIT");
    is_open_ = false;
}

}  // namespace shedbook
