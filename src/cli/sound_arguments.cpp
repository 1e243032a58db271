#include "sound_arguments.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>
#include <utility>

#include "arguments.h"
#include "shedbook/base/text.h"
#include "shedbook/write/writers.h"

namespace shedbook {
namespace {

// One group of the help, so that who only prints need not read it.
constexpr const char* kGroup = "Sound (.mid, .wav, .flac)";
constexpr int kMostTimes = 100;
constexpr int kMostBars = 64;
constexpr int kMostBarsATempo = 1000;

// "line" of --mute, and the switch that it turns off.
struct Voice {
    std::string_view word;
    bool SoundOptions::*is_on;
};
constexpr std::array<Voice, 3> kVoices{
    {{"line", &SoundOptions::line}, {"comping", &SoundOptions::comping}, {"bass", &SoundOptions::bass}}};

bool SoundOptions::*voice_called(const std::string& word) {
    std::vector<std::string> words;
    for (const Voice& voice : kVoices) {
        if (voice.word == word) return voice.is_on;
        words.emplace_back(voice.word);
    }
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

TempoPlan tempo_of(const SoundArguments& arguments) {
    TempoPlan out;
    const std::optional<int> one = parse_number(arguments.tempo);
    const auto two = one ? std::pair{*one, *one} : parse_pair(arguments.tempo, '-').value_or(std::pair{0, 0});
    out.from = two.first;
    out.to = two.second;
    for (const int tempo : {out.from, out.to}) check_tempo(tempo, arguments.tempo);
    if (arguments.tempo_step < 1 || arguments.tempo_step > kFastestTempo)
        throw UsageError(
            "--tempo-step takes beats a minute from 1 to 400; for a ladder that goes down say --tempo "
            "120-60");
    if (arguments.tempo_bars < 0 || arguments.tempo_bars > kMostBarsATempo)
        throw UsageError("--tempo-bars takes a number of bars from 1 to 1000");
    out.step = arguments.tempo_step;
    out.bars = arguments.tempo_bars;
    return out;
}

void set_tempo(const SoundArguments& arguments, SoundOptions& out) {
    const bool is_list = arguments.tempo.find(',') != std::string::npos;
    out.tempos_of_boxes = lower_case(trimmed(arguments.tempo)) == "boxes";
    const bool is_single = !arguments.tempo.empty() && !is_list && !out.tempos_of_boxes;
    if (is_single) out.tempo = tempo_of(arguments);
    if (is_list) out.tempos = tempos_of(arguments.tempo);
    if (!is_single && arguments.tempo_bars != 0)
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

std::string first_sound_option(const SoundArguments& arguments) {
    const SoundArguments none;
    if (arguments.tempo != none.tempo) return "--tempo";
    if (arguments.tempo_step != none.tempo_step) return "--tempo-step";
    if (arguments.tempo_bars != none.tempo_bars) return "--tempo-bars";
    if (arguments.eighths != none.eighths) return "--eighths";
    if (arguments.mute != none.mute) return "--mute";
    if (arguments.clicks != none.clicks) return "--clicks";
    if (arguments.silent_bars != none.silent_bars) return "--silent-bars";
    if (arguments.times != none.times) return "--times";
    if (arguments.sound_font != none.sound_font) return "--sound-font";
    return {};
}

}  // namespace

void add_sound_options(CLI::App& app, SoundArguments& arguments) {
    const auto in_group = [](CLI::Option* option) { option->group(kGroup); };
    in_group(app.add_option(
        "--tempo", arguments.tempo,
        "beats a minute (92); a ladder from one tempo to another (60-120); several, a file each "
        "(60,80,100), or those of the tick boxes (boxes); the beat of 6/8 is a dotted quarter, of cut time "
        "a half"));
    in_group(app.add_option("--tempo-step", arguments.tempo_step,
                            "how far each step of the ladder goes (default: 10)"));
    in_group(app.add_option("--tempo-bars", arguments.tempo_bars,
                            "bars at each tempo of the ladder (default: as often as --times says)"));
    in_group(app.add_option("--eighths", arguments.eighths,
                            "swing, straight or 12-8 (default: as the tune says, else swing)"));
    in_group(app.add_option("--mute", arguments.mute,
                            "leave out line, comping or bass, e.g. --mute line to play along")
                 ->delimiter(','));
    in_group(app.add_option("--clicks", arguments.clicks,
                            "2-and-4, weak-beats, every-beat or none (default: 2-and-4)"));
    in_group(app.add_option("--silent-bars", arguments.silent_bars,
                            "the last so many of every so many bars without clicks, bass and comping: 2/8"));
    in_group(app.add_option("--times", arguments.times,
                            "how often a piece is played (default: drills 4, others 1)"));
    in_group(app.add_option("--sound-font", arguments.sound_font, "the .sf2 or .sf3 file to play with"));
}

void refuse_sound_options(const SoundArguments& arguments, const std::string& output) {
    const Writer* writer = find_writer(output);
    const std::string option = first_sound_option(arguments);
    if (option.empty() || (writer != nullptr && writer->is_sound)) return;
    throw UsageError(option + " is for sound (.mid, .wav, .flac), not for '" + output + "'");
}

SoundOptions sound_options_of(const SoundArguments& arguments) {
    SoundOptions out;
    set_tempo(arguments, out);
    if (!arguments.eighths.empty()) out.feel = choice_of<Feel>("--eighths", arguments.eighths);
    for (const std::string& word : arguments.mute) out.*voice_called(word) = false;
    out.clicks = choice_of<Clicks>("--clicks", arguments.clicks);
    if (!arguments.silent_bars.empty()) set_silent_bars(arguments.silent_bars, out);
    if (arguments.times < 0 || arguments.times > kMostTimes) throw UsageError("--times takes 1 to 100");
    if (arguments.times > 0) out.times = arguments.times;
    out.sound_font = arguments.sound_font;
    return out;
}

}  // namespace shedbook
