#include "../../src/write/balance.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <sstream>

#include "../../src/write/loudness.h"
#include "blocks.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Eight bars of eighths up and down in the middle of an instrument's range, over chords.
WrittenMusic music_for(const Instrument& instrument) {
    ConcertLine line;
    Position at;
    const PitchRange range = sounding_range(instrument, instrument.practical);
    const int middle = (range.low.midi() + range.high.midi()) / 2;
    constexpr int kSteps[]{0, 2, 3, 5, 7, 5, 3, 2};
    for (int i = 0; i < 64; ++i) {
        const int key = middle - middle % 12 + kSteps[i % 8];
        constexpr const char* kNames[]{"C", "D", "Eb", "F", "G", "F", "Eb", "D"};
        line.notes.push_back(
            {*parse_pitch(std::string{kNames[i % 8]} + std::to_string(key / 12 - 1)), at, kEighth});
        at += kEighth;
    }
    line.length = at - Position{};
    NotateOptions options;
    options.instrument = &instrument;
    options.key = Key{*parse_pitch_class("C"), Mode::Minor};
    for (int bar = 0; bar < 8; ++bar)
        options.chords.push_back({Position{Rational{bar}}, parse_chord_symbol(bar % 2 == 0 ? "Cm7" : "F7")});
    return notate(line, options);
}

// A MIDI file with some of its tracks alone: chunks of four letters, a length of four bytes, and as much.
std::string with_tracks(const std::string& midi, std::size_t from, std::size_t to) {
    std::string out = midi.substr(0, 14);
    std::size_t at = 14;
    char count = 0;
    for (std::size_t track = 0; at < midi.size(); ++track) {
        std::size_t size = 8;
        for (std::size_t i = 4; i < 8; ++i)
            size += static_cast<std::size_t>(static_cast<unsigned char>(midi[at + i])) << (8 * (7 - i));
        if (track == 0 || (track >= from && track <= to)) {
            out += midi.substr(at, size);
            ++count;
        }
        at += size;
    }
    out[11] = count;
    return out;
}

struct Measured {
    double line = 0;
    double band = 0;
    double all = 0;
    double peak = 0;
};

Measured measure(const std::string& instrument_id, const Synthesizer& synth) {
    const ScratchFolder folder;
    SoundOptions options;
    options.tempo = TempoPlan{132, 132};
    const Instrument& instrument = *find_instrument(instrument_id);
    std::ostringstream out;
    BalancedMidi midi{out, options, synth, folder.file(".")};
    DocumentHead head;
    head.parts = {instrument};
    midi.begin(head);
    midi.take(etude_block(music_for(instrument), {1, 0}, "Scale"));
    midi.finish();
    const auto sound_of = [&](std::size_t from, std::size_t to) {
        write_atomically(folder.file("some.mid"),
                         [&](std::ostream& file) { file << with_tracks(out.str(), from, to); });
        synthesize(synth, folder.file("some.mid"), folder.file("some.wav"), "wav", midi.gain(),
                   Rendering::Final);
        return WavReader{folder.file("some.wav")}.read(60);
    };
    const SoundSamples all = sound_of(1, 5);
    return {loudness_of(sound_of(1, 1)), loudness_of(sound_of(2, 4)), loudness_of(all), true_peak_of(all)};
}

}  // namespace

// Loudness and peaks as ITU-R BS.1770-4 measures them.
TEST_CASE("a line is 3 to 6 decibels over its band, low soft instruments too, and nothing clips", "[write]") {
    if (!find_program("fluidsynth")) {
        WARN("skipped: no fluidsynth on this machine");
        return;
    }
    const Synthesizer synth = find_synthesizer({});
    std::vector<std::string> instruments{"flute", "double-bass", "nylon-string-guitar"};
    if (std::getenv("SHEDBOOK_TEST_ALL") != nullptr) {
        for (const char* more : {"piccolo", "clarinet", "alto-sax", "trumpet", "trombone", "tuba", "violin",
                                 "cello", "vibraphone", "harmonica", "bass-voice"})
            instruments.emplace_back(more);
    }
    for (const std::string& instrument : instruments) {
        const Measured found = measure(instrument, synth);
        INFO(instrument << ": line " << found.line << ", band " << found.band << ", all " << found.all
                        << " LUFS, true peak " << found.peak << " dB");
        CHECK(found.line - found.band >= 3);
        CHECK(found.line - found.band <= 6);
        CHECK(found.all == Approx(kLoudness).margin(1.5));
        CHECK(found.peak < -1);
    }
}

}  // namespace shedbook
