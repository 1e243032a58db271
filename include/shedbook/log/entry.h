// What is written down when something was practised. The log knows scales, drills, units, tunes and
// instruments by their ids alone, so what was played in one tune counts in every other that needs the same.
//
//     Item item{ItemKind::Scale, "lydian_dominant", 1, "thirds", "alto-sax"};      // on D flat
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>

#include "shedbook/base/enum_table.h"
#include "shedbook/log/day.h"

namespace shedbook {

// Scale: a drill on a scale. Unit: a kind of line on a unit in a key. Etude: a kind of line through a tune.
enum class ItemKind { Scale, Unit, Etude };
template <>
inline constexpr Worded<ItemKind> kWords<ItemKind>[] = {
    {ItemKind::Scale, "scale"}, {ItemKind::Unit, "unit"}, {ItemKind::Etude, "etude"}};

inline constexpr int kNoRoot = -1;

// What can be practised and be known or not.
struct Item {
    ItemKind kind = ItemKind::Scale;
    std::string subject;     // id of the scale type, the unit or the tune
    int root = kNoRoot;      // 0 to 11 above C, as it sounds; of a tune none
    std::string work;        // id of the drill, or of the kind of line
    std::string instrument;  // id
    friend auto operator<=>(const Item&, const Item&) = default;
};

// The default player.
inline constexpr const char* kMe = "me";

struct Entry {
    Item item;
    Day day;
    std::optional<int> tempo;  // beats a minute at which it was played
    std::optional<int> goal;   // the tempo to arrive at, when this was played
    std::optional<int> right;  // times through without a slip
    std::optional<int> wrong;
    bool from_memory = false;
    int seconds = 0;     // 0: not said
    std::string note;    // of the player's own
    std::string typed;   // what was asked for, in the words of then: "Db7#11"
    std::string tune;    // id of the tune in which it was practised; may be empty
    std::string source;  // "typed", "ticks"
    friend bool operator==(const Entry&, const Entry&) = default;
};

inline constexpr int kSlowestEntry = 10;  // beats a minute
inline constexpr int kFastestEntry = 500;
inline constexpr int kMostRepeats = 10000;

// An entry as it stands in the log. A correction and a removal are versions of their own: what was there
// before stays.
struct Record {
    std::int64_t id = 0;    // as shown to the player of this log
    std::uint64_t uid = 0;  // the same in every copy of the log
    int version = 1;
    bool is_last = true;  // no later version
    bool is_removed = false;
    std::int64_t written = 0;  // when, in seconds since 1970 (UTC)
    std::string player = kMe;
    Entry entry;
};

}  // namespace shedbook
