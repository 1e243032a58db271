#include <algorithm>
#include <initializer_list>
#include <ostream>
#include <string>
#include <utility>

#include "output.h"
#include "shedbook/base/text.h"
#include "shedbook/book/lead_sheet.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "sound_request.h"

namespace shedbook {
namespace {

// Who reads the changes as they sound, where nobody is named.
constexpr const char* kAsItSounds = "piano";

void say_lost(const Chart& chart, const std::string& form, const std::vector<std::string>& lost,
              Diagnostics& diagnostics) {
    if (!lost.empty()) diagnostics.warning_at(chart.name(), form + " cannot carry " + join(lost, ", "));
}

bool ends_with_any(const std::string& file, std::initializer_list<std::string_view> endings) {
    const std::string name = lower_case(file);
    return std::ranges::any_of(endings, [&](std::string_view ending) { return name.ends_with(ending); });
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

void write_text(const Chart& chart, const std::string& output, bool json, const SymbolStyle& style,
                Caller& caller) {
    Diagnostics diagnostics;
    std::string text;
    if (json) {
        text = write_chart_json(chart, diagnostics);
        if (!text.ends_with('\n')) text += '\n';
    } else {
        say_lost(chart, "a text chart", lost_in_tune(chart), diagnostics);
        text = write_tune(chart, style);
    }
    write_atomically(output, [&](std::ostream& out) { out << text; });
    caller.say(diagnostics);
}

Files write_sheet(const Chart& chart, const Instrument& instrument, Prefer prefer, const std::string& output,
                  const SoundOptions& sound, Caller& caller) {
    Diagnostics diagnostics;
    if (ends_with_any(output, {".mxl", ".musicxml", ".xml"}))
        say_lost(chart, "a MusicXML part", lost_in_score(chart), diagnostics);
    const Assemble sheet = [&](BlockSink& sink) {
        assemble_lead_sheet(chart, instrument, prefer, sink, diagnostics);
    };
    const Writer& writer = writer_for(output);
    Files out;
    for (const AtTempo& each : at_tempos(writer, {.sound = sound}, sheet)) {
        out.push_back(each.file_name(output));
        caller.step(1, 1, out.back());
        writer.write(out.back(), each.assemble, each.options);
    }
    caller.say(diagnostics);
    return out;
}

}  // namespace

Files convert(const ConvertRequest& request, Caller& caller) {
    const Prefer prefer = prefer_of(request.part.prefer);
    const SymbolStyle style = symbol_style_of(request.symbols);
    const std::string& output = request.output.file;
    const bool json = ends_with_any(output, {".json"});
    const bool text = ends_with_any(output, {".tune", ".txt"}) || output == "-";
    const SoundOptions sound = sound_options_of(request.output.sound);
    if (!json && !text) static_cast<void>(writer_for(output));
    std::vector<const Instrument*> instruments;
    for (const std::string& name : request.part.instruments) instruments.push_back(&instrument_called(name));
    refuse_sound_options(request.output.sound, output);
    if (!request.symbols.empty() && !text)
        throw UsageError("--symbols is for text charts (.tune), not for '" + output + "'");
    if (output == "-" && instruments.size() > 1)
        throw UsageError("standard output takes one instrument; name a file with -o for several");
    const Chart chart = load_chart(request.input, request.tune, caller);
    if (instruments.empty() && (json || text)) {
        write_text(chart, output, json, style, caller);
        return {output};
    }
    if (instruments.empty()) instruments.push_back(&instrument_called(kAsItSounds));
    Files out;
    for (const Instrument* instrument : instruments) {
        const std::string file = instruments.size() == 1 ? output : name_with(output, instrument->id);
        if (json || text) {
            write_text(written_for(chart, *instrument, prefer), file, json, style, caller);
            out.push_back(file);
        } else {
            for (std::string& name : write_sheet(chart, *instrument, prefer, file, sound, caller))
                out.push_back(std::move(name));
        }
    }
    return out;
}

}  // namespace shedbook
