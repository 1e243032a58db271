// A chart while it is being written: what is wrong in it, what its chords mean, how it looks.
#include <algorithm>
#include <array>
#include <chrono>
#include <map>
#include <memory>
#include <utility>

#include "json.h"
#include "music.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "shedbook/book/lead_sheet.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/notation/notate.h"
#include "shedbook/report/report.h"
#include "shedbook/write/screen_data.h"

namespace shedbook {
namespace {

constexpr const char* kReadsAsItSounds = "piano";

TuneRequest reading_of(const Body& body) {
    TuneRequest out;
    out.scales = body.text("scales");
    out.key = body.text("key");
    return out;
}

std::vector<const PlacedChord*> written_chords(const Chart& chart) {
    std::vector<const PlacedChord*> out;
    for (const WrittenBar& bar : written_bars(chart)) {
        for (const PlacedChord& chord : bar.bar->chords) out.push_back(&chord);
    }
    return out;
}

// The stretch of the text that a chord is, with the scale behind it; nothing where it does not stand there.
std::optional<Span> stretch_of(const PlacedChord& chord, const std::string& text) {
    Span out = chord.where;
    if (out.end > text.size() || out.begin >= out.end) return std::nullopt;
    if (std::string_view{text}.substr(out.begin, out.end - out.begin) != chord.text) return std::nullopt;
    if (out.end < text.size() && text[out.end] == '[') {
        const std::size_t close = text.find_first_of("]\n", out.end);
        if (close != std::string::npos && text[close] == ']') out.end = close + 1;
    }
    return out;
}

std::string member(const Data::Object& object, std::string_view name) {
    for (const auto& [key, value] : object) {
        if (key == name) return write_json(value);
    }
    return {};
}

// What makes two chords the same for a player: symbol, role and scale, and for the same reason.
std::string role_of(const Data::Object& chord) {
    std::string out;
    for (const char* name : {"symbol", "numeral", "function", "scale_id", "scale_name", "why"})
        out += member(chord, name) + "|";
    return out;
}

Data::Array chords_of(const Tune& tune, std::vector<Data::Object> changes, const std::string* text) {
    const std::vector<const PlacedChord*> written = written_chords(tune.chart);
    std::map<std::string, std::int64_t> first_bars;
    Units units{text != nullptr ? *text : std::string_view{}};
    Data::Array out;
    for (std::size_t i = 0; i < changes.size(); ++i) {
        Data::Object& chord = changes[i];
        const std::optional<Span> stretch = text != nullptr ? stretch_of(*written[i], *text) : std::nullopt;
        const Data whole = as_data(chord);
        const std::int64_t bar = whole.find("bar")->as_int().value_or(0);
        const auto [first, is_new] = first_bars.try_emplace(role_of(chord), bar);
        chord.emplace_back("fixed", Data{written[i]->fixed_scale.has_value()});
        chord.emplace_back("as_in_bar", is_new || first->second == bar ? Data{} : as_data(first->second));
        chord.emplace_back("from", stretch ? as_data(units.of_byte(stretch->begin)) : Data{});
        chord.emplace_back("to", stretch ? as_data(units.of_byte(stretch->end)) : Data{});
        out.push_back(as_data(std::move(chord)));
    }
    return out;
}

Document sheet_of(const Chart& chart, const std::string& instrument) {
    Diagnostics unheard;  // what MusicXML cannot carry is no slip of the player's
    return recorded([&](BlockSink& sink) {
        assemble_lead_sheet(chart, instrument_called(instrument.empty() ? kReadsAsItSounds : instrument),
                            Prefer::Fewest, sink, unheard);
    });
}

std::int64_t bars_of_chart(const Chart& chart) {
    return static_cast<std::int64_t>(written_bars(chart).size());
}

// Where each section begins, in written bars from 1.
Data::Array sections_of(const Chart& chart) {
    Data::Array out;
    int bar = 1;
    for (const Section& section : chart.sections) {
        out.push_back(as_data(Data::Object{{"label", as_data(section.label)}, {"bar", as_data(bar)}}));
        bar += static_cast<int>(section.bars.size());
    }
    return out;
}

// Each chord as the instrument reads it, with its scale and reason; nothing where that is what sounds.
void add_read(const Tune& tune, const std::string& instrument, Data::Array& chords, Data::Object& out) {
    const Interval by = instrument.empty()
                            ? Interval{}
                            : written_interval(instrument_called(instrument), tune.chart.key.value_or(Key{}));
    const bool is_same = by.semitones() % kOctave.semitones() == 0;
    ChangesAsRead read;
    if (!is_same) read = changes_as_read(tune.chart, tune.analysis, by);
    for (std::size_t i = 0; i < chords.size(); ++i)
        std::get<Data::Object>(chords[i].value)
            .emplace_back("read", is_same ? Data{} : as_data(std::move(read.chords[i])));
    out.emplace_back("home_read", std::move(read.home));
}

// The chart as a rhythm part, kept so that it can be heard.
std::shared_ptr<const ShownDocument> kept_sheet(Desk& desk, const Body& body, const Tune& tune,
                                                const std::string& text) {
    const std::string instrument = body.text("instrument");
    return desk.drafts.get("changes|" + instrument + "|" + body.text("key") + "|" + text, [&] {
        ShownDocument made;
        made.document = sheet_of(tune.chart, instrument);
        made.tune = tune.chart.title;
        return made;
    });
}

void describe_draft(Desk& desk, const Body& body, const Tune& tune, const std::string& text,
                    const std::string* places, Data::Object& out) {
    const Chart& chart = tune.chart;
    ChangesData changes = changes_data(chart, tune.analysis);
    Data::Array chords = chords_of(tune, std::move(changes.chords), places);
    out.emplace_back("tune", as_data(std::move(changes.tune)));
    out.emplace_back("title", as_data(chart.title));
    out.emplace_back("feel", as_data(chart.feel));
    out.emplace_back("tempo", chart.tempo ? as_data(*chart.tempo) : Data{});
    out.emplace_back("beat", as_data(beat_in_words(chart.meter.value_or(Meter{}))));
    out.emplace_back("bars", as_data(bars_of_chart(chart)));
    out.emplace_back("sections", as_data(sections_of(chart)));
    out.emplace_back("pickup", Data{first_bar_number(chart) == 0});
    if (body.flag("music", true)) {
        const auto shown = kept_sheet(desk, body, tune, text);
        const std::vector<WrittenMusic>& music = *music_of(shown->document.blocks.front());
        out.emplace_back("musicxml", as_data(musicxml_of(shown->document.head, music)));
        out.emplace_back("document", as_data(shown->id));
    }
    add_read(tune, body.text("instrument"), chords, out);
    out.emplace_back("chords", as_data(std::move(chords)));
}

Answer analyse_text(Desk& desk, const Ask& ask) {
    const auto began = std::chrono::steady_clock::now();
    const Body body{ask};
    const std::string text = body.text("text");
    const std::string name = body.has("name") ? body.text("name") : "tune";
    const TuneDraft draft = read_draft(name, text, reading_of(body));
    const std::string* places = draft.is_pasted ? nullptr : &text;
    Data::Object out{{"ok", {draft.tune && !draft.diagnostics.has_errors()}},
                     {"slips", as_data(slips_of(draft.diagnostics, places))},
                     {"pasted", {draft.is_pasted}}};
    if (draft.tune) {
        describe_draft(desk, body, *draft.tune, text, places, out);
    } else {
        for (const char* nothing : {"chords", "tune", "musicxml", "document"})
            out.emplace_back(nothing, Data{});
    }
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - began;
    out.emplace_back("ms", as_data(static_cast<std::int64_t>(took.count())));
    return answered(std::move(out));
}

// As it is written behind a chord: with its tonic only where that is not the chord's root. Empty for none.
std::string scale_in_chart(const std::string& asked, PitchClass root) {
    if (asked.empty()) return {};
    if (const ScaleType* type = find_scale_type(asked)) return lower_case(type->name);
    const std::optional<Scale> scale = parse_scale(asked);
    if (!scale) throw Refusal(422, "no scale is called '" + asked + "'");
    return (scale->tonic == root ? "" : to_string(scale->tonic) + " ") + lower_case(scale->type->name);
}

// "Ab7" with its scale behind it: "Ab7[mixolydian]".
Answer choose_scale(Desk& /*of no file*/, const Ask& ask) {
    const Body body{ask};
    std::string text = body.text("text");
    const std::string scale = body.text("scale");
    const TuneDraft draft = read_draft("tune", text, {});
    if (!draft.tune) throw Refusal(422, "this text has no bars");
    const std::vector<const PlacedChord*> chords = written_chords(draft.tune->chart);
    const auto inst = static_cast<std::size_t>(body.number("inst", -1));
    if (inst >= chords.size() || !chords[inst]->symbol) throw Refusal(422, "there is no such chord");
    const std::optional<Span> stretch = draft.is_pasted ? std::nullopt : stretch_of(*chords[inst], text);
    if (!stretch) throw Refusal(422, "this chord does not stand in the text as it is played");
    const std::string name = scale_in_chart(scale, chords[inst]->symbol->root);
    const std::string written = chords[inst]->text + (name.empty() ? "" : "[" + name + "]");
    const std::string rest = text.substr(stretch->end);
    text = text.substr(0, stretch->begin) + written + rest;
    Units units{text};
    const std::int64_t from = units.of_byte(stretch->begin);
    const std::int64_t to = units.of_byte(stretch->begin + written.size());
    return answered({{"text", as_data(text)}, {"from", as_data(from)}, {"to", as_data(to)}});
}

}  // namespace

std::span<const Route> write_routes() {
    static constexpr std::array<Route, 2> kRoutes{{
        {"POST", "/api/analyse", analyse_text, true},
        {"POST", "/api/scale", choose_scale, true},
    }};
    return kRoutes;
}

}  // namespace shedbook
