// Entries of another log, or of a copy of this one.
#include <algorithm>
#include <map>
#include <set>
#include <tuple>
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

}  // namespace

ImportCount LogBook::import(const std::vector<Record>& records, const std::string& from,
                            Diagnostics& diagnostics) {
    Database& database = inside_->database();
    Transaction transaction{database};
    ImportCount out;
    std::set<std::pair<std::int64_t, std::int64_t>> touched;  // player, item
    std::map<std::string, std::int64_t> players;
    std::map<Item, std::int64_t> items;
    const auto player_row = [&](const std::string& name) {
        const auto known = players.find(name);
        return known != players.end() ? known->second : players[name] = *inside_->player_row(name, true);
    };
    const auto item_row = [&](const Item& item) {
        const auto known = items.find(item);
        return known != items.end() ? known->second : items[item] = *inside_->item_row(item, true);
    };
    std::int64_t next = highest_id() + 1;
    Statement find = database.prepare("SELECT id FROM entry WHERE uid = ? LIMIT 1");
    Statement set_last = database.prepare(
        "UPDATE entry SET is_last = (version = (SELECT max(version) FROM entry WHERE id = ?)) "
        "WHERE id = ?");
    const auto take = [&](const Versions& versions) {
        find.with(static_cast<std::int64_t>(versions.front()->uid));
        const bool is_known = find.step();
        const std::int64_t id = is_known ? find.number(0) : next;
        find.reset();
        const std::vector<Record> there = is_known ? inside_->versions_of(id) : std::vector<Record>{};
        int last = there.empty() ? 0 : there.back().version;
        for (const Record* record : versions) {
            if (record->version <= static_cast<int>(there.size())) {
                if (says_the_same(there[static_cast<std::size_t>(record->version) - 1], *record)) {
                    ++out.known;
                } else {
                    diagnostics.error_at(from, name_of(*record) + " says something else in this log",
                                         "it was corrected in both: correct one of them as the other and "
                                         "remove the rest");
                }
                continue;
            }
            if (record->version == last) {
                diagnostics.error_at(from, name_of(*record) + " is there twice");
                continue;
            }
            if (record->version != last + 1) {
                diagnostics.error_at(
                    from, name_of(*record) + " has no version " + std::to_string(last + 1) + " before it");
                continue;
            }
            last = record->version;
            Record row = *record;
            row.id = id;
            row.is_last = record == versions.back();
            const std::int64_t player = player_row(row.player);
            const std::int64_t item = item_row(row.entry.item);
            inside_->insert(row, player, item);
            touched.emplace(player, item);
            out.versions += row.version > 1 ? 1 : 0;
            out.added += row.version == 1 ? 1 : 0;
        }
        if (is_known && last > there.back().version) {
            for (const Record& before : there)
                touched.emplace(player_row(before.player), item_row(before.entry.item));
            set_last.with(id).with(id).run();
        }
        if (!is_known && last > 0) ++next;
    };
    for (const Versions& versions : by_entry(records)) {
        take(versions);
        if (diagnostics.is_full()) break;
    }
    if (diagnostics.has_errors()) return {};
    for (const auto& [player, item] : touched) inside_->refresh(player, item);
    transaction.commit();
    return out;
}

}  // namespace shedbook
