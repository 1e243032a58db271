#include "shedbook/write/midi.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <sstream>

#include "blocks.h"
#include "midi_reader.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

ConcertLine line_of(const std::vector<std::string>& names, Duration each) {
    ConcertLine line;
    Position at;
    for (const std::string& name : names) {
        if (!name.empty()) line.notes.push_back({*parse_pitch(name), at, each});
        at += each;
    }
    line.length = at - Position{};
    return line;
}

const std::vector<std::string> kScale{"C4", "D4", "E4", "F4", "G4", "A4", "Bb4", "C5"};

WrittenMusic music(const ConcertLine& line, const char* instrument, const Meter& meter = {},
                   bool is_drill = true) {
    NotateOptions options;
    options.instrument = find_instrument(instrument);
    options.meter = meter;
    options.key = Key{*parse_pitch_class("F"), Mode::Major};
    options.open_key = is_drill;
    options.chords = {{Position{}, parse_chord_symbol("C7")}};
    return notate(line, options);
}

Drill drill(const WrittenMusic& music) {
    return drill_block(music, {2, 3}, "In thirds");
}

// Music in an open key is a drill, else an etude.
struct Piece {
    Piece(const WrittenMusic& music)  // NOLINT: lists of music are lists of pieces
        : block{music.open_key ? Block{drill(music)} : Block{etude_block(music, {2, 0}, "In thirds")}} {}
    Piece(Drill of) : block{std::move(of)} {}  // NOLINT
    Block block;
};

ReadFile heard(const std::vector<Piece>& pieces, const SoundOptions& options,
               const char* instrument = "flute") {
    std::ostringstream out;
    MidiWriter writer{out, options};
    DocumentHead head;
    head.title = "Blue Door";
    head.parts = {*find_instrument(instrument)};
    writer.begin(head);
    for (const Piece& piece : pieces) writer.take(piece.block);
    writer.finish();
    return MidiReader{out.str()}.read();
}

SoundOptions plain(int times = 1) {
    SoundOptions out;
    out.feel = Feel::Straight;
    out.times = times;
    return out;
}

std::int64_t big_endian(const std::string& data) {
    std::int64_t out = 0;
    for (const char c : data) out = 256 * out + static_cast<unsigned char>(c);
    return out;
}

std::vector<std::int64_t> onsets(const ReadTrack& track) {
    std::vector<std::int64_t> out;
    for (const ReadNote& note : track.notes) out.push_back(note.at);
    return out;
}

constexpr std::int64_t kBar = 1920;
using Ticks64 = std::vector<std::int64_t>;

}  // namespace

TEST_CASE("the file is of type 1 with six named tracks, the title on the first", "[write][midi]") {
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, plain());
    CHECK(file.format == 1);
    CHECK(file.division == 480);
    REQUIRE(file.tracks.size() == 6);
    const char* names[] = {"Blue Door", "Line", "Chords", "Bass", "Drums", "Clicks"};
    for (std::size_t i = 0; i < 6; ++i) CHECK(file.tracks[i].name() == names[i]);
    for (const ReadTrack& track : file.tracks) CHECK(track.end == file.tracks[0].end);
    // General MIDI 1: flute 74, acoustic grand piano 1, acoustic bass 33, counted from 1.
    CHECK(file.tracks[1].programs.at(0) == 73);
    CHECK(file.tracks[2].programs.at(1) == 0);
    CHECK(file.tracks[3].programs.at(2) == 32);
}

TEST_CASE("a line sounds as in concert whatever the instrument reads, after two bars of count-in",
          "[write][midi]") {
    for (const char* instrument :
         {"flute", "alto-sax", "trumpet", "guitar", "double-bass", "piccolo", "trombone"}) {
        const ConcertLine line = line_of(kScale, kEighth);
        const ReadFile file = heard({music(line, instrument)}, plain(), instrument);
        INFO(instrument);
        REQUIRE(file.tracks[1].notes.size() == line.notes.size());
        for (std::size_t i = 0; i < line.notes.size(); ++i) {
            CHECK(file.tracks[1].notes[i].key == line.notes[i].pitch.midi());
            CHECK(file.tracks[1].notes[i].at == 2 * kBar + 240 * static_cast<std::int64_t>(i));
            CHECK(file.tracks[1].notes[i].length == 240 - 12);
        }
    }
}

