#include "shedbook/write/writers.h"

#include <array>
#include <ostream>

#include "engrave.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/io/zip.h"
#include "shedbook/write/midi.h"
#include "shedbook/write/musicxml.h"
#include "wav.h"

namespace shedbook {
namespace {

using Assemble = std::function<void(BlockSink&)>;

void write_musicxml(const std::string& path, const Assemble& assemble, const WriteOptions& /*no pages*/) {
    write_atomically(path, [&](std::ostream& out) {
        MusicXmlWriter writer{out};
        assemble(writer);
    });
}

void write_compressed_musicxml(const std::string& path, const Assemble& assemble,
                               const WriteOptions& /*no pages*/) {
    write_mxl(path, [&](std::ostream& out) {
        MusicXmlWriter writer{out};
        assemble(writer);
    });
}

void write_lilypond(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    write_atomically(
        path, [&](std::ostream& out) { out << lilypond_text(assemble, room_of(options.paper), {}).text; });
}

void write_midi(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    write_atomically(path, [&](std::ostream& out) {
        MidiWriter writer{out, options.sound};
        assemble(writer);
    });
}

constexpr std::array<Writer, 10> kWriters{{
    {".mxl", "compressed MusicXML, opens in any notation editor", write_compressed_musicxml},
    {".musicxml", "MusicXML", write_musicxml},
    {".xml", "MusicXML", write_musicxml},
    {".pdf", "pages to print (needs LilyPond)", write_pdf},
    {".svg", "one page as a drawing (needs LilyPond)", write_svg},
    {".png", "one page as a picture (needs LilyPond)", write_png},
    {".ly", "LilyPond text, for people who want to edit the pages", write_lilypond},
    {".mid", "MIDI: the line with bass, chords, count-in and clicks", write_midi, true},
    {".wav", "the same to listen to (needs FluidSynth)", write_wav, true},
    {".flac", "the same in a smaller file (needs FluidSynth)", write_flac, true},
}};

}  // namespace

std::span<const Writer> writers() {
    return kWriters;
}

const Writer* find_writer(std::string_view file_name) {
    const std::string name = lower_case(file_name);
    for (const Writer& writer : kWriters) {
        if (name.ends_with(writer.ending)) return &writer;
    }
    return nullptr;
}

}  // namespace shedbook
