#include "shedbook/write/writers.h"

#include <array>
#include <ostream>

#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/io/zip.h"
#include "shedbook/write/musicxml.h"

namespace shedbook {
namespace {

using Assemble = std::function<void(BlockSink&)>;

void write_musicxml(const std::string& path, const Assemble& assemble) {
    write_atomically(path, [&](std::ostream& out) {
        MusicXmlWriter writer{out};
        assemble(writer);
    });
}

void write_compressed_musicxml(const std::string& path, const Assemble& assemble) {
    write_mxl(path, [&](std::ostream& out) {
        MusicXmlWriter writer{out};
        assemble(writer);
    });
}

constexpr std::array<Writer, 3> kWriters{{
    {".mxl", "compressed MusicXML, opens in any notation editor", write_compressed_musicxml},
    {".musicxml", "MusicXML", write_musicxml},
    {".xml", "MusicXML", write_musicxml},
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
