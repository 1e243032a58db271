#include <array>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include "command.h"
#include "log_lines.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/io/data.h"
#include "shedbook/job/log_data.h"
#include "terminal.h"

namespace shedbook {
namespace {

constexpr std::array<const char*, 5> kSigns{".", "s", "t", "m", "F"};

const char* sign_of(Mastery state) {
    return kSigns[static_cast<std::size_t>(state)];
}

void print_details(const ProgressRow& row, const LogPlace& place) {
    for (const ProgressRow::Cell& cell : row.cells) {
        std::cout << "  " << padded(cell.work, 34) << " " << padded(std::string{to_word(cell.state)}, 12);
        if (cell.tempo > 0) std::cout << " clean at " << cell.tempo;
        if (cell.goal > 0) std::cout << " of " << cell.goal;
        if (cell.due) std::cout << ", comes back on " << day_in_words(*cell.due, place.today);
        std::cout << "\n";
    }
}

void print_report(const ProgressReport& report, const LogPlace& place) {
    std::cout << report.title << ", " << report.instrument << ": " << report.share << " %\n";
    if (report.rows.size() == 1) {
        print_details(report.rows.front(), place);
    } else {
        std::string group;
        for (const ProgressRow& row : report.rows) {
            if (row.group != group) std::cout << "\n" << row.group << "\n";
            group = row.group;
            std::string signs;
            for (const ProgressRow::Cell& cell : row.cells) signs += sign_of(cell.state);
            std::cout << "  " << padded(row.name, 44) << " " << padded(signs, 12) << " " << row.share
                      << " %\n";
        }
        std::cout << "\na sign for each drill: . new, s slow, t at tempo, m from memory, F fluent\n";
    }
    for (const std::string& note : report.notes) std::cout << printable(note) << "\n";
}

void print_report_json(const ProgressReport& report) {
    std::cout << write_json(Data{progress_as_data(report)}) << "\n";
}

}  // namespace

Action progress_command(Syntax& syntax) {
    auto request = std::make_shared<ProgressRequest>();
    auto all = std::make_shared<bool>(false);
    syntax.add_option(
        "what", request->what,
        "a tune's file, a chord (\"Db7#11\"), a scale (\"F lydian\") or a unit (\"ii-V-I in F\")");
    syntax.add_flag("--all", *all, "all that was practised");
    syntax.add_option("--for", request->instrument, "the instrument (default: that of the last entry)");
    syntax.add_option("--level", request->level, "whose drills a tune asks for: 1 to 6 (default: 3)")
        .checked(check_level);
    syntax.add_flag("--json", request->json, "JSON, for programs");
    syntax.add_option("-o,--output", request->output,
                      "draw it too, as .svg, .pdf or .png: of a scale tempos over days, else scales by keys");
    add_log_options(syntax, request->place);
    return [request, all] {
        set_now(request->place);
        if (request->what.empty() != *all)
            throw UsageError(*all ? "say one thing: '" + request->what + "' or --all"
                                  : "progress of what? a tune, a chord, a scale, or --all");
        Terminal terminal;
        const ProgressReport report = progress(*request, terminal);
        request->json ? print_report_json(report) : print_report(report, request->place);
        return kDone;
    };
}

}  // namespace shedbook