TEST_CASE("both staves of a piano are heard together", "[write][midi]") {
    const ConcertLine line = line_of(kScale, kEighth);
    WrittenMusic both = music(line, "piano");
    both.lower = {music(transposed(line, -kOctave), "piano")};
    const ReadFile file = heard({both}, plain(), "piano");
    REQUIRE(file.tracks[1].notes.size() == 2 * line.notes.size());
    for (std::size_t i = 0; i < line.notes.size(); ++i) {
        const ReadNote& one = file.tracks[1].notes[2 * i];
        const ReadNote& other = file.tracks[1].notes[2 * i + 1];
        CHECK(one.at == other.at);
        CHECK(std::max(one.key, other.key) == line.notes[i].pitch.midi());
        CHECK(std::min(one.key, other.key) == line.notes[i].pitch.midi() - 12);
    }
}

TEST_CASE("off-beat eighths swing at two to one, less the faster it goes, triplets not at all",
          "[write][midi]") {
    const auto off_beat = [](int tempo, Feel feel) {
        SoundOptions options = plain();
        options.feel = feel;
        options.tempo = TempoPlan{tempo, tempo};
        return heard({music(line_of(kScale, kEighth), "flute")}, options).tracks[1].notes[1].at - 2 * kBar;
    };
    CHECK(off_beat(100, Feel::Swing) == 320);
    CHECK(off_beat(160, Feel::Swing) == 320);
    CHECK(off_beat(220, Feel::Swing) == 290);
    CHECK(off_beat(280, Feel::Swing) == 260);
    CHECK(off_beat(340, Feel::Swing) == 260);
    CHECK(off_beat(280, Feel::TwelveEight) == 320);
    CHECK(off_beat(100, Feel::Straight) == 240);
    SoundOptions swing = plain();
    swing.feel = Feel::Swing;
    const ReadFile triplets =
        heard({music(line_of({"C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5", "D5", "E5", "D5", "C5"},
                             Duration{Rational{1, 12}}),
                     "flute")},
              swing);
    CHECK(triplets.tracks[1].notes[1].at == 2 * kBar + 160);
    const ReadFile sixteenths = heard({music(line_of(kScale, Duration{Rational{1, 16}}), "flute")}, swing);
    CHECK(sixteenths.tracks[1].notes[2].at == 2 * kBar + 240);
    const ReadFile six_eight =
        heard({music(line_of({"C4", "D4", "E4", "F4", "G4", "A4"}, kEighth), "flute", Meter{6, 8})}, swing);
    CHECK(six_eight.tracks[1].notes[1].at == 2 * 1440 + 240);
}

TEST_CASE("swung notes end where the next one begins", "[write][midi]") {
    SoundOptions swing = plain();
    swing.feel = Feel::Swing;
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, swing);
    CHECK(file.tracks[1].notes[0].length == 320 - 12);
    CHECK(file.tracks[1].notes[1].length == 160 - 12);
    CHECK(file.tracks[1].notes[0].velocity == 88);
    CHECK(file.tracks[1].notes[1].velocity == 96);
}

