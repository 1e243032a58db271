// Entries of another log, or of a copy of this one.
#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "log_inside.h"

namespace shedbook {
namespace {

bool says_the_same(const Record& a, const Record& b) {
    return a.uid == b.uid && a.version == b.version && a.is_removed == b.is_removed &&
           a.written == b.written && a.player == b.player && a.entry == b.entry;
}

std::string name_of(const Record& record) {
    return "the entry of " + date_text(record.entry.day) + " on " + record.entry.item.subject + ", " +
           record.entry.item.work + (record.version > 1 ? ", version " + std::to_string(record.version) : "");
}

// All versions of one entry, the first first.
using Versions = std::vector<const Record*>;

// The entries in the order in which they stand in the file.
std::vector<Versions> by_entry(const std::vector<Record>& records) {
    std::map<std::uint64_t, std::size_t> place;
    std::vector<Versions> out;
    for (const Record& record : records) {
        const auto [at, is_new] = place.emplace(record.uid, out.size());
        if (is_new) out.emplace_back();
        out[at->second].push_back(&record);
    }
    for (Versions& versions : out)
        std::ranges::stable_sort(versions, {}, [](const Record* record) { return record->version; });
    return out;
}

// How many rows it adds, and where.
class Importer {
  public:
    Importer(LogBook::Inside& inside, std::string from, std::int64_t next_id, Diagnostics& diagnostics)
        : inside_{inside},
          from_{std::move(from)},
          next_id_{next_id},
          diagnostics_{diagnostics},
          find_{inside.database().prepare("SELECT id FROM entry WHERE uid = ? LIMIT 1")},
          set_last_{inside.database().prepare("UPDATE entry SET is_last = (version = (SELECT max(version) "
                                              "FROM entry WHERE id = ?)) WHERE id = ?")} {}

    void take(const Versions& versions) {
        const std::optional<std::int64_t> known = id_of(*versions.front());
        const std::vector<Record> there = known ? inside_.versions_of(*known) : std::vector<Record>{};
        const int before = there.empty() ? 0 : there.back().version;
        int last = before;
        for (const Record* record : versions) {
            if (record->version <= before) {
                compare(there[static_cast<std::size_t>(record->version) - 1], *record);
            } else if (record->version != last + 1) {
                say_gap(*record, last);
            } else {
                ++last;
                add(*record, known.value_or(next_id_), record == versions.back());
            }
        }
        if (known && last > before) {
            for (const Record& each : there)
                touched_.emplace(player_row(each.player), item_row(each.entry.item));
            set_last_.with(*known).with(*known).run();
        }
        if (!known && last > 0) ++next_id_;
    }

    ImportCount finish() {
        for (const auto& [player, item] : touched_) inside_.refresh(player, item);
        return count_;
    }

  private:
    std::optional<std::int64_t> id_of(const Record& record) {
        std::optional<std::int64_t> out;
        if (find_.with(static_cast<std::int64_t>(record.uid)).step()) out = find_.number(0);
        find_.reset();
        return out;
    }

    std::int64_t player_row(const std::string& name) {
        const auto known = players_.find(name);
        return known != players_.end() ? known->second : players_[name] = *inside_.player_row(name, true);
    }
    std::int64_t item_row(const Item& item) {
        const auto known = items_.find(item);
        return known != items_.end() ? known->second : items_[item] = *inside_.item_row(item, true);
    }

    void compare(const Record& there, const Record& record) {
        if (says_the_same(there, record)) {
            ++count_.known;
            return;
        }
        diagnostics_.error_at(
            from_, name_of(record) + " says something else in this log",
            "it was corrected in both: correct one of them as the other and remove the rest");
    }

    void say_gap(const Record& record, int last) {
        const bool is_twice = record.version <= last;
        diagnostics_.error_at(
            from_,
            name_of(record) + (is_twice ? " is there twice"
                                        : " has no version " + std::to_string(last + 1) + " before it"));
    }

    void add(const Record& record, std::int64_t id, bool is_last) {
        Record row = record;
        row.id = id;
        row.is_last = is_last;
        const std::int64_t player = player_row(row.player);
        const std::int64_t item = item_row(row.entry.item);
        inside_.insert(row, player, item);
        touched_.emplace(player, item);
        ++(row.version > 1 ? count_.versions : count_.added);
    }

    LogBook::Inside& inside_;
    std::string from_;
    std::int64_t next_id_;
    Diagnostics& diagnostics_;
    Statement find_;
    Statement set_last_;
    ImportCount count_;
    std::set<std::pair<std::int64_t, std::int64_t>> touched_;  // player, item
    std::map<std::string, std::int64_t> players_;
    std::map<Item, std::int64_t> items_;
};

}  // namespace

ImportCount LogBook::import(const std::vector<Record>& records, const std::string& from,
                            Diagnostics& diagnostics) {
    Transaction transaction{inside_->database()};
    Importer importer{*inside_, from, highest_id() + 1, diagnostics};
    for (const Versions& versions : by_entry(records)) {
        importer.take(versions);
        if (diagnostics.is_full()) break;
    }
    if (diagnostics.has_errors()) return {};
    const ImportCount out = importer.finish();
    transaction.commit();
    return out;
}

}  // namespace shedbook
