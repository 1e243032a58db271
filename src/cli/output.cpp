#include "output.h"

#include <iostream>

#include "arguments.h"
#include "only_pieces.h"
#include "shedbook/base/text.h"
#include "tempo_files.h"
#include "tunes.h"

namespace shedbook {
namespace {

// How much music there is, the changes by themselves left out.
class PieceCounter : public BlockSink {
  public:
    void begin(const DocumentHead& /*head*/) override {}
    void take(const Block& block) override {
        const auto* music = std::get_if<WrittenMusic>(&block);
        pieces += music != nullptr && !music->measures.empty() ? 1 : 0;
    }
    void finish() override {}

    int pieces = 0;
};

}  // namespace

const Writer& writer_for(const std::string& file_name) {
    if (const Writer* writer = find_writer(file_name)) return *writer;
    std::vector<std::string> endings;
    for (const Writer& writer : writers()) endings.emplace_back(writer.ending);
    throw UsageError("'" + file_name + "' has no ending that can be written; endings: " + join(endings, " "));
}

void write_parts(const std::string& output, const std::vector<BookPart>& parts,
                 const std::function<void(std::size_t which, BlockSink&, Diagnostics&)>& assemble,
                 const WriteOptions& options, const std::vector<std::string>& only) {
    const Writer& writer = writer_for(output);
    // Everything is worked out once before the first file is written: what there is to say, and whether there
    // is a note to play.
    for (std::size_t i = 0; i < parts.size(); ++i) {
        Diagnostics diagnostics;
        PieceCounter counter;
        take_only(only, counter, [&](BlockSink& to) { assemble(i, to, diagnostics); });
        if (i == 0 || counter.pieces == 0) print(diagnostics);
        if (counter.pieces > 0) continue;
        std::cerr << "shedbook: nothing is left to play for " << parts[i].instrument->name
                  << "; nothing was written\n";
        throw InputError{};
    }
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::string name = parts.size() == 1 ? output : name_with(output, parts[i].instrument->id);
        const Assemble part = [&](BlockSink& sink) {
            Diagnostics said;
            take_only(only, sink, [&](BlockSink& to) { assemble(i, to, said); });
        };
        for (const AtTempo& each : at_tempos(writer, options, part))
            writer.write(each.file_name(name), each.assemble, each.options);
    }
}

}  // namespace shedbook
