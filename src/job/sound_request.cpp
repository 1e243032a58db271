#include "sound_request.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/book/key_order.h"
#include "shedbook/job/words.h"
#include "shedbook/write/writers.h"

namespace shedbook {
namespace {

constexpr int kMostTimes = 100;
constexpr int kMostBars = 64;
constexpr int kMostBarsATempo = 1000;

// "line" of --mute, and the switch that it turns off.
struct Voice {
    std::string_view word;
    bool SoundOptions::*is_on;
};
constexpr std::array<Voice, 4> kVoices{{{"line", &SoundOptions::line},
                                        {"chords", &SoundOptions::chords},
                                        {"bass", &SoundOptions::bass},
                                        {"drums", &SoundOptions::drums}}};
constexpr std::string_view kClicksVoice = "clicks";

void mute(const std::string& word, SoundOptions& out) {
    if (word == kClicksVoice) {
        out.clicks = Clicks::None;
        return;
    }
    std::vector<std::string> words;
    for (const Voice& voice : kVoices) {
        if (voice.word == word) {
            out.*(voice.is_on) = false;
            return;
        }
        words.emplace_back(voice.word);
    }
    words.emplace_back(kClicksVoice);
    unknown_word("--mute", word, words);
}

std::optional<int> parse_number(std::string_view text) {
    text = trimmed(text);
    if (text.empty() || text.size() > 5) return std::nullopt;
    int out = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        out = 10 * out + (c - '0');
    }
    return out;
}

// Two numbers with a sign between them.
std::optional<std::pair<int, int>> parse_pair(std::string_view text, char sign) {
    const std::size_t at = text.find(sign);
    if (at == std::string_view::npos) return std::nullopt;
    const std::optional<int> first = parse_number(text.substr(0, at));
    const std::optional<int> second = parse_number(text.substr(at + 1));
    if (!first || !second) return std::nullopt;
    return std::pair{*first, *second};
}

void check_tempo(int tempo, const std::string& typed) {
    if (tempo >= kSlowestTempo && tempo <= kFastestTempo) return;
    throw UsageError(
        "--tempo takes beats a minute from 20 to 400: one tempo (92), a ladder (60-120), a file each for "
        "several (60,80,100), or boxes, not '" +
        typed + "'");
}

// "60,80,100": each once, as typed.
std::vector<int> tempos_of(const std::string& text) {
    std::vector<int> out;
    for (const std::string_view part : split(text, ',')) {
        const int tempo = parse_number(part).value_or(0);
        check_tempo(tempo, text);
        if (std::ranges::find(out, tempo) == out.end()) out.push_back(tempo);
    }
    return out;
}

TempoPlan tempo_of(const SoundRequest& request) {
    TempoPlan out;
    const std::optional<int> one = parse_number(request.tempo);
    const auto two = one ? std::pair{*one, *one} : parse_pair(request.tempo, '-').value_or(std::pair{0, 0});
    out.from = two.first;
    out.to = two.second;
    for (const int tempo : {out.from, out.to}) check_tempo(tempo, request.tempo);
    if (request.tempo_step < 1 || request.tempo_step > kFastestTempo)
        throw UsageError(
            "--tempo-step takes beats a minute from 1 to 400; for a ladder that goes down say --tempo "
            "120-60");
    if (request.tempo_bars < 0 || request.tempo_bars > kMostBarsATempo)
        throw UsageError("--tempo-bars takes a number of bars from 1 to 1000");
    out.step = request.tempo_step;
    out.bars = request.tempo_bars;
    return out;
}

void set_tempo(const SoundRequest& request, SoundOptions& out) {
    const bool is_list = request.tempo.find(',') != std::string::npos;
    out.tempos_of_boxes = lower_case(trimmed(request.tempo)) == "boxes";
    const bool is_single = !request.tempo.empty() && !is_list && !out.tempos_of_boxes;
    if (is_single) out.tempo = tempo_of(request);
    if (is_list) out.tempos = tempos_of(request.tempo);
    if (!is_single && request.tempo_bars != 0)
        throw UsageError("--tempo-bars needs a ladder: --tempo 60-120");
}

void set_silent_bars(const std::string& text, SoundOptions& out) {
    const auto bars = parse_pair(text, '/');
    if (!bars || bars->first < 1 || bars->second <= bars->first || bars->second > kMostBars) {
        throw UsageError("--silent-bars takes how many of how many bars are silent, for instance 2/8, not '" +
                         text + "'");
    }
    out.silent_bars = bars->first;
    out.of_bars = bars->second;
}

std::string first_sound_option(const SoundRequest& request) {
    const SoundRequest none;
    if (request.tempo != none.tempo) return "--tempo";
    if (request.tempo_step != none.tempo_step) return "--tempo-step";
    if (request.tempo_bars != none.tempo_bars) return "--tempo-bars";
    if (request.eighths != none.eighths) return "--eighths";
    if (request.mute != none.mute) return "--mute";
    if (request.clicks != none.clicks) return "--clicks";
    if (request.silent_bars != none.silent_bars) return "--silent-bars";
    if (request.trade != none.trade) return "--trade";
    if (request.keys != none.keys) return "--through-keys";
    if (request.times != none.times) return "--times";
    if (request.seed != none.seed) return "--band-seed";
    if (request.sound_font != none.sound_font) return "--sound-font";
    return {};
}

}  // namespace

void refuse_sound_options(const SoundRequest& request, const std::string& output) {
    const Writer* writer = find_writer(output);
    const std::string option = first_sound_option(request);
    if (option.empty() || (writer != nullptr && writer->has(Writer::kSound))) return;
    throw UsageError(option + " is for sound (" + writer_endings(Writer::kSound) + "), not for '" + output +
                     "'");
}

SoundOptions sound_options_of(const SoundRequest& request) {
    SoundOptions out;
    set_tempo(request, out);
    if (!request.eighths.empty()) out.feel = choice_of<Feel>("--eighths", request.eighths);
    if (!request.clicks.empty()) out.clicks = choice_of<Clicks>("--clicks", request.clicks);
    for (const std::string& word : request.mute) mute(word, out);
    if (!request.keys.empty())
        out.keys = keys_in_order(choice_of<KeyOrder>("--through-keys", request.keys), out.seed);
    if (request.trade < 0 || request.trade > kMostBars) throw UsageError("--trade takes 1 to 64 bars");
    out.trade_bars = request.trade;
    if (request.seed < 0) throw UsageError("--band-seed takes a number from 1 on");
    if (request.seed > 0) out.seed = static_cast<unsigned>(request.seed);
    if (!request.silent_bars.empty()) set_silent_bars(request.silent_bars, out);
    if (request.times < 0 || request.times > kMostTimes) throw UsageError("--times takes 1 to 100");
    if (request.times > 0) out.times = request.times;
    out.sound_font = request.sound_font;
    return out;
}

}  // namespace shedbook
