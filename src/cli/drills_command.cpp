#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include "arguments.h"
#include "command.h"
#include "output.h"
#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "tunes.h"

namespace shedbook {
namespace {

struct Arguments {
    std::vector<std::string> topics;
    PartArguments part;
};

// "F lydian" is a scale, "Db7#11" a chord. A word behind a note name that is no scale decides which message
// helps.
SheetTopic topic_of(const std::string& text, Diagnostics& diagnostics) {
    SheetTopic out;
    if (const std::optional<Scale> scale = parse_scale(text)) {
        out.scale.scale = *scale;
        out.scale.notes = spelled(*scale);
        return out;
    }
    const std::string_view typed = trimmed(text);
    const std::size_t gap = typed.find_first_of(" -_");
    if (const auto symbol = parse_chord_symbol(text)) {
        out.symbol = symbol;
        out.scale = scales_for(*symbol).front();
        return out;
    }
    if (gap != std::string_view::npos && parse_pitch_class(typed.substr(0, gap))) {
        const std::string name{trimmed(typed.substr(gap + 1))};
        const std::string near = nearest(name, scale_type_names());
        throw UsageError("no scale is called '" + name + "'" +
                         (near.empty() ? "; 'shedbook list scales' shows what there is"
                                       : "; did you mean '" + near + "'?"));
    }
    static_cast<void>(read_chord_symbol(SourceText{"drills", text}, diagnostics));
    return out;
}

int run_drills(const Arguments& arguments) {
    const std::vector<BookPart> parts = parts_of(arguments.part, nullptr);
    BookOptions options;
    options.drills = drills_of(arguments.part.drills);
    options.prefer = prefer_of(arguments.part.prefer);
    Diagnostics diagnostics;
    std::vector<SheetTopic> topics;
    for (const std::string& text : arguments.topics) topics.push_back(topic_of(text, diagnostics));
    print(diagnostics);
    if (diagnostics.has_errors()) return kBadInput;
    write_parts(
        arguments.part.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& said) {
            assemble_sheet(topics, parts, which, options, sink, said);
        },
        write_options_of(arguments.part));
    return kDone;
}

}  // namespace

Action drills_command(CLI::App& app) {
    auto arguments = std::make_shared<Arguments>();
    app.add_option("topic", arguments->topics,
                   "chords (\"Db7#11\") or scales (\"F lydian\"), in concert pitch")
        ->required();
    add_part_options(app, arguments->part);
    return [arguments] { return run_drills(*arguments); };
}

}  // namespace shedbook
