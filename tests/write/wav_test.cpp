#include "../../src/write/wav.h"

#include <catch2/catch.hpp>
#include <ostream>

#include "blocks.h"
#include "program_on_path.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

void one_note(BlockSink& sink) {
    ConcertLine line;
    line.notes.push_back({*parse_pitch("C4"), Position{}, kWhole});
    line.length = kWhole;
    DocumentHead head;
    head.parts = {*find_instrument("piano")};
    sink.begin(head);
    NotateOptions options;
    options.instrument = find_instrument("piano");
    sink.take(drill_block(notate(line, options)));
    sink.finish();
}

// What is told where the synthesizer is this script.
std::string told(const std::string& script) {
    const ProgramOnPath synthesizer{"fluidsynth", script};
    const ScratchFolder folder;
    // SoundFont Technical Specification 2.04 (Creative, 2006), chapter 4: a RIFF chunk of the form sfbk.
    write_atomically(folder.file("a.sf2"), [](std::ostream& out) { out << "RIFF....sfbk"; });
    WriteOptions options;
    options.sound.sound_font = folder.file("a.sf2");
    std::string out = "nothing";
    try {
        write_wav(folder.file("a.wav"), one_note, options);
    } catch (const FailedProgram& failed) {
        out = failed.what();
    }
    CHECK(folder.count_files() == 1);
    return out;
}

}  // namespace

TEST_CASE("a synthesizer that is killed or fails is told, and no sound is written", "[write]") {
    CHECK_THAT(told("kill -9 $$"), Catch::StartsWith("the synthesizer was ended by signal 9 ("));
    CHECK(told("echo no driver; exit 2") == "the synthesizer could not play this: no driver\n");
}

TEST_CASE("a sound font that is none is a request that cannot be met", "[write]") {
    const ProgramOnPath synthesizer{"fluidsynth", "exit 0"};
    const ScratchFolder folder;
    WriteOptions options;
    options.sound.sound_font = folder.file("none.sf2");
    CHECK_THROWS_AS(write_wav(folder.file("a.wav"), one_note, options), UnusableRequest);
}

}  // namespace shedbook
