// Measures how fast books are written, as whole processes: time, CPU, peak memory, and CPU against one zlib
// deflate (level 6) of the same XML bytes. Makes its own loads. Prints a table; is no test and has no limits
// in it.
//
//     build/tests/bench/shedbook_bench

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>
#include <zlib.h>

#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iostream>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/write/writers.h"

namespace {

using namespace std::string_literals;

struct Cost {
    double wall = 0;  // seconds
    double cpu = 0;
    long peak_kib = 0;
    bool failed = false;
};

// Runs a job in a process of its own, so that its CPU and memory are its own.
Cost measure(const std::function<void()>& job) {
    std::cout.flush();
    const auto start = std::chrono::steady_clock::now();
    const pid_t child = fork();
    if (child == 0) {
        job();
        _exit(0);
    }
    int status = 0;
    rusage usage{};
    wait4(child, &status, 0, &usage);
    const auto seconds = [](const timeval& t) {
        return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6;
    };
    return {std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(),
            seconds(usage.ru_utime) + seconds(usage.ru_stime), usage.ru_maxrss, status != 0};
}

// The cheapest of several runs: the machine's other work only ever adds.
Cost best_of(int runs, const std::function<void()>& job) {
    Cost best = measure(job);
    for (int i = 1; i < runs; ++i) {
        const Cost cost = measure(job);
        if (cost.cpu < best.cpu) best = cost;
    }
    return best;
}

void deflate_file(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    std::vector<char> from(1 << 16);
    std::vector<char> to(1 << 16);
    z_stream stream{};
    deflateInit(&stream, 6);
    bool last = false;
    while (!last) {
        in.read(from.data(), static_cast<std::streamsize>(from.size()));
        last = in.gcount() < static_cast<std::streamsize>(from.size());
        stream.next_in = reinterpret_cast<Bytef*>(from.data());
        stream.avail_in = static_cast<uInt>(in.gcount());
        do {
            stream.next_out = reinterpret_cast<Bytef*>(to.data());
            stream.avail_out = static_cast<uInt>(to.size());
            deflate(&stream, last ? Z_FINISH : Z_NO_FLUSH);
        } while (stream.avail_out == 0);
    }
    deflateEnd(&stream);
}

long count_notes(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    long notes = 0;
    for (std::string line; std::getline(in, line);)
        notes += line.find("<pitch>") != std::string::npos ? 1 : 0;
    return notes;
}

void report(const std::string& what, const Cost& cost, long notes, double deflate_cpu) {
    std::printf("%-34s %9ld %9.1f %9.1f %10.0f %8.2f %8.1f %7.2f%s\n", what.c_str(), notes, cost.wall * 1e3,
                cost.cpu * 1e3, static_cast<double>(notes) / cost.cpu,
                cost.cpu * 1e6 / static_cast<double>(notes), static_cast<double>(cost.peak_kib) / 1024,
                cost.cpu / deflate_cpu, cost.failed ? "  FAILED" : "");
}

void run_program(const std::vector<std::string>& arguments) {
    std::vector<char*> argv;
    for (const std::string& argument : arguments) argv.push_back(const_cast<char*>(argument.c_str()));
    argv.push_back(nullptr);
    if (std::freopen("/dev/null", "w", stderr) == nullptr ||
        std::freopen("/dev/null", "w", stdout) == nullptr)
        _exit(1);
    execv(argv[0], argv.data());
    _exit(1);
}

// 32 bars with 20 different chords.
std::string tune_text() {
    static constexpr std::array<const char*, 20> kChords{
        "Cmaj7",  "Am7", "Dm7", "G7", "Em7b5", "A7b9", "Fmaj7", "Fm7", "Bb7",   "Ebmaj7",
        "Abmaj7", "Db7", "Cm7", "F7", "Bbm7",  "Eb7",  "D7",    "Gm7", "C7alt", "B7"};
    std::string out = "Title: Load\nKey: C\n[A]\n";
    for (std::size_t bar = 0; bar < 32; ++bar) {
        if (bar % 4 == 0) out += bar == 0 ? "| "s : "\n| "s;
        out += kChords[bar % kChords.size()] + " | "s;
    }
    return out + "\n";
}

const std::array<const char*, 12> kInstruments{"alto-sax", "tenor-sax",   "trumpet",    "flute",
                                               "clarinet", "trombone",    "guitar",     "piano",
                                               "violin",   "double-bass", "vibraphone", "horn"};

// Twenty drills of eight bars of eighths.
std::vector<shedbook::DrillTemplate> compendium_drills() {
    static constexpr std::array<const char*, 20> kCells{
        "1 2 3 4", "1 3 2 4", "1 3 5 3", "1 2 3 1", "1 3 2 1", "1 4 3 2", "1 2 4 3",
        "1 5 3 1", "1 3 4 2", "1 2 3 5", "1 5 4 3", "1 3 5 4", "1 4 2 3", "1 2 1 3",
        "1 3 1 2", "3 1 2 1", "2 1 3 1", "4 3 2 1", "3 2 1 2", "2 3 1 3"};
    std::string text;
    for (std::size_t i = 0; i < kCells.size(); ++i) {
        text += "[[drill]]\nid = \"load-" + std::to_string(i) + "\"\ntitle = \"Load\"\nrising = \"" +
                kCells[i] + "\"\nup = \"bottom to top\"\ndown = \"top to bottom+1\"\nend = \"1\"\n";
    }
    shedbook::Diagnostics diagnostics;
    return shedbook::read_drill_templates(shedbook::SourceText{"load", text}, diagnostics);
}

// Reading: 10,000 chord symbols, and a lead sheet as a whole process beside a process that does nothing.
void report_reading(const std::string& folder) {
    static constexpr std::array<const char*, 10> kSymbols{"Dm7",       "G7(b9,b13)", "Bbmaj7#11", "F#m7b5",
                                                          "C13sus4",   "Ab6/9",      "E7alt",     "Cm(maj7)",
                                                          "Db\u25B37", "G7/B"};
    const Cost symbols = best_of(5, [&] {
        std::size_t read = 0;
        for (int i = 0; i < 10'000; ++i) {
            read +=
                shedbook::parse_chord_symbol(kSymbols[static_cast<std::size_t>(i) % kSymbols.size()]) ? 1 : 0;
        }
        if (read != 10'000) _exit(1);
    });
    const Cost nothing = best_of(5, [] {});
    std::printf("\n10,000 chord symbols: %.1f ms CPU%s\n", (symbols.cpu - nothing.cpu) * 1e3,
                symbols.failed ? "  FAILED" : "");
    measure([&] {
        run_program({SHEDBOOK_PROGRAM, "convert", folder + "/load.tune", "-o", folder + "/load.mxl"});
    });
    const Cost sheet = best_of(9, [&] {
        run_program({SHEDBOOK_PROGRAM, "convert", folder + "/load.mxl", "-o", folder + "/again.tune"});
    });
    const Cost start = best_of(9, [&] { run_program({SHEDBOOK_PROGRAM, "--version"}); });
    std::printf(
        "a lead sheet of 32 bars read: %.1f ms wall, %.1f ms CPU; the program by itself: %.1f ms "
        "wall%s\n",
        sheet.wall * 1e3, sheet.cpu * 1e3, start.wall * 1e3, sheet.failed ? "  FAILED" : "");
}

void write_compendium(const std::string& path) {
    using namespace shedbook;
    const std::vector<DrillTemplate> drills = compendium_drills();
    std::vector<SheetTopic> topics;
    for (const ScaleType& type : scale_types().first(30)) {
        for (int fifths = -5; fifths <= 6; ++fifths) {
            SheetTopic topic;
            topic.scale.scale = Scale{PitchClass::from_fifths(fifths), &type};
            topics.push_back(std::move(topic));
        }
    }
    const Instrument& alto = *find_instrument("alto-sax");
    const std::vector<BookPart> parts{{&alto, alto.practical}};
    BookOptions options;
    for (const DrillTemplate& drill : drills) options.drills.push_back(&drill);
    Diagnostics diagnostics;
    find_writer(path)->write(
        path, [&](BlockSink& sink) { assemble_sheet(topics, parts, 0, options, sink, diagnostics); }, {});
}

}  // namespace

int main() {
    const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("shedbook-bench-" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    const auto file = [&](const std::string& name) { return (folder / name).string(); };
    std::ofstream{file("load.tune")} << tune_text();
    std::printf("%-34s %9s %9s %9s %10s %8s %8s %7s\n", "load", "notes", "wall ms", "CPU ms", "notes/s",
                "us/note", "peak MiB", "x zlib");
    for (const char* ending : {".musicxml", ".mxl"}) {
        const auto book = [&](const std::string& instruments, const std::string& output) {
            run_program(
                {SHEDBOOK_PROGRAM, "book", file("load.tune"), "--all", "--for", instruments, "-o", output});
        };
        measure([&] { book("alto-sax", file("book.musicxml")); });
        const long notes = count_notes(file("book.musicxml"));
        const double zlib = best_of(5, [&] { deflate_file(file("book.musicxml")); }).cpu;
        report("tune book "s + ending, best_of(9, [&] { book("alto-sax", file("book"s + ending)); }), notes,
               zlib);
        std::string all;
        for (const char* instrument : kInstruments) all += (all.empty() ? ""s : ","s) + instrument;
        const Cost twelve = best_of(3, [&] { book(all, file("class"s + ending)); });
        measure([&] { book(all, file("class.musicxml")); });
        long class_notes = 0;
        double class_zlib = 0;
        for (const char* instrument : kInstruments) {
            const std::string path = file("class-"s + instrument + ".musicxml");
            class_notes += count_notes(path);
            class_zlib += measure([&] { deflate_file(path); }).cpu;
        }
        report("twelve instruments "s + ending, twelve, class_notes, class_zlib);
    }
    for (const char* ending : {".musicxml", ".mxl"}) {
        measure([&] { write_compendium(file("compendium.musicxml")); });
        const long notes = count_notes(file("compendium.musicxml"));
        const double zlib = best_of(3, [&] { deflate_file(file("compendium.musicxml")); }).cpu;
        report("compendium "s + ending, best_of(3, [&] { write_compendium(file("compendium"s + ending)); }),
               notes, zlib);
    }
    report_reading(folder.string());
    std::filesystem::remove_all(folder);
    return 0;
}
