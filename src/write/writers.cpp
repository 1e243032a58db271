#include "shedbook/write/writers.h"

#include <ostream>

#include "engrave.h"
#include "phone_page.h"
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
        path, [&](std::ostream& out) { out << engraver_text(recorded(assemble), options.paper).whole(); });
}

void write_midi(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    write_atomically(path, [&](std::ostream& out) {
        MidiWriter writer{out, options.sound};
        assemble(writer);
    });
}

constexpr Writer kWriters[]{
    {".mxl", "compressed MusicXML, opens in any notation editor", write_compressed_musicxml, Writer::kScore},
    {".musicxml", "MusicXML", write_musicxml, Writer::kScore},
    {".xml", "MusicXML", write_musicxml, Writer::kScore},
    {".pdf", "pages to print (needs LilyPond)", write_pdf, Writer::kPages | Writer::kScore},
    {".svg", "one page as a drawing (needs LilyPond)", write_svg, Writer::kPages | Writer::kPicture},
    {".png", "one page as a picture (needs LilyPond)", write_png, Writer::kPages | Writer::kPicture},
    {".ly", "LilyPond text, for people who want to edit the pages", write_lilypond,
     Writer::kPages | Writer::kScore},
    {".mid", "MIDI: the line with chords, bass, drums and a count-in", write_midi, Writer::kSound},
    {".wav", "the same to listen to (needs FluidSynth)", write_wav, Writer::kSound},
    {".html", "a page for a phone: drills to see, hear and tick in its browser", write_phone_page,
     Writer::kScreen},
    {".flac", "the same in a smaller file (needs FluidSynth)", write_flac, Writer::kSound},
    {".ogg", "smaller still (needs FluidSynth and oggenc)", write_ogg, Writer::kSound},
    {".opus", "the smallest (needs FluidSynth and opusenc)", write_opus, Writer::kSound},
};

}  // namespace

std::span<const Writer> writers() {
    return kWriters;
}

std::string writer_endings(unsigned trait) {
    std::vector<std::string> out;
    for (const Writer& writer : kWriters) {
        if (trait == 0 || writer.has(trait)) out.emplace_back(writer.ending);
    }
    return join(out, ", ");
}

const Writer* find_writer(std::string_view file_name) {
    const std::string name = lower_case(file_name);
    for (const Writer& writer : kWriters) {
        if (name.ends_with(writer.ending)) return &writer;
    }
    return nullptr;
}

}  // namespace shedbook
