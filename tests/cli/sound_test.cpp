#include <array>
#include <catch2/catch.hpp>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <ostream>
#include <set>
#include <sstream>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "band/band_checks.h"
#include "program.h"
#include "scratch_folder.h"
#include "shedbook/band/rhythm_section.h"
#include "shedbook/book/lead_sheet.h"
#include "shedbook/chart/readers.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"
#include "write/midi_reader.h"

namespace shedbook {
namespace {

// Ctrl-C at the program, from a script that it has started: between the two stands the guard of run_process,
// whose parent is the fourth word of its state (proc(5)).
const std::string kInterruptProgram = "kill -INT $(cut -d ' ' -f 4 /proc/$PPID/stat)\n";

namespace fs = std::filesystem;

const std::string kBlueDoorAt120 =
    "Title: Blue Door\nKey: Bb\nMeter: 4/4\nTempo: 120\n| Cm7 | F7 | Bbmaj7 | G7 |\n";

// How a sound font begins; nothing more is looked at before the synthesizer has it.
const std::string kFontHead = "RIFF????sfbk";

bool has_synthesizer() {
    if (!find_program("fluidsynth")) {
        WARN("skipped: no fluidsynth on this machine");
        return false;
    }
    return true;
}

// A program on the PATH before all others.
void put_program(const ScratchFolder& folder, const std::string& name, const std::string& script) {
    fs::create_directories(folder.file("bin"));
    const std::string path = folder.file("bin/" + name);
    save(path, "#!/bin/sh\n" + script);
    fs::permissions(path, fs::perms::owner_all);
}

Outcome run_with(const ScratchFolder& folder, const std::string& arguments, bool only_ours = false) {
    // The shell's own words come first, so that they hold for the program that run_program starts.
    const std::string rest = only_ours ? "" : ":" + std::string{std::getenv("PATH")};
    const std::string old_path = std::getenv("PATH");
    setenv("PATH", (folder.file("bin") + rest).c_str(), 1);
    setenv("XDG_STATE_HOME", folder.file("state").c_str(), 1);
    setenv("TMPDIR", folder.file("tmp").c_str(), 1);
    fs::create_directories(folder.file("tmp"));
    const Outcome out = run_program(arguments);
    setenv("PATH", old_path.c_str(), 1);
    unsetenv("XDG_STATE_HOME");
    unsetenv("TMPDIR");
    return out;
}

struct Wav {
    double seconds = 0;
    int peak = 0;
    int peak_before = 0;  // before `peak_from`
};

// The canonical form: RIFF, fmt and data chunks, little endian (Microsoft and IBM, Multimedia Programming
// Interface 1.0).
Wav read_wav(const std::string& path, double peak_from = 0) {
    const std::string bytes = read_file(path, 512U * 1024 * 1024);
    const auto number = [&](std::size_t at, int count) {
        std::int64_t out = 0;
        for (int i = count - 1; i >= 0; --i)
            out = 256 * out + static_cast<unsigned char>(bytes[at + static_cast<std::size_t>(i)]);
        return out;
    };
    REQUIRE(bytes.substr(0, 4) == "RIFF");
    Wav out;
    std::int64_t a_second = 0;
    for (std::size_t at = 12; at + 8 <= bytes.size();) {
        const std::string id = bytes.substr(at, 4);
        const auto size = static_cast<std::size_t>(number(at + 4, 4));
        if (id == "fmt ") a_second = number(at + 16, 4);
        if (id == "data") {
            out.seconds = static_cast<double>(size) / static_cast<double>(a_second);
            const auto before = 4 * static_cast<std::size_t>(peak_from * static_cast<double>(a_second) / 4);
            for (std::size_t i = at + 8; i + 1 < at + 8 + size && i + 1 < bytes.size(); i += 2) {
                const auto sample = static_cast<std::int16_t>(number(i, 2));
                int& peak = i < at + 8 + before ? out.peak_before : out.peak;
                peak = std::max(peak, std::abs(static_cast<int>(sample)));
            }
        }
        at += 8 + size + size % 2;
    }
    return out;
}

// Microseconds a quarter, of every tempo in a MIDI file.
std::vector<int> tempos_in(const std::string& path) {
    std::vector<int> out;
    for (const ReadMeta& tempo : MidiReader{read_file(path)}.read().tracks.at(0).of_type(0x51)) {
        int value = 0;
        for (const char c : tempo.data) value = 256 * value + static_cast<unsigned char>(c);
        out.push_back(value);
    }
    return out;
}

std::vector<std::string> files_in(const std::string& folder, const std::string& ending) {
    std::vector<std::string> out;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator{folder, error}) {
        if (entry.path().extension() == ending) out.push_back(entry.path().string());
    }
    std::ranges::sort(out);
    return out;
}

struct PlayedBand {
    std::vector<BandChord> chords;
    std::vector<BandBar> bars;
};

PlayedBand band_of(const Timeline& timeline) {
    PlayedBand out;
    for (const ChordSpan& span : timeline.chords)
        out.chords.push_back({span.at, span.length, span.symbol, 0});
    for (const PlayedBar& bar : timeline.bars) out.bars.push_back({bar.at, bar.length, bar.meter});
    return out;
}

constexpr std::array<BassFeel, 2> kFeels{BassFeel::Walking, BassFeel::Straight};

// The rules of the band on every chart of a folder.
void check_band_on(const std::vector<std::string>& paths, BassFeel feel) {
    BassCount bass;
    CompingCount chords;
    for (const std::string& path : paths) {
        Diagnostics diagnostics;
        const auto chart = read_chart(path, read_file(path), {}, diagnostics);
        const auto timeline = chart ? unfold(*chart, diagnostics) : std::nullopt;
        if (!timeline) continue;
        const PlayedBand band = band_of(*timeline);
        const BassCount b = count_bass(bass_line(band.chords, band.bars, feel, 1), band.chords, band.bars);
        const RhythmSection section{band.chords, band.bars, {}, {}, {}, BandStyle::Swing, 1, {}};
        const CompingCount c = count_comping(play_chords(section), band.chords);
        INFO(path);
        CHECK(b.outside_range + b.wide_leaps + b.changes_missed + b.strangers == 0);
        CHECK(c.outside_range + c.guide_tones_missed + c.strangers + c.silent_changes == 0);
        // Two chords a tritone apart can do no better; over a tune it comes out.
        if (c.moves >= 8) CHECK(c.movement < 3.0 * c.moves);
        bass.bar_ends += b.bar_ends;
        bass.bar_ends_by_step += b.bar_ends_by_step;
        chords.moves += c.moves;
        chords.movement += c.movement;
    }
    CHECK(bass.bar_ends > 0);
    CHECK(4 * bass.bar_ends_by_step >= 3 * bass.bar_ends);
    CHECK(chords.movement < 2.0 * chords.moves);
}

}  // namespace

