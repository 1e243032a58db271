// Entries in and out of the log.
#include <algorithm>
#include <filesystem>
#include <optional>
#include <ostream>
#include <system_error>
#include <utility>

#include "goals.h"
#include "log_words.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/log/exchange.h"
#include "shedbook/log/place.h"

namespace shedbook {
namespace {

constexpr std::size_t kLongestNote = 2000;
constexpr int kSecondsOfDay = 24 * 60 * 60;
// A log of a million entries is about 200 MiB as a table.
constexpr std::size_t kLargestLog = std::size_t{1024} * 1024 * 1024;

std::string file_of(const LogPlace& place) {
    return log_file(place.data, data_environment());
}

std::string note_of(const std::string& text) {
    if (!is_valid_utf8(text)) throw UsageError("--note is no valid text (UTF-8)");
    if (text.size() > kLongestNote)
        throw UsageError("--note is longer than " + std::to_string(kLongestNote) + " letters");
    return text;
}

void check_number(const std::string& what, std::optional<int> number, int low, int high) {
    if (number && (*number < low || *number > high))
        throw UsageError(what + " is " + std::to_string(low) + " to " + std::to_string(high) + ", not " +
                         std::to_string(*number));
}

int seconds_of(const std::string& word) {
    if (word.empty()) return 0;
    if (const auto seconds = parse_minutes(word)) return *seconds;
    throw UsageError("--minutes takes " + std::string{kMinutesThatAreRead} + ", up to a day, not '" + word +
                     "'");
}

void remark_on_day(Day day, Day today, Caller& caller) {
    if (day > today) caller.remark(day_in_words(day, today) + " is still ahead: it is entered for that day");
}

// A clock that was set back is seen by entries that seem to be ahead of it.
void remark_on_clock(LogBook& log, const std::string& player, const LogPlace& place, Caller& caller) {
    constexpr std::int64_t kAnHour = 3600;
    log.each({.player = player, .most = 1}, [&](const Record& last) {
        if (last.written > place.now + kAnHour)
            caller.remark("entry " + std::to_string(last.id) +
                          " was written later than now: is the clock right? Both are kept");
    });
}

std::string instrument_of(const EntryRequest& request, LogBook& log, const std::string& player) {
    if (!request.instrument.empty()) return instrument_called(request.instrument).id;
    std::string last = log.last_instrument(player);
    if (last.empty())
        throw UsageError(
            "on which instrument? --for alto-sax; 'shedbook list instruments' shows what there is");
    return last;
}

// What is said of how it was played, onto the entry.
void set_played(Entry& entry, const EntryRequest& request) {
    if (const auto tempo = number_called("--tempo", request.tempo, kSlowestEntry, kFastestEntry))
        entry.tempo = tempo;
    if (const auto goal = number_called("--goal", request.goal, kSlowestEntry, kFastestEntry))
        entry.goal = goal;
    if (const auto right = number_called("--right", request.right, 0, kMostRepeats)) entry.right = right;
    if (const auto wrong = number_called("--wrong", request.wrong, 0, kMostRepeats)) entry.wrong = wrong;
    if (request.from_memory) entry.from_memory = true;
    if (request.with_sheet) entry.from_memory = false;
    if (!request.minutes.empty()) entry.seconds = seconds_of(request.minutes);
    if (!request.note.empty()) entry.note = note_of(request.note);
    if (!request.tune.empty()) entry.tune = tune_id(request.tune);
}

void set_subject(Entry& entry, const LogSubject& subject) {
    entry.item.kind = subject.kind;
    entry.item.subject = subject.id;
    entry.item.root = subject.root;
    entry.typed = subject.typed;
    if (!subject.tune.empty()) entry.tune = subject.tune;
}

// A topic that was named as the instrument reads it, as it sounds.
void sound_as_read(Entry& entry, const EntryRequest& request) {
    if (!request.is_written) return;
    if (request.topic.empty() || entry.item.root == kNoRoot || is_tune_file(request.topic))
        throw UsageError("--written belongs to a chord, a scale or a unit that is named with its note");
    const Transposition& transposition = instrument_called(entry.item.instrument).transposition;
    constexpr int kOctave = 12;
    const int up = to_sounding(transposition).semitones() % kOctave + kOctave;
    entry.item.root = (entry.item.root + up) % kOctave;
}

}  // namespace

Entered enter(const EntryRequest& request, Caller& caller) {
    const std::string player = player_called(request.place.player);
    Entered out;
    Entry& entry = out.entry;
    const LogSubject subject = log_subject(request.topic, request.bars, request.reading, caller);
    set_subject(entry, subject);
    entry.item.work = log_work(subject.kind, request.work);
    entry.day = day_called(request.on, request.place.today);
    entry.source = "typed";
    set_played(entry, request);
    if (!request.instrument.empty()) static_cast<void>(instrument_called(request.instrument));
    LogBook log{file_of(request.place)};
    entry.item.instrument = instrument_of(request, log, player);
    sound_as_read(entry, request);
    remark_on_day(entry.day, request.place.today, caller);
    remark_on_clock(log, player, request.place, caller);
    out.before = log.standing(player, entry.item);
    // Later entries keep the goal of the first, until another is said.
    if (!entry.goal && (!out.before || out.before->goal == 0))
        entry.goal = usual_goal(entry.item, subject.tempo, request.level);
    out.id = log.add(player, entry, request.place.now);
    out.now = log.standing(player, entry.item).value_or(Standing{});
    return out;
}

Entered enter(Entry entry, const LogPlace& place) {
    if (!is_known_here(entry.item)) throw UsageError("'" + name_of(entry.item) + "' is not known here");
    static_cast<void>(instrument_called(entry.item.instrument));
    check_number("the tempo", entry.tempo, kSlowestEntry, kFastestEntry);
    check_number("the goal", entry.goal, kSlowestEntry, kFastestEntry);
    check_number("how often it was right", entry.right, 0, kMostRepeats);
    check_number("how often it was wrong", entry.wrong, 0, kMostRepeats);
    check_number("how long it took", entry.seconds, 0, kSecondsOfDay);
    entry.note = note_of(entry.note);
    const std::string player = player_called(place.player);
    LogBook log{file_of(place)};
    Entered out;
    out.before = log.standing(player, entry.item);
    out.id = log.add(player, entry, place.now);
    out.now = log.standing(player, entry.item).value_or(Standing{});
    out.entry = std::move(entry);
    return out;
}

Entered correct_entry(std::int64_t id, const EntryRequest& request, Caller& caller) {
    LogBook log{file_of(request.place)};
    const std::optional<Record> there = log.find(id);
    if (!there || there->is_removed) {
        throw UsageError("there is no entry " + std::to_string(id) +
                         (there ? " any more: it was removed" : "; 'shedbook log show' shows them"));
    }
    Entered out;
    out.id = id;
    out.entry = there->entry;
    Entry& entry = out.entry;
    if (!request.topic.empty()) {
        const LogSubject subject = log_subject(request.topic, request.bars, request.reading, caller);
        const bool is_other_kind = subject.kind != entry.item.kind;
        set_subject(entry, subject);
        if (is_other_kind && request.work.empty()) static_cast<void>(log_work(subject.kind, ""));
    }
    if (!request.work.empty()) entry.item.work = log_work(entry.item.kind, request.work);
    if (!request.instrument.empty()) entry.item.instrument = instrument_called(request.instrument).id;
    sound_as_read(entry, request);
    if (!request.on.empty()) {
        entry.day = day_called(request.on, request.place.today);
        remark_on_day(entry.day, request.place.today, caller);
    }
    set_played(entry, request);
    if (entry == there->entry) throw UsageError("that is what entry " + std::to_string(id) + " says already");
    out.before = log.standing(there->player, entry.item);
    log.correct(id, entry, request.place.now);
    out.now = log.standing(there->player, entry.item).value_or(Standing{});
    return out;
}

Record remove_entry(std::int64_t id, const LogPlace& place) {
    LogBook log{file_of(place)};
    const std::optional<Record> there = log.find(id);
    if (!there)
        throw UsageError("there is no entry " + std::to_string(id) + "; 'shedbook log show' shows them");
    if (there->is_removed) throw UsageError("entry " + std::to_string(id) + " was removed before");
    log.remove(id, place.now);
    return *there;
}

void show_entries(const ShowRequest& request, const std::function<void(const Record&)>& take,
                  Caller& caller) {
    constexpr std::size_t kScreenful = 40;
    LogFilter filter;
    std::optional<LogSubject> subject;
    if (!request.topic.empty()) subject = log_subject(request.topic, "", {}, caller);
    if (subject) filter.subject = subject->id;
    if (!request.all_players) filter.player = player_called(request.place.player);
    filter.work = slug(request.work);
    if (!request.instrument.empty()) filter.instrument = instrument_called(request.instrument).id;
    if (!request.tune.empty()) filter.tune = tune_id(request.tune);
    if (!request.from.empty()) filter.from = day_called(request.from, request.place.today);
    if (!request.to.empty()) filter.to = day_called(request.to, request.place.today);
    filter.with_history = request.history;
    const auto most = request.last > 0 ? static_cast<std::size_t>(request.last)
                      : request.json   ? 0
                                       : kScreenful;
    // Of one root only after all were looked at: there are no more than a few thousand of a scale.
    if (!subject) filter.most = most;
    LogBook log{file_of(request.place), {.for_reading = true, .on_network = {}}};
    std::vector<Record> out;
    log.each(filter, [&](const Record& record) {
        if (!subject) return take(record);
        if (record.entry.item.root == subject->root) out.push_back(record);
    });
    const std::size_t from = most > 0 && out.size() > most ? out.size() - most : 0;
    std::for_each(out.begin() + static_cast<std::ptrdiff_t>(from), out.end(), take);
}

std::size_t export_log(const std::string& file, const LogPlace& place) {
    const std::string name = lower_case(file);
    const bool as_csv = name.ends_with(".csv");
    if (!as_csv && !name.ends_with(".json"))
        throw UsageError("a log is exported as .csv or .json, not as '" + file + "'");
    LogBook log{file_of(place), {.for_reading = true, .on_network = {}}};
    LogFilter filter;
    filter.with_history = true;
    if (!place.player.empty()) filter.player = player_called(place.player);
    std::size_t count = 0;
    const Records records = [&](const std::function<void(const Record&)>& take) {
        log.each(filter, [&](const Record& record) {
            if (record.version == 1) ++count;
            take(record);
        });
    };
    std::error_code error;
    const bool is_new = !std::filesystem::exists(file, error);
    write_atomically(file, [&](std::ostream& out) {
        as_csv ? write_records_csv(records, out) : write_records_json(records, out);
    });
    // As the log itself: for its owner alone.
    if (is_new) std::filesystem::permissions(file, std::filesystem::perms{0600}, error);
    return count;
}

ImportCount import_log(const std::string& file, const LogPlace& place, Caller& caller) {
    Diagnostics diagnostics;
    const std::vector<Record> records =
        read_records(SourceText{file, read_file(file, kLargestLog)}, diagnostics);
    ImportCount out;
    if (!diagnostics.has_errors()) {
        LogBook log{file_of(place)};
        out = log.import(records, file, diagnostics);
    }
    caller.say(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    return out;
}

CheckedLog check_practice_log(const LogPlace& place) {
    const std::string file = file_of(place);
    std::error_code error;
    if (!std::filesystem::exists(file, error))
        throw UsageError("there is no log yet at '" + file + "'; the first 'shedbook log add' makes one");
    return {file, check_log(file)};
}

void back_up_log(const std::string& file, const LogPlace& place) {
    LogBook log{file_of(place), {.for_reading = true, .on_network = {}}};
    log.backup(file);
}

std::size_t forget_player(const LogPlace& place) {
    if (place.player.empty())
        throw UsageError("who is to be forgotten? --player NAME ('me' where none was named)");
    const std::string player = player_called(place.player);
    LogBook log{file_of(place)};
    if (const auto count = log.forget(player)) return *count;
    const std::vector<std::string> there = log.players();
    const std::string near = nearest(player, there);
    throw UsageError("nobody in the log is called '" + player + "'" +
                     (near.empty() ? "; there are: " + join(there, ", ") : "; did you mean '" + near + "'?"));
}

}  // namespace shedbook
