#include "output.h"

#include <iostream>

#include "arguments.h"
#include "only_pieces.h"
#include "shedbook/base/text.h"
#include "tempo_files.h"
#include "tunes.h"

namespace shedbook {
namespace {

struct NothingToPlay {};

// Hands everything on, and stops a document without music before it is finished: nothing is written then. The
// changes by themselves do not count.
class WithMusic : public BlockSink {
  public:
    explicit WithMusic(BlockSink& to) : to_{to} {}
    void begin(const DocumentHead& head) override { to_.begin(head); }
    void take(const Block& block) override {
        const auto* music = std::get_if<WrittenMusic>(&block);
        has_music_ = has_music_ || (music != nullptr && !music->measures.empty());
        to_.take(block);
    }
    void finish() override {
        if (!has_music_) throw NothingToPlay{};
        to_.finish();
    }

  private:
    BlockSink& to_;
    bool has_music_ = false;
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
    for (std::size_t i = 0; i < parts.size(); ++i) {
        Diagnostics diagnostics;
        const std::string name = parts.size() == 1 ? output : name_with(output, parts[i].instrument->id);
        const Assemble part = [&](BlockSink& sink) {
            diagnostics = {};  // a writer may ask twice
            WithMusic with_music{sink};
            take_only(only, with_music, [&](BlockSink& to) { assemble(i, to, diagnostics); });
        };
        try {
            for (const AtTempo& each : at_tempos(writer, options, part))
                writer.write(each.file_name(name), each.assemble, each.options);
        } catch (const NothingToPlay&) {
            print(diagnostics);
            std::cerr << "shedbook: nothing is left to play for " << parts[i].instrument->name
                      << "; no file was written for it\n";
            throw InputError{};
        }
        if (i == 0) print(diagnostics);
    }
}

}  // namespace shedbook
