// A piece to be heard: its sound, made once, and where in it everything begins.
#include <array>
#include <memory>
#include <numeric>
#include <optional>
#include <utility>

#include "json.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/job/jobs.h"

namespace shedbook {
namespace {

constexpr double kMostSeconds = 15 * 60;
constexpr double kLongestLoop = 5 * 60;
constexpr int kTimesHeard = 2;

SoundRequest sound_asked(const Desk& desk, const Body& body) {
    SoundRequest out;
    if (const int tempo = body.number("tempo"); tempo != 0) out.tempo = std::to_string(tempo);
    if (body.text("eighths") != "as-marked") out.eighths = body.text("eighths");
    out.mute = body.texts("mute");
    if (body.has("clicks")) out.clicks = body.text("clicks");
    // The page has one box for what keeps the time.
    if (out.clicks == "none") out.mute.emplace_back("drums");
    out.silent_bars = body.text("silent");
    out.times = body.has("times") ? body.number("times") : kTimesHeard;
    if (out.times < 1) throw Refusal(422, "'times' is 1 at least");
    out.sound_font = desk.options.sound_font;
    return out;
}

// How often the piece is gone through until the silent bars fall where they fell at first.
int times_round(const std::string& silent_bars, std::size_t bars) {
    const std::size_t stroke = silent_bars.find('/');
    if (stroke == std::string::npos || bars == 0) return 1;
    const int of_bars = std::stoi("0" + silent_bars.substr(stroke + 1));
    return of_bars < 1 ? 1 : std::lcm(static_cast<int>(bars), of_bars) / static_cast<int>(bars);
}

using KeptLoudness = std::shared_ptr<std::optional<SideLoudness>>;

HeardPiece heard_piece(const ShownDocument& shown, const std::string& number, SoundRequest request,
                       const KeptLoudness& loudness) {
    HeardPiece out = hear_piece(shown.document, number, request, loudness);
    const int round = times_round(request.silent_bars, out.timing.bars.size());
    if (request.times > 1 && round > 1 && round * out.timing.pass < kLongestLoop) {
        request.times = 1 + round;
        out = hear_piece(shown.document, number, request, loudness);
    }
    if (out.seconds > kMostSeconds) throw Refusal(422, "this would sound longer than a quarter of an hour");
    return out;
}

Data loop_of(const PieceTiming& timing) {
    if (timing.times < 2) return {};
    const double from = timing.count_in + timing.pass;
    const double to = timing.count_in + timing.times * timing.pass;
    return as_data(Data::Object{{"from", seconds_as_data(from)}, {"to", seconds_as_data(to)}});
}

Data::Object timing_as_data(const PieceTiming& timing) {
    Data::Array bars;
    Data::Array beats;
    Data::Array onsets;
    for (const PieceTiming::Bar& bar : timing.bars)
        bars.push_back(as_data(Data::Array{size_as_data(bar.measure), seconds_as_data(bar.at)}));
    for (const double beat : timing.beats) beats.push_back(seconds_as_data(beat));
    for (const PieceTiming::Onset& onset : timing.onsets) {
        const double quarters =
            static_cast<double>(onset.quarters.num()) / static_cast<double>(onset.quarters.den());
        onsets.push_back(as_data(Data::Array{Data{quarters}, seconds_as_data(onset.at)}));
    }
    return {{"tempo", as_data(std::int64_t{timing.per_minute})},
            {"beat", as_data(Data::Object{{"quarters", Data{timing.beat_quarters}}})},
            {"count_in", seconds_as_data(timing.count_in)},
            {"pass_seconds", seconds_as_data(timing.pass)},
            {"times", as_data(std::int64_t{timing.times})},
            {"loop", loop_of(timing)},
            {"bars", as_data(std::move(bars))},
            {"beats", as_data(std::move(beats))},
            {"onsets", as_data(std::move(onsets))}};
}

Answer make_sound(Desk& desk, const Ask& ask) {
    const Body body{ask};
    const auto shown = desk.document(body.text("document"));
    const std::string piece = body.text("piece") == "changes" ? "" : body.text("piece");
    const SoundRequest request = sound_asked(desk, body);
    // How loud they are is a matter of what is played and by whom.
    const std::string music = shown->id + "|" + piece + "|" + join(request.mute, ",");
    const auto loudness = std::make_shared<std::optional<SideLoudness>>(desk.sounds.loudness_of(music));
    const HeardPiece heard = heard_piece(*shown, piece, request, loudness);
    const std::string asked = music + "|" + request.tempo + "|" + request.eighths + "|" + request.clicks +
                              "|" + request.silent_bars + "|" + std::to_string(heard.timing.times);
    const SoundFor when = body.flag("ahead") ? SoundFor::Later : SoundFor::Now;
    try {
        const std::string file = desk.sounds.get(asked, when, heard.render);
        if (*loudness) desk.sounds.keep_loudness(music, **loudness);
        Data::Object out{{"url", as_data("/api/sound/" + file)}, {"seconds", seconds_as_data(heard.seconds)}};
        for (auto& member : timing_as_data(heard.timing)) out.push_back(std::move(member));
        return answered(std::move(out));
    } catch (const MadeWay&) {
        return answered({{"made_way", {true}}}, 202);
    } catch (const MissingProgram& error) {
        throw Refusal(503, error.what(), {{"missing", as_data("fluidsynth")}});
    }
}

Answer send_sound(Desk& desk, const Ask& ask) {
    const std::string file = desk.sounds.file_of(ask.path[2]);
    if (file.empty()) throw Refusal(410, "this sound was put away meanwhile; ask for it again");
    Answer out{200, "audio/wav", ""};
    out.headers.emplace_back("Cache-Control", "private, max-age=86400, immutable");
    out.file = file;
    return out;
}

}  // namespace

std::span<const Route> sound_routes() {
    static constexpr std::array<Route, 2> kRoutes{{
        {"POST", "/api/sound", make_sound, true},
        {"GET", "/api/sound/*", send_sound},
    }};
    return kRoutes;
}

}  // namespace shedbook
