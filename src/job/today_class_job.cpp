// What each student of a class is to play today.
#include <algorithm>
#include <filesystem>
#include <set>

#include "log_words.h"
#include "output.h"
#include "shedbook/base/text.h"
#include "shedbook/book/roster.h"
#include "shedbook/io/files.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/log/place.h"

namespace shedbook {
namespace {

// What the request of a class asks for one student.
TodayRequest request_for(const Student& student, const TodayRequest& request, std::size_t rows) {
    TodayRequest out = request;
    out.roster.clear();
    out.place.player = student.name;
    out.level = student.level;
    out.part.instruments = {student.part.instrument->id};
    const WrittenRange& range = student.part.range;
    out.part.range = to_string(range.low.on_paper()) + "-" + to_string(range.high.on_paper());
    if (!out.output.file.empty())
        out.output.file = name_with(request.output.file, file_name_of(student, rows));
    return out;
}

void add_week(StudentDay& out, LogBook& log, Day day) {
    std::set<Day> days;
    int seconds = 0;
    LogFilter filter;
    filter.player = out.name;
    filter.from = day_after(day, -6);
    filter.to = day;
    log.each(filter, [&](const Record& record) {
        days.insert(record.entry.day);
        seconds += record.entry.seconds;
    });
    out.minutes_this_week = seconds / 60;
    out.days_this_week = static_cast<int>(days.size());
    for (const KnownItem& known : log.standings(out.name, out.today.instrument)) {
        ++out.items[static_cast<std::size_t>(known.standing.state)];
        if (!out.last || *out.last < known.standing.last) out.last = known.standing.last;
    }
}

}  // namespace

std::vector<StudentDay> today_for_class(const TodayRequest& request, Caller& caller) {
    if (!request.place.player.empty() || !request.part.instruments.empty())
        throw UsageError("the --roster says who plays what: leave out --player and --for");
    Diagnostics diagnostics;
    const Roster roster = read_roster(SourceText{request.roster, read_file(request.roster)}, diagnostics);
    caller.say(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    LogBook log{log_file(request.place.data, data_environment()), {.for_reading = true, .on_network = {}}};
    std::vector<StudentDay> out;
    for (const Student& student : roster.students) {
        StudentDay& day = out.emplace_back();
        day.name = player_called(student.name);
        day.level = student.level;
        day.today = today(request_for(student, request, roster.rows), caller);
        add_week(day, log, day.today.day);
    }
    return out;
}

}  // namespace shedbook
