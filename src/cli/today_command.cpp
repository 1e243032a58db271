#include <algorithm>
#include <iostream>
#include <memory>
#include <string>
#include <utility>

#include "command.h"
#include "log_lines.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/io/data.h"
#include "shedbook/job/log_data.h"
#include "terminal.h"

namespace shedbook {
namespace {

std::string tempo_in_words(const TempoSteps& tempo) {
    if (tempo.goal == 0) return "";
    if (tempo.start == tempo.goal) return "at " + std::to_string(tempo.goal);
    return std::to_string(tempo.start) + " to " + std::to_string(tempo.goal) + " by " +
           std::to_string(tempo.step);
}

void print_pieces(const Today& today) {
    for (const PlannedPiece& piece : today.plan.pieces) {
        const std::string minutes = std::to_string(piece.minutes) + " min";
        std::cout << std::string(minutes.size() < 8 ? 8 - minutes.size() : 0, ' ') << minutes << "  ";
        if (piece.what == PieceOfDay::Break) {
            std::cout << "put the instrument down\n";
            continue;
        }
        std::cout << padded(name_as_read(piece.item, today.tonics), 50) << " "
                  << padded(tempo_in_words(piece.tempo), 16) << " " << piece.why << "\n";
    }
}

// How the names above are to be entered, where they are not those that sound.
std::string with_written(const Today& today) {
    const auto read = std::ranges::find_if(today.plan.pieces, [&](const PlannedPiece& piece) {
        return piece.what != PieceOfDay::Break &&
               name_as_read(piece.item, today.tonics) != name_of(piece.item, today.tonics);
    });
    return read == today.plan.pieces.end() ? "" : ", and --written where you take these names";
}

void print_plan(const Today& today, const TodayRequest& request) {
    std::cout << day_in_words(today.day, request.place.today) << ": " << today.plan.minutes()
              << " minutes on " << find_instrument(today.instrument)->name << ", level " << request.level
              << "\n\n";
    print_pieces(today);
    std::cout << "\nSlow enough to be right; write it down with 'shedbook log add'" << with_written(today)
              << ".\n"
              << kCaution << "\n";
    if (today.plan.waiting > 0)
        std::cout << today.plan.waiting << " more " << (today.plan.waiting == 1 ? "is" : "are")
                  << " due and will come on the next days; nothing new is begun before.\n";
    for (const std::string& note : today.notes) std::cout << printable(note) << "\n";
}

void print_class(const std::vector<StudentDay>& students, const TodayRequest& request) {
    for (const StudentDay& student : students) {
        const Today& today = student.today;
        std::cout << printable(student.name) << ", " << find_instrument(today.instrument)->name << ", level "
                  << student.level << "\n  in seven days " << student.minutes_this_week << " minutes on "
                  << student.days_this_week << (student.days_this_week == 1 ? " day" : " days") << "; "
                  << (student.last ? "last on " + day_in_words(*student.last, today.day)
                                   : "nothing entered yet");
        for (std::size_t i = 1; i < student.items.size(); ++i) {
            if (student.items[i] > 0)
                std::cout << "; " << student.items[i] << " " << to_word(static_cast<Mastery>(i));
        }
        std::cout << "\n  " << day_in_words(today.day, request.place.today) << ", " << today.plan.minutes()
                  << " minutes"
                  << (today.plan.waiting > 0 ? "; " + std::to_string(today.plan.waiting) + " more are due"
                                             : "")
                  << "\n";
        print_pieces(today);
        for (const std::string& file : today.files) std::cout << "  written: " << file << "\n";
        std::cout << "\n";
    }
    std::cout << kCaution << "\n";
}

void print_json(const Today& today) {
    std::cout << write_json(Data{today_as_data(today)}) << "\n";
}

}  // namespace

Action today_command(Syntax& syntax) {
    auto request = std::make_shared<TodayRequest>();
    auto json = std::make_shared<bool>(false);
    syntax.add_option("--minutes", request->minutes, "how long you have, breaks included (default: 30)");
    syntax.add_option("--for", request->part.instruments,
                      "your instrument (default: that of the last entry)");
    syntax.add_option("--tune", request->tunes, "a tune you work on; several: --tune a.tune --tune b.tune");
    syntax
        .add_option("--level", request->level,
                    "1 (first year) to 6: what is new for you, and from 3 on mixed order (default: 3)")
        .checked(check_level);
    syntax.add_option("--gig", request->gig,
                      "the day of a gig, 2027-01-20 or \"20 jan\": nothing waits beyond it");
    syntax.add_option("--on", request->on, "another day than today: " + std::string{kDaysThatAreRead});
    syntax.add_option("--seed", request->seed, "another number, another choice among what is as urgent");
    syntax.add_option("--range", request->part.range,
                      "first, student, practical, full, or two written notes");
    syntax.add_option("--roster", request->roster,
                      "a class (docs/class.md): a day for each student, named as the player in the log");
    syntax.add_flag("--json", *json, "JSON, for programs");
    syntax.add_option("-o,--output", request->output.file,
                      "print just these drills, with boxes: today.pdf, today.mxl; or hear them: today.mid");
    syntax.add_option("--paper", request->output.paper, "A4, letter or tablet, for pages (default: A4)");
    add_log_options(syntax, request->place);
    return [request, json] {
        set_now(request->place);
        Terminal terminal;
        if (!request->roster.empty()) {
            if (*json) throw UsageError("--json is for one player: --player NAME");
            print_class(today_for_class(*request, terminal), *request);
            return kDone;
        }
        const Today plan = today(*request, terminal);
        *json ? print_json(plan) : print_plan(plan, *request);
        return kDone;
    };
}

}  // namespace shedbook
