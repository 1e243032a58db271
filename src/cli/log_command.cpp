#include <cstdint>
#include <iostream>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "command.h"
#include "log_lines.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/io/data.h"
#include "shedbook/log/exchange.h"
#include "terminal.h"

namespace shedbook {
namespace {

void say_standing(const Entered& entered, const LogPlace& place) {
    const Standing& now = entered.now;
    std::cout << "  now " << to_word(now.state);
    if (entered.before && entered.before->state != now.state)
        std::cout << " (before: " << to_word(entered.before->state) << ")";
    if (is_phrase(entered.entry.item)) {
        std::cout << "; phrases are yours to choose: 'today' plans none\n";
    } else {
        std::cout << "; it comes back on " << day_in_words(now.due, place.today) << "\n";
    }
}

void say_entered(const Entered& entered, const LogPlace& place, const char* what) {
    Entry entry = entered.entry;
    // Where none was said, that of the entries before counts.
    if (!entry.goal && entered.now.goal > 0) entry.goal = entered.now.goal;
    const std::string played = played_in_words(entry);
    std::cout << what << " " << entered.id << ": " << name_of(entry.item) << written_remark(entry.item)
              << ", " << entry.item.instrument << "; " << day_in_words(entry.day, place.today)
              << (played.empty() ? "" : ", ") << played << "\n";
    say_standing(entered, place);
}

// What was played and how; of `add` and `correct`.
void add_entry_options(Syntax& syntax, EntryRequest& request) {
    const auto text = [&](const char* name, std::string& value, const std::string& about) {
        syntax.add_option(name, value, about);
    };
    text("--for", request.instrument, "the instrument (default: the one of the last entry)");
    text("--tempo", request.tempo, "beats a minute at which it was played");
    text("--right", request.right, "how often it was right from beginning to end");
    text("--wrong", request.wrong, "how often it was not");
    syntax.add_flag("--from-memory", request.from_memory, "without looking at the page");
    syntax.add_flag("--written", request.is_written,
                    "TOPIC is named as the instrument reads it, as pages and 'shedbook today' name it");
    text("--minutes", request.minutes, "how long: " + std::string{kMinutesThatAreRead});
    text("--on", request.on, "the day: " + std::string{kDaysThatAreRead} + " (default: today)");
    text("--goal", request.goal,
         "the tempo to arrive at (default: the one before, or that of the last box at this level)");
    syntax.add_option("--level", request.level, "whose tempo is the goal: 1 to 6 (default: 3)")
        .checked(check_level);
    text("--tune", request.tune, "the tune for which it was practised");
    text("--bars", request.bars, "of a tune's file: the unit in these bars, e.g. 5-8");
    text("--note", request.note, "a word to yourself");
    add_log_options(syntax, request.place);
}

constexpr const char* kTopicHelp =
    "a chord (\"Db7#11\"), a scale (\"F lydian\"), a unit (\"ii-V-I in F\") or a tune's file; as it sounds";
constexpr const char* kWorkHelp =
    "the drill (thirds), or the kind of line through a unit or a tune (guide-tones)";

using Part = std::pair<Syntax, Action>;

Part add_part_of_log(Syntax& log) {
    Syntax syntax = log.add_command(
        "add", "Enter what was practised",
        "Examples:\n  shedbook log add \"Db7#11\" thirds --for alto-sax --tempo 96 --right 4 --wrong 1\n"
        "  shedbook log add \"ii-V-I in F\" guide-tones --tempo 120 --from-memory --minutes 5 --on "
        "yesterday\n"
        "  shedbook log add my-tune.tune unbroken-scale --bars 5-8 --tempo 80");
    auto request = std::make_shared<EntryRequest>();
    syntax.add_option("topic", request->topic, kTopicHelp).required();
    syntax.add_option("drill", request->work, kWorkHelp);
    add_entry_options(syntax, *request);
    return {syntax, [request] {
                set_now(request->place);
                Terminal terminal;
                say_entered(enter(*request, terminal), request->place, "entered as");
                return kDone;
            }};
}

Part correct_part_of_log(Syntax& log) {
    Syntax syntax = log.add_command("correct", "Correct an entry; what it said before is kept",
                                    "Example:\n  shedbook log correct 42 --tempo 88 --right 3");
    auto request = std::make_shared<EntryRequest>();
    auto id = std::make_shared<std::uint64_t>(0);
    syntax.add_option("id", *id, "the number of the entry").required();
    syntax.add_option("--topic", request->topic, kTopicHelp);
    syntax.add_option("--drill", request->work, kWorkHelp);
    add_entry_options(syntax, *request);
    syntax.add_flag("--with-sheet", request->with_sheet, "not from memory after all");
    return {syntax, [request, id] {
                set_now(request->place);
                Terminal terminal;
                say_entered(correct_entry(static_cast<std::int64_t>(*id), *request, terminal), request->place,
                            "corrected");
                return kDone;
            }};
}

Part remove_part_of_log(Syntax& log) {
    Syntax syntax = log.add_command("remove", "Take an entry away; 'log show --history' still shows it",
                                    "Example:\n  shedbook log remove 42");
    auto place = std::make_shared<LogPlace>();
    auto id = std::make_shared<std::uint64_t>(0);
    syntax.add_option("id", *id, "the number of the entry").required();
    add_log_options(syntax, *place);
    return {syntax, [place, id] {
                set_now(*place);
                const Record removed = remove_entry(static_cast<std::int64_t>(*id), *place);
                std::cout << "removed " << removed.id << ": " << name_of(removed.entry.item)
                          << written_remark(removed.entry.item) << ", "
                          << day_in_words(removed.entry.day, place->today) << "\n";
                return kDone;
            }};
}

void show_line(const Record& record, const ShowRequest& request) {
    const Entry& entry = record.entry;
    std::cout << padded(std::to_string(record.id), 6)
              << padded(day_in_words(entry.day, request.place.today), 16)
              << padded(printable(name_of(entry.item)), 36) << " " << padded(entry.item.instrument, 12) << " "
              << played_in_words(entry);
    if (request.all_players) std::cout << "  [" << printable(record.player) << "]";
    if (record.is_removed) std::cout << "  (removed)";
    if (!record.is_last) std::cout << "  (corrected since)";
    if (!is_known_here(entry.item)) std::cout << "  (not known here any more; kept)";
    std::cout << "\n";
    if (!entry.note.empty()) std::cout << std::string(22, ' ') << printable(entry.note) << "\n";
}

Part show_part_of_log(Syntax& log) {
    Syntax syntax = log.add_command("show", "Show what was entered",
                                    "Example:\n  shedbook log show --from monday --for alto-sax");
    auto request = std::make_shared<ShowRequest>();
    syntax.add_option("topic", request->topic, "only this: a chord, a scale, a unit in a key, a tune's file");
    const auto text = [&](const char* name, std::string& value, const char* about) {
        syntax.add_option(name, value, about);
    };
    text("--drill", request->work, "only this drill or kind of line");
    text("--for", request->instrument, "only this instrument");
    text("--tune", request->tune, "only what was practised for this tune");
    text("--from", request->from, "from this day on");
    text("--to", request->to, "up to this day");
    syntax.add_option("--last", request->last, "the last so many (default: 40)").positive();
    syntax.add_flag("--all-players", request->all_players, "of everybody");
    syntax.add_flag("--history", request->history, "also what was corrected or removed");
    syntax.add_flag("--json", request->json, "JSON, for programs: all there are");
    add_log_options(syntax, request->place);
    return {syntax, [request] {
                set_now(request->place);
                Terminal terminal;
                if (request->json) {
                    write_records_json(
                        [&](const std::function<void(const Record&)>& take) {
                            show_entries(*request, take, terminal);
                        },
                        std::cout, true);
                    return kDone;
                }
                bool is_empty = true;
                show_entries(
                    *request,
                    [&](const Record& record) {
                        show_line(record, *request);
                        is_empty = false;
                    },
                    terminal);
                if (is_empty) std::cout << "nothing is entered there\n";
                return kDone;
            }};
}

Part ticks_part_of_log(Syntax& log) {
    Syntax syntax =
        log.add_command("ticks", "Enter the boxes that were ticked on printed pages",
                        "Example:\n  shedbook log ticks K7PQ2M 2.3@86,115 2.4m\nThe code stands in the "
                        "footer. Then, for each "
                        "piece: its number, @ and the tempos ticked, m for memory. Or a file of such lines.");
    auto request = std::make_shared<TicksRequest>();
    syntax.add_option("line", request->words, "the code in the footer and what was ticked; or a file")
        .required();
    syntax.add_option("--on", request->on, "the day: " + std::string{kDaysThatAreRead} + " (default: today)");
    syntax.add_option("--pages", request->pages, "the table of pages that were made on another machine");
    add_log_options(syntax, request->place);
    return {syntax, [request] {
                set_now(request->place);
                Terminal terminal;
                for (const Entered& entered : enter_ticks(*request, terminal))
                    say_entered(entered, request->place, "entered as");
                return kDone;
            }};
}

Part export_part_of_log(Syntax& log) {
    Syntax syntax =
        log.add_command("export", "Write the log, its history too, as a table (.csv) or as .json",
                        "Example:\n  shedbook log export my-practice.csv\nWithout --player: of everybody.");
    auto place = std::make_shared<LogPlace>();
    auto file = std::make_shared<std::string>();
    syntax.add_option("file", *file, "file to write: .csv or .json").required();
    add_log_options(syntax, *place);
    return {syntax, [place, file] {
                set_now(*place);
                const std::size_t count = export_log(*file, *place);
                std::cout << *file << ": " << count << (count == 1 ? " entry" : " entries")
                          << "; it is yours, and 'log forget' does not reach it\n";
                return kDone;
            }};
}

Part import_part_of_log(Syntax& log) {
    Syntax syntax =
        log.add_command("import", "Take in what another log has exported, or a table of your own",
                        "Example:\n  shedbook log import my-practice.csv\nWhat is there already is not "
                        "doubled. docs/log.md names the columns.");
    auto place = std::make_shared<LogPlace>();
    auto file = std::make_shared<std::string>();
    syntax.add_option("file", *file, "file to read: .csv or .json").required();
    add_log_options(syntax, *place);
    return {syntax, [place, file] {
                set_now(*place);
                Terminal terminal;
                const ImportCount count = import_log(*file, *place, terminal);
                std::cout << *file << ": " << count.added << " new, " << count.versions
                          << " corrections or removals, " << count.known << " there already\n";
                return kDone;
            }};
}

Part check_part_of_log(Syntax& log) {
    Syntax syntax = log.add_command("check", "Look whether the log is sound; nothing is repaired",
                                    "Example:\n  shedbook log check");
    auto place = std::make_shared<LogPlace>();
    add_log_options(syntax, *place);
    return {syntax, [place] {
                set_now(*place);
                const CheckedLog checked = check_practice_log(*place);
                for (const std::string& fault : checked.faults) std::cerr << "shedbook: " << fault << "\n";
                if (!checked.faults.empty()) return kBadInput;
                std::cout << checked.file << ": sound\n";
                return kDone;
            }};
}

Part backup_part_of_log(Syntax& log) {
    Syntax syntax =
        log.add_command("backup", "Copy the whole log into one file",
                        "Example:\n  shedbook log backup practice-november.db\nThe copy is yours: "
                        "'log forget' does not reach it. To go back to it, put it in the log's place.");
    auto place = std::make_shared<LogPlace>();
    auto file = std::make_shared<std::string>();
    syntax.add_option("file", *file, "file to write; it must not be there yet").required();
    add_log_options(syntax, *place);
    return {syntax, [place, file] {
                set_now(*place);
                back_up_log(*file, *place);
                std::cout << *file << ": the whole log; it is yours to keep, and to delete\n";
                return kDone;
            }};
}

Part forget_part_of_log(Syntax& log) {
    Syntax syntax =
        log.add_command("forget", "Remove all of a player: entries, corrections, free pages of the file",
                        "Example:\n  shedbook log forget --player Ada\nThere is no way back. Backups and "
                        "exports are your own files: delete them yourself.");
    auto place = std::make_shared<LogPlace>();
    add_log_options(syntax, *place);
    return {syntax, [place] {
                set_now(*place);
                const std::size_t count = forget_player(*place);
                std::cout << "forgotten: " << printable(place->player) << ", " << count
                          << (count == 1 ? " entry" : " entries")
                          << "; backups and exports are your own files\n";
                return kDone;
            }};
}

// Whatever a word cannot mean: nothing was entered, and the line is at fault as an input is.
int run_log(const std::vector<Part>& parts) {
    for (const auto& [syntax, action] : parts) {
        if (!syntax.is_asked()) continue;
        try {
            return action();
        } catch (const UsageError& error) {
            std::cerr << "shedbook: " << error.what() << "\n";
            return kBadInput;
        }
    }
    return kUsage;
}

}  // namespace

Action log_command(Syntax& syntax) {
    auto parts = std::make_shared<std::vector<Part>>();
    for (Part (*make)(Syntax&) :
         {add_part_of_log, show_part_of_log, correct_part_of_log, remove_part_of_log, ticks_part_of_log,
          export_part_of_log, import_part_of_log, check_part_of_log, backup_part_of_log, forget_part_of_log})
        parts->push_back(make(syntax));
    return [parts] { return run_log(*parts); };
}

}  // namespace shedbook
