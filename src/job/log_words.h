// Words about the log turned into values. What they cannot mean is a UsageError.
#pragma once

#include <optional>
#include <string>

#include "shedbook/book/book.h"
#include "shedbook/harmony/units.h"
#include "shedbook/job/caller.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/job/log_requests.h"
#include "shedbook/log/entry.h"

namespace shedbook {

// What an entry is on, without drill and instrument.
struct LogSubject {
    ItemKind kind = ItemKind::Scale;
    std::string id;
    int root = kNoRoot;
    std::string typed;
    std::string tune;          // id; may be empty
    std::optional<int> tempo;  // of the tune
};
[[nodiscard]] LogSubject log_subject(const std::string& topic, const std::string& bars,
                                     const TuneRequest& reading, Caller& caller);
// The drill, or the kind of line.
[[nodiscard]] std::string log_work(ItemKind kind, const std::string& name);

// A unit in a key of some mode, without the root.
struct UnitInMode {
    UnitKind kind = UnitKind::LoneChord;
    Mode mode = Mode::Major;
    friend bool operator==(const UnitInMode&, const UnitInMode&) = default;
};
// "ii-v-i", "minor-ii-v-i", "minor-ii-v": plain letters, and the same for good.
[[nodiscard]] std::string unit_id(UnitKind kind, Mode mode);
[[nodiscard]] std::optional<UnitInMode> unit_with_id(const std::string& id);

// The scale of an item, on the root as it is written, else that of the fewest accidentals; nothing if it is
// not known here.
[[nodiscard]] std::optional<Scale> scale_of(const Item& item, const TonicsAsWritten& tonics = {});
// With the fewest accidentals; of two names as simple `rather`, else the one with flats.
[[nodiscard]] Scale named_simply(int root, const ScaleType& type, std::optional<PitchClass> rather = {});
[[nodiscard]] Key key_named_simply(int root, Mode mode, std::optional<PitchClass> rather = {});
// What an item is on, as its instrument reads it.
struct SubjectAsRead {
    std::string name;     // "Bb Lydian dominant", "ii-V-I in D"
    std::string concert;  // " (concert Db)"; empty where it reads what sounds
};
[[nodiscard]] SubjectAsRead subject_as_read(const Item& item, const TonicsAsWritten& tonics = {});

[[nodiscard]] Day day_called(const std::string& word, Day today);
[[nodiscard]] std::optional<int> number_called(const std::string& option, const std::string& word, int low,
                                               int high);
// A tune's file, or its id.
[[nodiscard]] std::string tune_id(const std::string& typed);
[[nodiscard]] std::string player_called(const std::string& name);

}  // namespace shedbook