TEST_CASE("tempo counts the beat of the meter", "[write][midi]") {
    const auto per_quarter = [](const Meter& meter) {
        SoundOptions options = plain();
        options.tempo = TempoPlan{120, 120};
        const ReadFile file =
            heard({music(line_of({"C4", "D4", "E4", "F4", "G4", "A4"}, kEighth), "flute", meter)}, options);
        return big_endian(file.tracks[0].of_type(0x51).front().data);
    };
    CHECK(per_quarter(Meter{4, 4}) == 500'000);
    CHECK(per_quarter(Meter{6, 8}) == 333'333);
    CHECK(per_quarter(Meter{2, 2}) == 250'000);
}

// Common practice, no source.
TEST_CASE("a ballad slows down over its last two bars, and the last chord of a tune is held out of time",
          "[write][midi]") {
    WrittenMusic tune = music(line_of(kScale, kQuarter), "flute", {}, false);
    tune.tempo = TempoMark{60, NoteValue{2, 0}};
    const auto tempos = [&](const std::string& feel) {
        tune.feel = feel;
        std::vector<std::pair<std::int64_t, int>> out;
        const ReadFile file = heard({tune}, {});
        for (const ReadMeta& tempo : file.tracks[0].of_type(0x51)) {
            int value = 0;
            for (const char c : tempo.data) value = 256 * value + static_cast<unsigned char>(c);
            out.emplace_back(tempo.at, value);
        }
        return out;
    };
    // Two bars of count, two of music: the tempo falls from beat to beat, and stays so for the last chord.
    const auto ballad = tempos("ballad");
    REQUIRE(ballad.size() >= 9);
    for (std::size_t i = 1; i < ballad.size(); ++i) CHECK(ballad[i].second > ballad[i - 1].second);
    CHECK(ballad[1].first == 8 * 480);
    CHECK(ballad.back().second > 1'300'000);
    const auto swing = tempos("rock");
    REQUIRE(swing.size() == 2);
    CHECK(swing[1].first == 16 * 480);
    CHECK(swing[1].second > 1'300'000);
}

TEST_CASE("marks on the page are followed where no tempo is asked for", "[write][midi]") {
    WrittenMusic marked = music(line_of(kScale, kEighth), "flute");
    marked.tempo = TempoMark{90, NoteValue{1, 0}};
    const ReadFile file = heard({marked}, plain());
    CHECK(big_endian(file.tracks[0].of_type(0x51).front().data) == 333'333);
    marked.feel = "Bossa, even eighths";
    SoundOptions as_marked = plain();
    as_marked.feel = Feel::AsMarked;
    CHECK(heard({marked}, as_marked).tracks[1].notes[1].at == 2 * kBar + 240);
    marked.feel = "medium swing";
    CHECK(heard({marked}, as_marked).tracks[1].notes[1].at > 2 * kBar + 240);
}

TEST_CASE("meter and concert key stand at the beginning of a piece", "[write][midi]") {
    const ReadFile file = heard(
        {music(line_of({"C4", "D4", "E4"}, kQuarter), "alto-sax", Meter{3, 4}, false)}, plain(), "alto-sax");
    const std::string meter = file.tracks[0].of_type(0x58).front().data;
    CHECK(meter.substr(0, 2) == std::string{"\x03\x02"});
    const std::string key = file.tracks[0].of_type(0x59).front().data;
    CHECK(static_cast<signed char>(key[0]) == -1);  // F major, whatever the saxophone reads
    CHECK(key[1] == 0);
}

TEST_CASE("each piece has a marker with its number and name, and a bar behind it in which the band ends",
          "[write][midi]") {
    const Drill second = drill_block(music(line_of(kScale, kEighth), "flute"), {2, 4}, "In fourths");
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute"), second}, plain(4));
    const std::vector<ReadMeta> markers = file.tracks[0].of_type(6);
    REQUIRE(markers.size() == 2);
    CHECK(markers[0].data == "2.3 In thirds");
    CHECK(markers[1].data == "2.4 In fourths");
    // Two bars of count-in, four times one bar, one in which the band ends on the one.
    CHECK(markers[1].at == 7 * kBar);
    for (const ReadTrack& track : file.tracks) {
        for (const ReadNote& note : track.notes) CHECK((note.at % (7 * kBar)) < 6 * kBar + 30);
    }
    CHECK(file.tracks[0].end == 14 * kBar);
}

TEST_CASE("at its end a file silences what would ring on", "[write][midi]") {
    const ReadFile file = heard({music(line_of(kScale, kEighth), "piano")}, plain(), "piano");
    for (const std::size_t track : {1U, 2U, 3U, 4U}) {
        const ReadControl& last = file.tracks[track].controls.back();
        CHECK(last.number == 120);  // MIDI 1.0: All Sound Off
        CHECK(last.at == file.tracks[track].end);
        const ReadNote& note = file.tracks[track].notes.back();
        CHECK(last.at - (note.at + note.length) >= kBar / 2);
    }
}

TEST_CASE("no click and no count is struck as hard as the line", "[write][midi]") {
    SoundOptions options = plain();
    options.clicks = Clicks::EveryBeat;
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, options);
    int line = 127;
    for (const ReadNote& note : file.tracks[1].notes) line = std::min(line, note.velocity);
    CHECK(file.tracks[5].notes.size() == 6 + 4);
    for (const ReadNote& note : file.tracks[5].notes) CHECK(note.velocity < line);
}

// MIDI 1.0: controllers 7 and 10, Channel Volume and Pan.
TEST_CASE("line and bass stand in the middle or near it, chords and drums to either side", "[write][midi]") {
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, plain());
    const auto control = [&](std::size_t track, int number) {
        for (const ReadControl& each : file.tracks[track].controls) {
            if (each.number == number && each.at == 0) return each.value;
        }
        return -1;
    };
    for (const std::size_t track : {1U, 2U, 3U, 4U}) CHECK(control(track, 7) > 0);
    CHECK(control(1, 10) == 64);
    CHECK(std::abs(control(3, 10) - 64) <= 8);
    CHECK(control(2, 10) < 56);
    CHECK(control(4, 10) > 72);
}

TEST_CASE("a drill sounds four times where nothing else is asked, other music once", "[write][midi]") {
    SoundOptions options;
    options.feel = Feel::Straight;
    CHECK(heard({music(line_of(kScale, kEighth), "flute")}, options).tracks[1].notes.size() == 32);
    CHECK(heard({music(line_of(kScale, kEighth), "flute", {}, false)}, options).tracks[1].notes.size() == 8);
}

TEST_CASE("a ladder climbs each time through, or after so many bars", "[write][midi]") {
    const auto tempos = [](const TempoPlan& plan, int times) {
        SoundOptions options = plain(times);
        options.tempo = plan;
        const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, options);
        std::vector<std::pair<std::int64_t, std::int64_t>> out;
        for (const ReadMeta& each : file.tracks[0].of_type(0x51))
            out.emplace_back(each.at / kBar,
                             (60'000'000 + big_endian(each.data) / 2) / big_endian(each.data));
        return out;
    };
    using Steps = std::vector<std::pair<std::int64_t, std::int64_t>>;
    CHECK(tempos({60, 100, 20, 0}, 2) == Steps{{0, 60}, {4, 80}, {6, 100}});
    CHECK(tempos({60, 100, 20, 4}, 2) == Steps{{0, 60}, {6, 80}, {10, 100}});
    CHECK(tempos({100, 60, 30, 0}, 1) == Steps{{0, 100}, {3, 70}, {4, 60}});
}

TEST_CASE("voices are left out as asked, and the count-in stays", "[write][midi]") {
    SoundOptions options = plain();
    options.line = options.chords = options.bass = options.drums = false;
    options.clicks = Clicks::None;
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, options);
    for (const std::size_t track : {1U, 2U, 3U, 4U}) CHECK(file.tracks[track].notes.empty());
    CHECK(onsets(file.tracks[5]) == Ticks64{0, 960, 1920, 2400, 2880, 3360});
    for (const ReadNote& note : file.tracks[5].notes) {
        CHECK(note.channel == 9);
        CHECK(note.key == (note.at % kBar == 0 ? 76 : 77));
    }
}

