#include <memory>
#include <ostream>
#include <string>

#include "arguments.h"
#include "command.h"
#include "output.h"
#include "shedbook/base/text.h"
#include "shedbook/book/lead_sheet.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"
#include "tempo_files.h"
#include "tunes.h"

namespace shedbook {
namespace {

struct Arguments {
    std::string input;
    std::string output;
    std::vector<std::string> instruments;
    std::string prefer;
    std::string symbols;
    SoundArguments sound;
    TuneOptions tune;
};

void say_lost(const Chart& chart, const std::string& form, Diagnostics& diagnostics) {
    const std::vector<std::string> lost = lost_in_tune(chart);
    if (!lost.empty()) diagnostics.warning_at(chart.name(), form + " cannot carry " + join(lost, ", "));
}

// A text chart or JSON for an instrument is in its written pitch and says so.
Chart written_for(const Chart& chart, const Instrument& instrument, Prefer prefer) {
    const Interval octaveless{-instrument.transposition.diatonic, -instrument.transposition.chromatic};
    const Interval full = written_interval(instrument, chart.key, {}, prefer);
    // The respelling that the key asks for, without the instrument's octaves.
    const Interval respelling = full + to_sounding(instrument.transposition);
    Chart out = transposed(chart, octaveless + respelling);
    out.written_for = instrument.id;
    return out;
}

void write_text(const Chart& chart, const std::string& output, bool json, const SymbolStyle& style) {
    Diagnostics diagnostics;
    std::string text;
    if (json) {
        text = write_chart_json(chart, diagnostics);
        if (!text.ends_with('\n')) text += '\n';
    } else {
        say_lost(chart, "a text chart", diagnostics);
        text = write_tune(chart, style);
    }
    write_atomically(output, [&](std::ostream& out) { out << text; });
    print(diagnostics);
}

void write_sheet(const Chart& chart, const Instrument& instrument, Prefer prefer, const std::string& output,
                 const SoundOptions& sound) {
    Diagnostics diagnostics;
    const Writer& writer = writer_for(output);
    const Assemble sheet = [&](BlockSink& sink) {
        diagnostics = {};  // a writer may ask twice
        assemble_lead_sheet(chart, instrument, prefer, sink, diagnostics);
    };
    for (const AtTempo& each : at_tempos(writer, {.sound = sound}, sheet))
        writer.write(each.file_name(output), each.assemble, each.options);
    print(diagnostics);
}

int run_convert(const Arguments& arguments) {
    const Prefer prefer = prefer_of(arguments.prefer);
    const SymbolStyle style = symbol_style_of(arguments.symbols);
    const SoundOptions sound = sound_options_of(arguments.sound);
    const std::string ending = lower_case(arguments.output);
    const bool json = ending.ends_with(".json");
    const bool text = ending.ends_with(".tune") || ending.ends_with(".txt") || arguments.output == "-";
    if (!json && !text) static_cast<void>(writer_for(arguments.output));
    std::vector<const Instrument*> instruments;
    for (const std::string& name : arguments.instruments) instruments.push_back(&instrument_called(name));
    refuse_sound_options(arguments.sound, arguments.output);
    if (!arguments.symbols.empty() && !text)
        throw UsageError("--symbols is for text charts (.tune), not for '" + arguments.output + "'");
    if (arguments.output == "-" && instruments.size() > 1)
        throw UsageError("standard output takes one instrument; name a file with -o for several");
    const Chart chart = load_chart(arguments.input, arguments.tune);
    if (instruments.empty()) {
        if (json || text) {
            write_text(chart, arguments.output, json, style);
        } else {
            write_sheet(chart, instrument_called("piano"), prefer, arguments.output, sound);
        }
        return kDone;
    }
    for (const Instrument* instrument : instruments) {
        const std::string path =
            instruments.size() == 1 ? arguments.output : name_with(arguments.output, instrument->id);
        if (json || text) {
            write_text(written_for(chart, *instrument, prefer), path, json, style);
        } else {
            write_sheet(chart, *instrument, prefer, path, sound);
        }
    }
    return kDone;
}

}  // namespace

Action convert_command(CLI::App& app) {
    auto arguments = std::make_shared<Arguments>();
    app.add_option("in", arguments->input, "tune to read: " + chart_endings() + "; - is standard input")
        ->required();
    app.add_option("-o,--output", arguments->output,
                   "file to write: .tune, .json, .mxl, .musicxml, .pdf, .ly, .mid, .wav or .flac")
        ->required();
    app.add_option("--for", arguments->instruments, "write the changes for these instruments, transposed")
        ->delimiter(',');
    app.add_option("--symbols", arguments->symbols,
                   "how chord symbols are printed, e.g. signs,triangle,dash (also: letters, M)");
    app.add_option("--prefer", arguments->prefer, "sharps or flats, where a key can be written both ways");
    app.add_option("--transpose", arguments->tune.transpose, "to a key (Eb) or by an interval (\"up m3\")");
    app.add_option("--part", arguments->tune.part, "which part of a score with several");
    add_sound_options(app, arguments->sound);
    return [arguments] { return run_convert(*arguments); };
}

}  // namespace shedbook
