#include "balance.h"

#include <algorithm>
#include <cmath>
#include <future>
#include <optional>
#include <sstream>
#include <utility>

#include "loudness.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"

namespace shedbook {
namespace {

// So much of the music says how loud it is.
constexpr double kProbeSeconds = 24;
constexpr double kExcerpt = 20;  // of each piece
constexpr double kProbeGain = 0.6;

double sum_of(double a, double b) {
    return 10 * std::log10(std::pow(10, a / 10) + std::pow(10, b / 10));
}

SoundOptions once(SoundOptions options) {
    options.times = 1;
    options.silent_bars = 0;
    options.trade_bars = 0;
    options.clicks = Clicks::None;
    options.count_in = false;
    options.excerpt = kExcerpt;
    return options;
}

SoundOptions without_band(SoundOptions options) {
    options.chords = options.bass = options.drums = false;
    return once(std::move(options));
}

SoundOptions without_line(SoundOptions options) {
    options.line = false;
    return once(std::move(options));
}

}  // namespace

// Some of the music, one side of it alone.
class BalancedMidi::Probe {
  public:
    Probe(const SoundOptions& options) : writer_{out_, options} {}

    void begin(const DocumentHead& head) { writer_.begin(head); }
    void take(const Block& block) {
        if (writer_.seconds() < kProbeSeconds) writer_.take(block);
    }
    // Nothing: it is silent.
    // `place`: where its files go, as far as their endings.
    [[nodiscard]] std::optional<double> loudness(const Synthesizer& synth, const std::string& place) {
        writer_.finish();
        const std::string midi = place + ".mid";
        const std::string wav = place + ".wav";
        write_atomically(midi, [&](std::ostream& out) { out << out_.str(); });
        synthesize(synth, midi, wav, "wav", kProbeGain, Rendering::Draft);
        const double out = loudness_of(WavReader{wav}.read(3 * kProbeSeconds));
        if (out <= kSilence) return std::nullopt;
        return out;
    }

  private:
    std::ostringstream out_;
    MidiWriter writer_;
};

BalancedMidi::BalancedMidi(std::ostream& out, const SoundOptions& options, Synthesizer synth,
                           std::string folder, std::shared_ptr<std::optional<SideLoudness>> known)
    : synth_{std::move(synth)}, folder_{std::move(folder)}, midi_{out, options}, known_{std::move(known)} {
    if (known_ != nullptr && *known_) return;
    if (options.line) line_ = std::make_unique<Probe>(without_band(options));
    if (options.chords || options.bass || options.drums)
        band_ = std::make_unique<Probe>(without_line(options));
}
BalancedMidi::~BalancedMidi() = default;

void BalancedMidi::begin(const DocumentHead& head) {
    midi_.begin(head);
    if (line_) line_->begin(head);
    if (band_) band_->begin(head);
}

void BalancedMidi::take(const Block& block) {
    midi_.take(block);
    if (line_) line_->take(block);
    if (band_) band_->take(block);
}

SideLoudness BalancedMidi::measured() {
    const auto loudness = [&](Probe* probe, const char* name) {
        return probe != nullptr ? probe->loudness(synth_, folder_ + name) : std::nullopt;
    };
    // Both at once: somebody waits.
    std::future<std::optional<double>> line_then =
        std::async(std::launch::async, [&, wish = StopsByWish::of_this_thread()] {
            const StopsByWish stops{wish};
            return loudness(line_.get(), "/line");
        });
    const std::optional<double> band = loudness(band_.get(), "/band");
    return {line_then.get(), band};
}

void BalancedMidi::finish() {
    const bool is_known = known_ != nullptr && *known_;
    const SideLoudness loudness = is_known ? **known_ : measured();
    if (known_ != nullptr) *known_ = loudness;
    const auto& [line, band] = loudness;
    double all = line.value_or(band.value_or(kLoudness));
    if (line && band) {
        const MixLevels levels = midi_.set_line_over_band(kLineOverBand - (*line - *band));
        all = sum_of(*line + levels.line, *band + levels.band);
    }
    constexpr double kSoftest = 0.05;
    constexpr double kLoudest = 8;  // of FluidSynth 10
    gain_ = std::clamp(kProbeGain * std::pow(10, (kLoudness - all) / 20), kSoftest, kLoudest);
    midi_.finish();
}

}  // namespace shedbook