TEST_CASE("without drums the hi-hat clicks on two and four, with them nothing does", "[write][midi]") {
    SoundOptions options = plain();
    const auto clicks = [&] {
        Ticks64 out;
        for (const std::int64_t at :
             onsets(heard({music(line_of(kScale, kEighth), "flute")}, options).tracks[5]))
            if (at >= 2 * kBar) out.push_back(at - 2 * kBar);
        return out;
    };
    CHECK(clicks().empty());
    options.drums = false;
    CHECK(clicks() == Ticks64{480, 1440});
}

TEST_CASE("strokes of the band differ a little from each other, whoever else plays", "[write][midi]") {
    WrittenMusic tune = music(line_of(kScale, kHalf), "flute", {}, false);
    SoundOptions options;
    options.times = 4;
    const ReadFile all = heard({tune}, options);
    std::set<int> rides;  // those on the second beat
    for (const ReadNote& note : all.tracks[4].notes) {
        if (note.key == 51 && note.at % kBar == kBar / 4) rides.insert(note.velocity);
    }
    CHECK(rides.size() >= 3);
    CHECK(*rides.rbegin() - *rides.begin() <= 12);
    options.chords = false;
    const ReadFile without = heard({tune}, options);
    const auto velocities = [](const ReadTrack& track) {
        std::vector<int> out;
        for (const ReadNote& note : track.notes) out.push_back(note.velocity);
        return out;
    };
    CHECK(velocities(all.tracks[3]) == velocities(without.tracks[3]));
    CHECK(velocities(all.tracks[4]) == velocities(without.tracks[4]));
    // The top of a chord is the loudest of it.
    const std::vector<ReadNote>& chords = all.tracks[2].notes;
    for (const ReadNote& note : chords) {
        for (const ReadNote& other : chords) {
            if (note.at == other.at && note.key > other.key) CHECK(note.velocity >= other.velocity);
        }
    }
}

