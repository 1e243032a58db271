// SQLite as values that clean up after themselves. Every fault is a FileError in words for a player.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace shedbook {

class Statement;

class Database {
  public:
    enum class Access { Read, Write, ReadUnchanging };  // the last: nobody writes to it while we read
    Database(const std::string& path, Access access);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;

    void run(const std::string& sql);
    // False: others are in the way.
    [[nodiscard]] bool try_to_run(const std::string& sql);
    [[nodiscard]] Statement prepare(std::string_view sql);
    // The first column of the first row; 0 without one.
    [[nodiscard]] std::int64_t number(const std::string& sql);
    [[nodiscard]] std::string text(const std::string& sql);
    [[nodiscard]] int changes() const;
    // A copy as it is at this moment, whoever writes meanwhile.
    void copy_to(Database& other);
    [[nodiscard]] const std::string& path() const { return path_; }

    // Throws what an error code of the library means.
    [[noreturn]] void fail(int code) const;

  private:
    std::string path_;
    sqlite3* db_ = nullptr;
};

class Statement {
  public:
    Statement(Database& database, sqlite3_stmt* statement) : database_{&database}, statement_{statement} {}
    ~Statement();
    Statement(Statement&& other) noexcept;
    Statement& operator=(Statement&&) = delete;
    Statement(const Statement&) = delete;
    Statement& operator=(const Statement&) = delete;

    // The next parameter, from the first on.
    Statement& with(std::int64_t value);
    Statement& with(int value) { return with(std::int64_t{value}); }
    Statement& with(bool value) { return with(std::int64_t{value}); }
    Statement& with(const std::string& text);
    Statement& with(std::optional<int> value);
    // True: there is a row.
    bool step();
    // Runs it to its end and makes it ready for other parameters.
    void run();
    void reset();

    [[nodiscard]] std::int64_t number(int column) const;
    [[nodiscard]] int integer(int column) const { return static_cast<int>(number(column)); }
    [[nodiscard]] std::optional<int> optional(int column) const;
    [[nodiscard]] std::string text(int column) const;

  private:
    Database* database_;
    sqlite3_stmt* statement_;
    int bound_ = 0;
};

// All of it or nothing. Nobody else writes meanwhile.
class Transaction {
  public:
    explicit Transaction(Database& database);
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    // On the disk when this returns.
    void commit();

  private:
    Database& database_;
    bool is_open_ = true;
};

}  // namespace shedbook
