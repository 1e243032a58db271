// The practice log for a person: entering, looking, and what to play today. Words come in (log_requests.h),
// values go out; what a word cannot mean is a UsageError, and nothing has been entered then.
//
//     EntryRequest request;
//     request.topic = "Db7#11"; request.work = "thirds"; request.instrument = "alto-sax";
//     enter(request, caller).id;                               // 42
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "shedbook/job/caller.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/log_requests.h"
#include "shedbook/log/day_plan.h"
#include "shedbook/log/log_book.h"
#include "shedbook/theory/pitch.h"

namespace shedbook {

struct Entered {
    std::int64_t id = 0;
    Entry entry;
    std::optional<Standing> before;
    Standing now;
};
Entered enter(const EntryRequest& request, Caller& caller);
// The same of an item that is known already, as a piece on a screen is; `entry` has its day.
Entered enter(Entry entry, const LogPlace& place);
// What is said anew takes the place of what was there.
Entered correct_entry(std::int64_t id, const EntryRequest& request, Caller& caller);
Record remove_entry(std::int64_t id, const LogPlace& place);
// The boxes of a printed page.
std::vector<Entered> enter_ticks(const TicksRequest& request, Caller& caller);

void show_entries(const ShowRequest& request, const std::function<void(const Record&)>& take, Caller& caller);
// All that the log has, with its history; of one player or of everybody. How many entries.
std::size_t export_log(const std::string& file, const LogPlace& place);
ImportCount import_log(const std::string& file, const LogPlace& place, Caller& caller);

struct CheckedLog {
    std::string file;
    std::vector<std::string> faults;
};
[[nodiscard]] CheckedLog check_practice_log(const LogPlace& place);
void back_up_log(const std::string& file, const LogPlace& place);
// The player must be named. How many entries there were.
std::size_t forget_player(const LogPlace& place);

// How the charts at hand write the tonics of their scales and units: F sharp, where by itself it would be
// G flat. What is not in them is named with the fewest accidentals.
class TonicsAsWritten {
  public:
    struct Tonics {
        PitchClass sounding;
        PitchClass read;  // by the instrument of the item
    };
    void add(const Item& item, const Tonics& tonics);  // of two the first counts
    [[nodiscard]] const Tonics* find(const Item& item) const;

  private:
    std::map<std::tuple<ItemKind, std::string, int>, Tonics> tonics_;
};

// "Db Lydian dominant, thirds": as it sounds. What nobody knows any more is named by its id.
[[nodiscard]] std::string name_of(const Item& item, const TonicsAsWritten& tonics = {});
// The same as the instrument reads it, with "(concert Db)" where that differs.
[[nodiscard]] std::string name_as_read(const Item& item, const TonicsAsWritten& tonics = {});
// Behind its name as it sounds, for an instrument that reads another: " (written G)", else nothing.
[[nodiscard]] std::string written_remark(const Item& item);
// Whether scale, drill, unit and line are there to be played.
[[nodiscard]] bool is_known_here(const Item& item);
// A phrase of a book: it is kept, and no plan of a day has it.
[[nodiscard]] bool is_phrase(const Item& item);

// What is mastered, of a tune, of a scale or of all.
struct ProgressRow {
    std::string name;
    std::string group;  // "scales", "units", "form"
    Item item;          // one that stands for it
    struct Cell {
        std::string work;
        Mastery state = Mastery::New;
        int tempo = 0;  // clean; 0: none
        int goal = 0;
        std::optional<Day> due;
    };
    std::vector<Cell> cells;
    int share = 0;  // per cent
};
struct ProgressReport {
    std::string title;
    std::string instrument;
    std::vector<ProgressRow> rows;
    int share = 0;
    std::vector<Entry> entries;      // of one scale or chord, day by day
    std::vector<std::string> notes;  // what is in the log and not here any more
};
// Draws it too, where the request names a file.
[[nodiscard]] ProgressReport progress(const ProgressRequest& request, Caller& caller);

struct Today {
    Day day;
    std::string instrument;  // its id
    DayPlan plan;
    TonicsAsWritten tonics;  // of its tunes
    std::vector<std::string> notes;
    Files files;
};
[[nodiscard]] Today today(const TodayRequest& request, Caller& caller);

// The same for a screen: its items as pieces of a document, each once; no file is written. It stays as the
// day began: what is entered on the day changes nothing in it.
struct DayOnScreen {
    Today today;
    BookOnScreen pieces;
};
[[nodiscard]] DayOnScreen open_day(const TodayRequest& request, Caller& caller);

// A student's day, and what a teacher asks first.
struct StudentDay {
    std::string name;
    int level = 1;
    int minutes_this_week = 0;                     // of the last seven days
    int days_this_week = 0;                        // on which something was entered
    std::optional<Day> last;                       // of the last entry
    std::array<int, count_of<Mastery>()> items{};  // by state
    Today today;
};
// Of each row of the roster; files, where one is asked for, are named after the students.
[[nodiscard]] std::vector<StudentDay> today_for_class(const TodayRequest& request, Caller& caller);

}  // namespace shedbook
