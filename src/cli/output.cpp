#include "output.h"

#include "arguments.h"
#include "only_pieces.h"
#include "shedbook/base/text.h"
#include "tempo_files.h"
#include "tunes.h"

namespace shedbook {

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
            take_only(only, sink, [&](BlockSink& to) { assemble(i, to, diagnostics); });
        };
        for (const AtTempo& each : at_tempos(writer, options, part))
            writer.write(each.file_name(name), each.assemble, each.options);
        if (i == 0) print(diagnostics);
    }
}

}  // namespace shedbook