TEST_CASE("in trading the line rests every other four bars, and the band goes on", "[write][midi]") {
    SoundOptions options = plain(12);
    options.trade_bars = 4;
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, options);
    std::set<std::int64_t> line;
    std::set<std::int64_t> bass;
    for (const ReadNote& note : file.tracks[1].notes) line.insert(note.at / kBar - 2);
    for (const ReadNote& note : file.tracks[3].notes) bass.insert((note.at + 60) / kBar - 2);
    CHECK(line == std::set<std::int64_t>{0, 1, 2, 3, 8, 9, 10, 11});
    for (std::int64_t bar = 0; bar < 12; ++bar) CHECK(bass.count(bar) == 1);
}

TEST_CASE("the last bars of every group are silent but for the line", "[write][midi]") {
    SoundOptions options = plain(8);
    options.silent_bars = 1;
    options.of_bars = 4;
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, options);
    // The bass may come a few ticks before its beat.
    for (const std::size_t track : {3U, 4U}) {
        std::set<std::int64_t> bars;
        for (const ReadNote& note : file.tracks[track].notes) bars.insert((note.at + 60) / kBar);
        for (const std::int64_t silent : {5, 9}) CHECK(bars.count(silent) == 0);
        for (const std::int64_t sounding : {2, 3, 4, 6, 7, 8}) CHECK(bars.count(sounding) == 1);
    }
    CHECK(file.tracks[1].notes.size() == 64);
}

TEST_CASE("a tied note sounds once, a staccato one half, a slurred one to the next", "[write][midi]") {
    ConcertLine line = line_of({"C4", "D4", "E4", "F4", "G4", "A4", "B4"}, kQuarter);
    line.notes[3].length = kHalf;  // over the bar line
    line.notes.erase(line.notes.begin() + 4);
    line.notes[0].articulation = Articulation::Staccato;
    line.notes[1].slur_starts = true;
    line.notes[2].slur_stops = true;
    const ReadFile file = heard({music(line, "flute")}, plain());
    REQUIRE(file.tracks[1].notes.size() == 6);
    CHECK(file.tracks[1].notes[0].length == 240);
    CHECK(file.tracks[1].notes[1].length == 480);
    CHECK(file.tracks[1].notes[2].length == 468);
    CHECK(file.tracks[1].notes[3].length == 948);
}