TEST_CASE("bass and comping keep their rules on every sample chart", "[cli][sound]") {
    for (const BassFeel feel : kFeels)
        check_band_on(files_in(std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts", ".tune"), feel);
}

TEST_CASE("bass and comping keep their rules on the changes of recorded solos", "[cli][sound]") {
    const std::vector<std::string> charts =
        files_in(std::string{SHEDBOOK_SHARED_DIR} + "/reference/solos/charts", ".json");
    if (charts.empty()) {
        WARN("skipped: no charts of solos beside the checkout");
        return;
    }
    for (const BassFeel feel : kFeels) check_band_on(charts, feel);
}

TEST_CASE("a lead sheet's measures are in the order in which the tune is played", "[cli][sound]") {
    for (const std::string& path : files_in(std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts", ".tune")) {
        Diagnostics diagnostics;
        const auto chart = read_chart(path, read_file(path), {}, diagnostics);
        REQUIRE(chart);
        const auto order = order_of_play(*chart, diagnostics);
        const WrittenMusic part = rhythm_part(*chart, *find_instrument("piano"), Prefer::Fewest);
        INFO(path);
        REQUIRE(order);
        CHECK(part.played == std::vector<std::size_t>(order->begin(), order->end()));
    }
}

TEST_CASE("a book as MIDI has a marker for the changes, every drill and the line", "[cli][sound]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoorAt120);
    REQUIRE(run_program("book " + folder.file("a.tune") + " --for alto-sax --drills thirds -o " +
                        folder.file("b.mid"))
                .exit_code == 0);
    const ReadFile file = MidiReader{read_file(folder.file("b.mid"))}.read();
    std::vector<std::string> markers;
    for (const ReadMeta& marker : file.tracks.at(0).of_type(6)) markers.push_back(marker.data);
    REQUIRE(markers.size() >= 6);
    CHECK(markers[0] == "The changes");
    CHECK(markers[1] == "1.1 In thirds");
    CHECK(markers[4] == "4.1 In thirds");
}

TEST_CASE("one piece of a book or sheet is chosen by its number", "[cli][sound]") {
    const ScratchFolder folder;
    const std::string out = folder.file("x.mid");
    REQUIRE(run_program("drills Dm7 G7 --for flute --only 2.1 -o " + out).exit_code == 0);
    const std::vector<ReadMeta> markers = MidiReader{read_file(out)}.read().tracks.at(0).of_type(6);
    REQUIRE(markers.size() == 1);
    CHECK(markers[0].data.substr(0, 4) == "2.1 ");
    REQUIRE(run_program("drills Dm7 G7 --for flute --drills thirds,sevenths --only 2 -o " + out).exit_code ==
            0);
    CHECK(MidiReader{read_file(out)}.read().tracks.at(0).of_type(6).size() == 2);
    const Outcome none = run_program("drills Dm7 --for flute --only 7.7 -o " + folder.file("y.mid"));
    CHECK(none.exit_code == 2);
    CHECK_THAT(none.err, Catch::Contains("no piece 7.7; there are: 1.1, 1.2"));
    CHECK(folder.count_files() == 1);
}

TEST_CASE("choices of sound that make no sense are a matter of usage", "[cli][sound]") {
    const ScratchFolder folder;
    const auto says = [&](const std::string& options) {
        const Outcome outcome =
            run_program("drills Dm7 --for flute " + options + " -o " + folder.file("x.mid"));
        CHECK(outcome.exit_code == 2);
        return outcome.err;
    };
    CHECK_THAT(says("--tempo fast"), Catch::Contains("beats a minute from 20 to 400"));
    CHECK_THAT(says("--tempo 60-1000"), Catch::Contains("not '60-1000'"));
    for (const char* list : {"60,1000", "60,", ",", "60,80-90", "60;80"})
        CHECK_THAT(says(std::string{"--tempo '"} + list + "'"), Catch::Contains("several (60,80,100)"));
    CHECK_THAT(says("--tempo 60,80 --tempo-bars 4"), Catch::Contains("needs a ladder"));
    CHECK_THAT(says("--tempo boxes --tempo-bars 4"), Catch::Contains("needs a ladder"));
    CHECK_THAT(says("--tempo-bars 4"), Catch::Contains("needs a ladder"));
    CHECK_THAT(says("--eighths swung"), Catch::Contains("did you mean 'swing'?"));
    CHECK_THAT(says("--mute piano"), Catch::Contains("line, chords, bass, drums, clicks"));
    CHECK_THAT(says("--clicks every-beet"), Catch::Contains("did you mean 'every-beat'?"));
    CHECK_THAT(says("--silent-bars 4/4"), Catch::Contains("2/8"));
    CHECK_THAT(says("--times 1000"), Catch::Contains("1 to 100"));
    CHECK(folder.count_files() == 0);
}

TEST_CASE("several tempos are several files, each as if it had been asked for alone", "[cli][sound]") {
    const ScratchFolder folder;
    const std::string drills = "drills Dm7 --for alto-sax,trumpet --drills thirds ";
    REQUIRE(run_program(drills + "--tempo 60,100,60 -o " + folder.file("x.mid")).exit_code == 0);
    CHECK(folder.count_files() == 4);
    for (const std::string part : {"alto-sax", "trumpet"}) {
        for (const std::string tempo : {"60", "100"}) {
            const std::string several = folder.file("x-" + part + "-at-" + tempo + ".mid");
            const std::string alone = folder.file("y.mid");
            REQUIRE(
                run_program("drills Dm7 --for " + part + " --drills thirds --tempo " + tempo + " -o " + alone)
                    .exit_code == 0);
            REQUIRE(fs::exists(several));
            CHECK(read_file(several) == read_file(alone));
            // Standard MIDI Files 1.0: microseconds a quarter.
            CHECK(tempos_in(several) == std::vector<int>{60'000'000 / std::stoi(tempo)});
        }
    }
}

TEST_CASE("a drill has a file for each tempo that its boxes say", "[cli][sound]") {
    const ScratchFolder folder;
    REQUIRE(run_program("drills Dm7 G7 --for flute --only 2.1 --tempo boxes -o " + folder.file("x.mid"))
                .exit_code == 0);
    // What the page says.
    REQUIRE(run_program("drills Dm7 G7 --for flute --only 2.1 -o " + folder.file("x.musicxml")).exit_code ==
            0);
    const std::string page = read_file(folder.file("x.musicxml"));
    std::vector<std::string> expected{folder.file("x.musicxml")};
    for (std::size_t at = page.find("\u25a1 at "); at != std::string::npos;
         at = page.find("\u25a1 at ", at + 1)) {
        const int tempo = std::stoi(page.substr(at + std::string{"\u25a1 at "}.size()));
        expected.push_back(folder.file("x-at-" + std::to_string(tempo) + ".mid"));
        REQUIRE(fs::exists(expected.back()));
        CHECK(tempos_in(expected.back()) == std::vector<int>{60'000'000 / tempo});
    }
    CHECK(expected.size() == 4);
    CHECK(folder.count_files() == expected.size());
}

TEST_CASE("a piece of a book is only in the files of the tempos of its own boxes", "[cli][sound]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoorAt120);
    save(folder.file("p.toml"),
         "[[plan]]\nid = \"two\"\ntitle = \"Two evenings\"\nabout = \"Short.\"\n"
         "[[plan.sitting]]\ntitle = \"One\"\nchords = \"next\"\nmost = 1\ndrills = [\"thirds\"]\n"
         "tempos = [50, 100]\n"
         "[[plan.sitting]]\ntitle = \"Two\"\nchords = \"next\"\nmost = 1\ndrills = [\"fourths\"]\n"
         "tempos = [100]\n");
    const Outcome outcome = run_program("book " + folder.file("a.tune") + " --for flute --goal 100 --plan " +
                                        folder.file("p.toml") + " --tempo boxes -o " + folder.file("b.mid"));
    INFO(outcome.err);
    REQUIRE(outcome.exit_code == 0);
    const auto names = [&](const std::string& file) {
        std::vector<std::string> out;
        for (const ReadMeta& marker : MidiReader{read_file(file)}.read().tracks.at(0).of_type(6))
            out.push_back(marker.data);
        return out;
    };
    const std::vector<std::string> slow = names(folder.file("b-at-50.mid"));
    const std::vector<std::string> fast = names(folder.file("b-at-100.mid"));
    CHECK(slow == std::vector<std::string>{"The changes", "1.1 In thirds"});
    CHECK(fast.size() > slow.size());
    CHECK(std::ranges::find(fast, "1.1 In thirds") != fast.end());
    CHECK(std::ranges::find(fast, "2.1 In fourths") != fast.end());
}

TEST_CASE("what has no boxes says so when their tempos are asked for, and nothing is written",
          "[cli][sound]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoorAt120);
    const Outcome outcome =
        run_program("convert " + folder.file("a.tune") + " --tempo boxes -o " + folder.file("a.mid"));
    CHECK(outcome.exit_code == 2);
    CHECK_THAT(outcome.err, Catch::Contains("no boxes with tempos"));
    CHECK_THAT(outcome.err, Catch::Contains("--tempo 60,80,100"));
    CHECK(folder.count_files() == 1);
    REQUIRE(run_program("convert " + folder.file("a.tune") + " --tempo 90,120 -o " + folder.file("a.mid"))
                .exit_code == 0);
    CHECK(fs::exists(folder.file("a-at-90.mid")));
    CHECK(fs::exists(folder.file("a-at-120.mid")));
}

TEST_CASE("several tempos are several WAV files, the slower one longer", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    REQUIRE(
        run_program("drills Dm7 --for flute --only 1.1 --times 1 --tempo 200,300 -o " + folder.file("x.wav"))
            .exit_code == 0);
    CHECK(folder.count_files() == 2);
    CHECK(read_wav(folder.file("x-at-200.wav")).seconds > read_wav(folder.file("x-at-300.wav")).seconds + 1);
}

TEST_CASE("a WAV lasts as long as its music, does not clip and is not silent", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    const std::string out = folder.file("x.wav");
    const Outcome outcome = run_program("drills Dm7 --for flute --only 1.1 --tempo 240 --times 2 -o " + out);
    INFO(outcome.err);
    REQUIRE(outcome.exit_code == 0);
    REQUIRE(run_program("drills Dm7 --for flute --only 1.1 --tempo 240 --times 2 -o " + folder.file("x.mid"))
                .exit_code == 0);
    const ReadFile midi = MidiReader{read_file(folder.file("x.mid"))}.read();
    const double seconds = static_cast<double>(midi.tracks.at(0).end) / 480 * 60 / 240;
    const Wav wav = read_wav(out);
    CHECK(wav.seconds == Approx(seconds).margin(3));
    CHECK(wav.peak > 1000);
    CHECK(wav.peak < 32000);
    CHECK(folder.count_files() == 2);
}

// How loud the line is against the band is measured in balance_test.cpp.
TEST_CASE("the count-in is heard and does not startle", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    constexpr double kCountIn = 8 * 60.0 / 200;
    const std::string out = folder.file("x.wav");
    REQUIRE(
        run_program("drills Dm7 --for alto-sax --drills thirds --tempo 200 --times 1 -o " + out).exit_code ==
        0);
    const Wav wav = read_wav(out, kCountIn);
    // What sounds together lies between 20 and 2 decibels below full scale.
    CHECK(wav.peak > 3277);
    CHECK(wav.peak < 26029);
    CHECK(wav.peak_before > wav.peak / 8);
    CHECK(wav.peak_before < wav.peak);
}

TEST_CASE("an encoder that is not here is named, one that is here gets the sound", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    const std::string drill =
        "drills Dm7 --for flute --only 1.1 --tempo 240 --times 1 -o " + folder.file("x");
    put_program(folder, "oggenc", "for last; do :; done; test -s $last && echo sound > ${last%wav}ogg\n");
    const Outcome made = run_with(folder, drill + ".ogg");
    INFO(made.err);
    CHECK(made.exit_code == 0);
    CHECK(read_file(folder.file("x.ogg")) == "sound\n");
    const Outcome none = run_with(folder, drill + ".opus", true);
    CHECK(none.exit_code == 3);
    CHECK_THAT(none.err, Catch::Contains("apt-get install opus-tools"));
}

// mido, a reader of MIDI files that is no part of this project (Debian: python3-mido).
TEST_CASE("a MIDI file reads the same in another reader", "[cli][sound]") {
    const ScratchFolder folder;
    const std::string path = folder.file("x.mid");
    REQUIRE(run_program("convert " + std::string{SHEDBOOK_SOURCE_DIR} +
                        "/sample-charts/ferry-at-six.tune --times 2 -o " + path)
                .exit_code == 0);
    ProcessResult other;
    for (const std::string python : {"python3", "/usr/bin/python3"}) {
        const auto program = find_program(python);
        const std::string found = program.value_or(python);
        if (!fs::exists(found) || other.exit_code == 0) continue;
        other = run_process({found, std::string{SHEDBOOK_SOURCE_DIR} + "/tests/midi_by_mido.py", path});
    }
    if (other.exit_code != 0) {
        WARN("skipped: no mido on this machine");
        return;
    }
    std::string ours;
    for (const ReadTrack& track : MidiReader{read_file(path)}.read().tracks) {
        std::vector<ReadNote> notes = track.notes;
        std::ranges::sort(notes, {}, [](const ReadNote& note) {
            return std::tuple{note.at, note.key, note.length};
        });
        ours += track.name() + "|";
        for (const ReadNote& note : notes) {
            if (&note != &notes.front()) ours += " ";
            for (const std::int64_t number :
                 {note.at, note.length, std::int64_t{note.channel}, std::int64_t{note.key}})
                ours += std::to_string(number) + ":";
            ours += std::to_string(note.velocity);
        }
        ours += "\n";
    }
    CHECK(ours == other.said);
}

TEST_CASE("a drill goes through the keys, each prepared by its dominant", "[cli][sound]") {
    const ScratchFolder folder;
    const std::string out = folder.file("x.mid");
    REQUIRE(run_program("drills Dm7 --for flute --only 1.1 --through-keys fourths -o " + out).exit_code == 0);
    const ReadFile file = MidiReader{read_file(out)}.read();
    std::set<int> bass;
    std::set<int> keys;
    for (const ReadNote& note : file.tracks.at(1).notes) {
        keys.insert(note.key % 12);
        CHECK(note.key > 50);
    }
    for (const ReadNote& note : file.tracks.at(3).notes) bass.insert(note.key % 12);
    CHECK(keys.size() == 12);
    CHECK(bass.size() == 12);
}

TEST_CASE("without a synthesizer a clear message says what to install, and nothing is written",
          "[cli][sound]") {
    const ScratchFolder folder;
    fs::create_directories(folder.file("bin"));
    const Outcome outcome = run_with(folder, "drills Dm7 --for flute -o " + folder.file("x.wav"), true);
    CHECK(outcome.exit_code == 3);
    CHECK_THAT(outcome.err, Catch::Contains("apt-get install fluidsynth timgm6mb-soundfont"));
    CHECK_FALSE(fs::exists(folder.file("x.wav")));
}

TEST_CASE("play hands the sound to the first player that can, and clears away behind it", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    put_program(folder, "aplay", "echo no device; exit 1\n");
    put_program(folder, "paplay", "cp \"$1\" " + folder.file("heard.wav") + "\n");
    save(folder.file("a.tune"), kBlueDoorAt120);
    const Outcome first = run_with(folder, "play " + folder.file("a.tune") + " --tempo 300");
    INFO(first.err);
    CHECK(first.exit_code == 0);
    CHECK_THAT(first.err, Catch::Contains("protect your ears"));
    CHECK(read_wav(folder.file("heard.wav")).peak > 1000);
    CHECK(fs::is_empty(folder.file("tmp")));
    const Outcome second = run_with(folder, "play Dm7 --drills thirds --tempo 300 --times 1");
    CHECK(second.exit_code == 0);
    CHECK_THAT(second.err, !Catch::Contains("protect your ears"));
}

TEST_CASE("play goes through several tempos one after the other", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    put_program(folder, "aplay", "wc -c < \"$2\" >> " + folder.file("heard") + "\n");
    const Outcome outcome = run_with(folder, "play Dm7 --tempo 200,300 --times 1");
    CHECK(outcome.exit_code == 0);
    CHECK_THAT(outcome.err, Catch::Contains("Playing at 200; Ctrl-C stops.\nPlaying at 300; Ctrl-C stops."));
    std::istringstream heard{read_file(folder.file("heard"))};
    long slow = 0;
    long fast = 0;
    heard >> slow >> fast;
    CHECK(slow > fast);
    CHECK(fast > 100'000);
    CHECK(fs::is_empty(folder.file("tmp")));
}

TEST_CASE("on a machine without a sound card play says so", "[cli][sound]") {
    if (!has_synthesizer() || fs::exists("/dev/snd")) return;
    const ScratchFolder folder;
    put_program(folder, "aplay", "echo cannot find card 0; exit 1\n");
    put_program(folder, "paplay", "echo connection refused; exit 1\n");
    put_program(folder, "ffplay", "exit 1\n");
    const Outcome outcome = run_with(folder, "play Dm7 --tempo 300 --times 1");
    CHECK(outcome.exit_code == 3);
    CHECK_THAT(outcome.err, Catch::Contains("this machine has no sound card") &&
                                Catch::Contains("aplay: cannot find card 0"));
}

TEST_CASE("without a player the message says what to install or to write", "[cli][sound]") {
    const ScratchFolder folder;
    fs::create_directories(folder.file("bin"));
    const Outcome outcome = run_with(folder, "play Dm7", true);
    CHECK(outcome.exit_code == 3);
    CHECK_THAT(outcome.err, Catch::Contains("aplay, paplay or ffplay"));
    CHECK_THAT(outcome.err, Catch::Contains("-o drill.wav"));
}

TEST_CASE("Ctrl-C stops the player and leaves nothing behind", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    // The player sends the signal itself, as soon as it plays; then it would go on for long.
    put_program(folder, "aplay",
                "trap 'echo stopped > " + folder.file("stopped") + "; exit 1' TERM\n" + kInterruptProgram +
                    "sleep 30 &\nwait $!\n");
    const Outcome outcome = run_with(folder, "play Dm7 --tempo 300 --times 1");
    CHECK(outcome.exit_code == 130);
    CHECK(fs::exists(folder.file("stopped")));
    CHECK(fs::is_empty(folder.file("tmp")));
}

TEST_CASE("Ctrl-C while a file is rendered leaves neither the file nor anything else", "[cli][sound]") {
    const ScratchFolder folder;
    put_program(folder, "fluidsynth", kInterruptProgram + "sleep 30 &\nwait $!\n");
    save(folder.file("any.sf2"), kFontHead);
    const Outcome outcome = run_with(folder, "drills Dm7 --for flute --sound-font " + folder.file("any.sf2") +
                                                 " -o " + folder.file("x.wav"));
    CHECK(outcome.exit_code == 130);
    CHECK_THAT(outcome.err, Catch::Contains("stopped before the sound was ready"));
    CHECK_FALSE(fs::exists(folder.file("x.wav")));
    CHECK(fs::is_empty(folder.file("tmp")));
}

TEST_CASE("a synthesizer that fails is quoted, and nothing is written", "[cli][sound]") {
    const ScratchFolder folder;
    put_program(folder, "fluidsynth", "echo no such font; exit 1\n");
    save(folder.file("any.sf2"), kFontHead);
    const Outcome outcome = run_with(folder, "drills Dm7 --for flute --sound-font " + folder.file("any.sf2") +
                                                 " -o " + folder.file("x.flac"));
    CHECK(outcome.exit_code == 3);
    CHECK_THAT(outcome.err, Catch::Contains("no such font"));
    CHECK_FALSE(fs::exists(folder.file("x.flac")));
    save(folder.file("text.sf2"), "a text by the name of a sound font");
    const std::string with_font = "drills Dm7 --for flute -o x.wav --sound-font ";
    CHECK_THAT(run_with(folder, with_font + folder.file("text.sf2")).err,
               Catch::Contains(folder.file("text.sf2") + ": no sound font"));
    CHECK_THAT(run_with(folder, with_font + "none.sf2").err,
               Catch::Contains("none.sf2: there is no such file"));
}

TEST_CASE("only the parts of a packed sound font that are played are unpacked", "[cli][sound]") {
    const ScratchFolder folder;
    put_program(folder, "fluidsynth", "echo \"$@\"; exit 1\n");
    for (const std::string& ending : {std::string{".sf2"}, std::string{".sf3"}}) {
        const std::string font = folder.file("any" + ending);
        save(font, kFontHead);
        const Outcome outcome =
            run_with(folder, "drills Dm7 --for flute --sound-font " + font + " -o " + folder.file("x.wav"));
        const bool is_in_part = outcome.err.find("dynamic-sample-loading=1") != std::string::npos;
        INFO(outcome.err);
        CHECK(outcome.err.find("audio.period-size") != std::string::npos);
        CHECK(is_in_part == (ending == ".sf3"));
    }
}

TEST_CASE("a sound that was cut short is never taken for a whole one", "[cli][sound]") {
    const std::string find_file = "while [ \"$1\" != -F ]; do shift; done\n";
    const std::string format = R"(fmt \020\0\0\0\001\0\002\0\104\254\0\0\020\261\002\0\004\0\020\0)";
    const std::string write_head = "printf 'RIFF\\0\\0\\0\\0WAVE" + format + "data\\0\\0\\0\\0' > \"$2\"\n";
    struct Case {
        std::string script;
        std::string said;
    };
    const std::array<Case, 3> cases{{
        {find_file + write_head, "stopped after 0:00 minutes of 0:"},
        {find_file + write_head + "echo 'fluidsynth: error: Audio file write error: no space'\n", "no space"},
        {find_file + write_head + "echo 'Failed to load the SoundFont x.sf2'\n", "Failed to load"},
    }};
    for (const Case& each : cases) {
        const ScratchFolder folder;
        put_program(folder, "fluidsynth", each.script);
        save(folder.file("any.sf2"), kFontHead);
        const Outcome outcome =
            run_with(folder, "drills Dm7 --for flute --only 1.1 --tempo 200 --times 1 --sound-font " +
                                 folder.file("any.sf2") + " -o " + folder.file("x.wav"));
        CHECK(outcome.exit_code == 3);
        CHECK_THAT(outcome.err, Catch::Contains(each.said));
        CHECK_FALSE(fs::exists(folder.file("x.wav")));
        CHECK(fs::is_empty(folder.file("tmp")));
    }
}

TEST_CASE("where the disk is full there is a message, and no file or half of one", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    // No file may be larger than 64 blocks of 512 bytes, but the synthesizer's: then only the last step
    // fails.
    put_program(folder, "fluidsynth",
                "ulimit -S -f unlimited\nexec " + *find_program("fluidsynth") + " \"$@\"\n");
    save(folder.file("limited"), "#!/bin/sh\ntrap '' XFSZ\nulimit -S -f 64\nexec \"$@\"\n");
    fs::permissions(folder.file("limited"), fs::perms::owner_all);
    fs::create_directories(folder.file("tmp"));
    for (const std::string ending : {".wav", ".flac"}) {
        const std::string out = folder.file("x" + ending);
        const std::string command = "PATH=" + folder.file("bin") + ":$PATH TMPDIR=" + folder.file("tmp") +
                                    " " + folder.file("limited") + " " + SHEDBOOK_PROGRAM +
                                    " drills Dm7 --for flute --only 1.1 --tempo 200 --times 1 -o " + out +
                                    " 2> " + folder.file("err");
        CHECK(std::system(command.c_str()) != 0);  // NOLINT: a shell is what users have
        CHECK_THAT(read_file(folder.file("err")), Catch::Contains("x" + ending + ": cannot be written"));
        for (const auto& entry : fs::directory_iterator{fs::path{out}.parent_path()})
            CHECK(entry.path().filename().string().find('x' + ending) == std::string::npos);
        CHECK(fs::is_empty(folder.file("tmp")));
    }
}

TEST_CASE("without a folder to work in, or a player that says why, the message is still clear",
          "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    put_program(folder, "aplay", "kill -9 $$\n");
    const Outcome killed = run_with(folder, "play Dm7 --tempo 300 --times 1");
    CHECK(killed.exit_code == 3);
    CHECK_THAT(killed.err, Catch::Contains("aplay: was ended by signal 9"));
    CHECK(fs::is_empty(folder.file("tmp")));
    setenv("TMPDIR", folder.file("nowhere").c_str(), 1);
    const int status = std::system((std::string{SHEDBOOK_PROGRAM} + " drills Dm7 --for flute -o " +  // NOLINT
                                    folder.file("x.wav") + " 2> " + folder.file("err"))
                                       .c_str());
    unsetenv("TMPDIR");
    CHECK(status != 0);
    CHECK_THAT(read_file(folder.file("err")), Catch::Contains("no temporary folder can be made"));
}

TEST_CASE("a caution that cannot be remembered is said again and hinders nothing", "[cli][sound]") {
    if (!has_synthesizer()) return;
    const ScratchFolder folder;
    put_program(folder, "aplay", "exit 0\n");
    save(folder.file("state"), "a file where a folder should be");
    const Outcome outcome = run_with(folder, "play Dm7 --tempo 300 --times 1");
    CHECK(outcome.exit_code == 0);
    CHECK_THAT(outcome.err, Catch::Contains("protect your ears"));
}

}  // namespace shedbook
