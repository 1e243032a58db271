// The log of all players of this machine: one file, safe with several programs at once. What a function
// returns from is on the disk.
//
//     LogBook log{file};
//     const std::int64_t id = log.add("me", entry, now);
//     log.standing("me", entry.item)->due;                     // when it comes back
//
// FileError for what the machine cannot do, and for a file that is damaged, newer or not a log: nothing has
// been changed then.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/log/entry.h"
#include "shedbook/log/standing.h"

namespace shedbook {

struct LogBookOptions {
    bool for_reading = false;             // a log that is not there is an empty one, and none is made
    std::optional<bool> on_network = {};  // nothing: as the file system says
};

// Which entries; what is empty does not count.
struct LogFilter {
    std::string player = {};
    std::optional<Day> from = {};
    std::optional<Day> to = {};
    std::string subject = {};
    std::string work = {};
    std::string instrument = {};
    std::string tune = {};
    bool with_history = false;  // also corrected and removed versions
    std::size_t most = 0;       // the last so many; 0: all
};

struct KnownItem {
    Item item;
    Standing standing;
    friend bool operator==(const KnownItem&, const KnownItem&) = default;
};

struct ImportCount {
    std::size_t added = 0;     // entries
    std::size_t versions = 0;  // of corrections and removals to entries, of them or of those that were there
    std::size_t known = 0;     // versions that were there already
};

class LogBook {
  public:
    explicit LogBook(const std::string& path, const LogBookOptions& options = {});
    ~LogBook();
    LogBook(const LogBook&) = delete;
    LogBook& operator=(const LogBook&) = delete;

    // `written`: now, in seconds since 1970. The id under which it is shown.
    std::int64_t add(const std::string& player, const Entry& entry, std::int64_t written);
    // All of them or none.
    std::vector<std::int64_t> add_all(const std::string& player, const std::vector<Entry>& entries,
                                      std::int64_t written);
    // The last version; nothing if no entry has the id.
    [[nodiscard]] std::optional<Record> find(std::int64_t id);
    // A version more. The entry must be there and not be removed.
    void correct(std::int64_t id, const Entry& now, std::int64_t written);
    void remove(std::int64_t id, std::int64_t written);

    // In order of day and id, versions one after the other.
    void each(const LogFilter& filter, const std::function<void(const Record&)>& take);
    [[nodiscard]] std::vector<KnownItem> standings(const std::string& player, const std::string& instrument);
    [[nodiscard]] std::optional<Standing> standing(const std::string& player, const Item& item);
    [[nodiscard]] std::vector<Entry> entries_of(const std::string& player, const Item& item);
    [[nodiscard]] std::vector<std::string> players();
    // Of the player's last entry; empty without one.
    [[nodiscard]] std::string last_instrument(const std::string& player);
    [[nodiscard]] std::int64_t highest_id();
    // Another number after anything was entered, corrected, removed or forgotten.
    [[nodiscard]] std::int64_t state();

    // Of another log or of this one, in any order: versions that are there are left as they are. What
    // contradicts them, or itself, is said in `diagnostics`, and then nothing is taken.
    ImportCount import(const std::vector<Record>& records, const std::string& from, Diagnostics& diagnostics);

    // What is wrong; nothing is repaired.
    [[nodiscard]] std::vector<std::string> check();
    // A whole log in one file, for its owner alone. The file must not be there.
    void backup(const std::string& path);
    // A player with all entries, their history and the items that nobody else has, out of the file and its
    // free pages. How many entries; nothing if there is no such player.
    std::optional<std::size_t> forget(const std::string& player);

    class Inside;  // of this module alone

  private:
    std::unique_ptr<Inside> inside_;
};

// Only what is in the file is looked at, and nothing is opened for writing: for `log check` on a damaged one.
[[nodiscard]] std::vector<std::string> check_log(const std::string& path);

}  // namespace shedbook