TEST_CASE("measures sound in the order of play, their chords with them", "[write][midi]") {
    WrittenMusic tune =
        music(line_of({"C4", "E4", "G4", "C5", "D4", "F4", "A4", "D5"}, kQuarter), "flute", {}, false);
    REQUIRE(tune.measures.size() == 2);
    tune.played = {0, 0, 1, 0};
    const ReadFile file = heard({tune}, plain());
    std::vector<int> firsts;
    for (std::size_t i = 0; i < file.tracks[1].notes.size(); i += 4)
        firsts.push_back(file.tracks[1].notes[i].key);
    CHECK(firsts == std::vector<int>{60, 60, 62, 60});
    CHECK(file.tracks[1].notes.back().at == 6 * kBar - 480);
}

TEST_CASE("a pickup sounds inside the second bar of the count-in", "[write][midi]") {
    ConcertLine line = line_of({"G4", "C5", "D5", "E5", "F5"}, kQuarter);
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.key = Key{};
    options.chords = {{Position{kQuarter.whole_notes}, parse_chord_symbol("C6")}};
    options.bars = {{kQuarter, Meter{4, 4}, true}, {kWhole, std::nullopt, false}};
    const ReadFile file = heard({notate(line, options)}, plain());
    CHECK(onsets(file.tracks[1]) == Ticks64{3360, 3840, 4320, 4800, 5280});
    CHECK(file.tracks[3].notes.front().at == 3840);  // straight eighths: with the drums
}

// What words mean is common practice, no source.
TEST_CASE("the words of a tune say what style the band plays", "[write][midi]") {
    WrittenMusic tune = music(line_of(kScale, kQuarter), "flute", {}, false);
    const auto drums = [&](const std::string& words, Feel feel) {
        tune.feel = words;
        SoundOptions options;
        options.feel = feel;
        std::set<int> out;
        const ReadFile file = heard({tune}, options);
        for (const ReadNote& note : file.tracks[4].notes) out.insert(note.key);
        return out;
    };
    // General MIDI 1 percussion: 37 side stick, 42 closed hi-hat, 44 pedal hi-hat, 51 ride.
    for (const char* words : {"bossa", "Latin", "samba, even", "bossa-nova"}) {
        const std::set<int> heard_drums = drums(words, Feel::AsMarked);
        CHECK(heard_drums.count(37) == 1);
        CHECK(heard_drums.count(42) == 1);
    }
    CHECK(drums("rock", Feel::AsMarked).count(42) == 1);
    // Words within words, and the trade's name for plain swing.
    for (const char* words : {"", "medium swing", "modal swing", "straight eighths", "even 8ths",
                              "fast, in seven", "straight-ahead", "shuffle", "rocking chair"}) {
        const std::set<int> heard_drums = drums(words, Feel::AsMarked);
        CHECK(heard_drums.count(51) == 1);
        CHECK(heard_drums.count(44) == 1);
        CHECK(heard_drums.count(37) == 0);
    }
    CHECK(drums("medium swing", Feel::Straight).count(37) == 0);
    CHECK(drums("bossa", Feel::Swing).count(51) == 1);
    CHECK(drums("ballad", Feel::AsMarked).count(51) == 1);  // the last note only; else brushes
    CHECK(drums("ballad", Feel::AsMarked).count(40) == 1);
}

TEST_CASE("the band's off-beats swing with the tempo, and are even in straight eighths", "[write][midi]") {
    const auto off_beats = [](Feel feel) {
        SoundOptions options = plain(4);
        options.feel = feel;
        options.tempo = TempoPlan{120, 120};
        std::set<std::int64_t> out;
        const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, options);
        for (const ReadNote& note : file.tracks[4].notes) out.insert(note.at % 480);
        return out;
    };
    CHECK(off_beats(Feel::Swing) == std::set<std::int64_t>{0, 320});
    CHECK(off_beats(Feel::Straight) == std::set<std::int64_t>{0, 240});
}

