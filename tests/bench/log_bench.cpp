// How a log of a million entries answers: five players over many years. Today under 0.3 s, an entry under
// 20 ms, as whole runs of the program.
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <string>
#include <vector>

#include "shedbook/log/log_book.h"

namespace shedbook {
namespace {

using Clock = std::chrono::steady_clock;

double ms_since(Clock::time_point start) {
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

// Entries as players make them: a few hundred items each, some of them often.
std::vector<Record> made_up(int count) {
    static constexpr std::array kScales{"ionian", "dorian",  "mixolydian",
                                        "lydian", "altered", "lydian_dominant"};
    static constexpr std::array kDrills{"range-scale", "thirds", "triads", "groups-of-four", "sevenths"};
    static constexpr std::array kPlayers{"me", "ada", "ben", "cleo", "dan"};
    const Day first = *parse_date("1996-01-01");
    std::vector<Record> out;
    out.reserve(static_cast<std::size_t>(count));
    std::uint64_t random = 88172645463325252U;
    for (int i = 0; i < count; ++i) {
        random ^= random << 13U;
        random ^= random >> 7U;
        random ^= random << 17U;
        Record record;
        record.uid = static_cast<std::uint64_t>(i) + 1;
        record.written = 1'000'000'000 + i;
        record.player = kPlayers[random % kPlayers.size()];
        Entry& entry = record.entry;
        entry.item = {ItemKind::Scale, kScales[random / 7 % kScales.size()],
                      static_cast<int>(random / 97 % 12), kDrills[random / 1009 % kDrills.size()],
                      "alto-sax"};
        entry.day = day_after(first, static_cast<int>(11'000LL * i / count));
        entry.tempo = 60 + static_cast<int>(random / 31 % 60);
        entry.goal = 100;
        entry.right = static_cast<int>(random / 13 % 6);
        entry.wrong = static_cast<int>(random / 17 % 4);
        entry.from_memory = random % 3 == 0;
        entry.seconds = 180;
        entry.typed = "typed";
        out.push_back(std::move(record));
    }
    return out;
}

// The quickest and the middle of several runs of the program, in milliseconds.
void time_program(const std::string& what, const std::string& arguments) {
    std::vector<double> times;
    for (int i = 0; i < 15; ++i) {
        const auto start = Clock::now();
        const std::string command = std::string{SHEDBOOK_PROGRAM} + " " + arguments + " > /dev/null";
        if (std::system(command.c_str()) != 0) std::exit(1);  // NOLINT: as a user does
        times.push_back(ms_since(start));
    }
    std::ranges::sort(times);
    std::cout << what << ": " << times.front() << " ms at best, " << times[times.size() / 2]
              << " ms usually\n";
}

int run_bench(int count) {
    const std::string folder =
        (std::filesystem::temp_directory_path() / ("log-bench-" + std::to_string(getpid()))).string();
    const std::string file = folder + "/practice.db";
    auto start = Clock::now();
    {
        LogBook log{file};
        Diagnostics diagnostics;
        const ImportCount taken = log.import(made_up(count), "bench", diagnostics);
        std::cout << "import of " << taken.added << " entries: " << ms_since(start) / 1000 << " s, "
                  << std::filesystem::file_size(file) / 1'000'000 << " MB\n";
        start = Clock::now();
        for (int i = 0; i < 100; ++i) log.add("me", made_up(i + 1).back().entry, i);
        std::cout << "an entry within the program: " << ms_since(start) / 100 << " ms\n";
    }
    const std::string data = " --data " + file;
    time_program("list plans (the program itself)", "list plans");
    time_program("log add", "log add 'Db7#11' thirds --for alto-sax --tempo 100" + data);
    time_program("today", "today --minutes 30 --for alto-sax" + data);
    time_program("today with a tune", "today --minutes 30 --for alto-sax --tune " SHEDBOOK_SOURCE_DIR
                                      "/sample-charts/ferry-at-six.tune" +
                                          data);
    time_program("log show", "log show" + data);
    start = Clock::now();
    const std::size_t faults = check_log(file).size();
    std::cout << "log check: " << ms_since(start) / 1000 << " s, " << faults << " faults\n";
    start = Clock::now();
    const auto forgotten = LogBook{file}.forget("ada");
    std::cout << "log forget of " << forgotten.value_or(0) << " entries: " << ms_since(start) / 1000
              << " s\n";
    std::filesystem::remove_all(folder);
    return 0;
}

}  // namespace
}  // namespace shedbook

int main(int argc, char** argv) {
    return shedbook::run_bench(argc > 1 ? std::atoi(argv[1]) : 1'000'000);
}