// At 120 a millisecond is 0.96 ticks. The figures are the project's own; src/write/feel.cpp names where such
// delays were measured.
TEST_CASE("against the drums the bass is a little early in swing and the chords a little late",
          "[write][midi]") {
    SoundOptions options = plain(8);
    options.feel = Feel::Swing;
    options.tempo = TempoPlan{120, 120};
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, options);
    const auto in_beat = [&](std::size_t track) {
        std::set<std::int64_t> out;
        for (const ReadNote& note : file.tracks[track].notes) out.insert(note.at % 480);
        return out;
    };
    CHECK(in_beat(3) == std::set<std::int64_t>{320, 475});
    CHECK(in_beat(2) == std::set<std::int64_t>{12, 324});
}

TEST_CASE("a transposed part has its band in concert pitch", "[write][midi]") {
    const auto bass = [](const char* instrument) {
        const ReadFile file = heard({music(line_of(kScale, kEighth), instrument)}, plain(), instrument);
        std::vector<int> out;
        for (const ReadNote& note : file.tracks[3].notes) out.push_back(note.key);
        return out;
    };
    CHECK(bass("alto-sax") == bass("flute"));
    CHECK(bass("flute").front() % 12 == 0);
}

TEST_CASE("the same blocks and options give the same sound", "[write][midi]") {
    const auto bytes = [](unsigned seed) {
        std::ostringstream out;
        SoundOptions options;
        options.seed = seed;
        MidiWriter writer{out, options};
        DocumentHead head;
        head.parts = {*find_instrument("flute")};
        writer.begin(head);
        writer.take(drill(music(line_of(kScale, kEighth), "flute")));
        writer.finish();
        return out.str();
    };
    CHECK(bytes(1) == bytes(1));
    CHECK(bytes(1) != bytes(2));
}

TEST_CASE("a writer knows how long its music sounds", "[write][midi]") {
    std::ostringstream out;
    SoundOptions options = plain(1);
    options.tempo = TempoPlan{120, 120};
    MidiWriter writer{out, options};
    DocumentHead head;
    head.parts = {*find_instrument("flute")};
    writer.begin(head);
    writer.take(drill(music(line_of(kScale, kEighth), "flute")));
    writer.finish();
    CHECK(writer.seconds() == Approx(8.0));  // four bars of two seconds
}

TEST_CASE("a ladder that ends inside the music plays it to its end", "[write][midi]") {
    SoundOptions options = plain();
    options.tempo = TempoPlan{60, 100, 20, 3};
    const WrittenMusic two_bars = music(line_of(kScale, kQuarter), "flute");
    // Three tempos of three bars each: nine bars, so five times two.
    const ReadFile file = heard({two_bars}, options);
    CHECK(file.tracks[1].notes.size() == 5 * kScale.size());
    CHECK(file.tracks[0].of_type(0x51).size() == 3);
}

// C7 is the key's own; a fourth up its dominant's root is C again, which prepares F7 (common practice, no
// source).
TEST_CASE("through the keys each time begins in the next one, its dominant in the bar before",
          "[write][midi]") {
    SoundOptions options = plain();
    options.times.reset();
    options.keys = {0, 5, 10};
    const ReadFile file = heard({music(line_of(kScale, kEighth), "flute")}, options);
    REQUIRE(file.tracks[1].notes.size() == 3 * kScale.size());
    CHECK(file.tracks[1].notes[8].key == file.tracks[1].notes[0].key + 5);
    CHECK(file.tracks[1].notes[16].key == file.tracks[1].notes[0].key - 2);
    const auto bass_at = [&](std::int64_t tick) {
        for (const ReadNote& note : file.tracks[3].notes) {
            if (note.at <= tick + 20 && tick + 20 < note.at + note.length) return note.key % 12;
        }
        return -1;
    };
    CHECK(bass_at(2 * kBar) == 0);
    CHECK(bass_at(3 * kBar) == 5);
    CHECK(bass_at(3 * kBar + kBar / 2) == 5);  // F7 before Bb7
    CHECK(bass_at(4 * kBar) == 10);
}

}  // namespace shedbook
