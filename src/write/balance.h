// A line and its band on the way into a MIDI file, made as loud against each other as they should be: both
// are rendered by themselves in a draft, measured, and their channels set.
#pragma once

#include <memory>
#include <optional>
#include <ostream>
#include <string>

#include "shedbook/write/midi.h"
#include "shedbook/write/writers.h"
#include "synthesizer.h"

namespace shedbook {

// The line over the band, in the middle of the 3 to 6 decibels that a listener needs to follow it; and how
// loud everything is.
inline constexpr double kLineOverBand = 4.5;
inline constexpr double kLoudness = -20;  // LUFS

// Writes music.mid into a folder. Once it is finished it knows how loud a synthesizer must be set.
class BalancedMidi : public BlockSink {
  public:
    // `known`: WriteOptions::loudness.
    BalancedMidi(std::ostream& out, const SoundOptions& options, Synthesizer synth, std::string folder,
                 std::shared_ptr<std::optional<SideLoudness>> known = {});
    ~BalancedMidi() override;
    void begin(const DocumentHead& head) override;
    void take(const Block& block) override;
    void finish() override;

    [[nodiscard]] double seconds() const { return midi_.seconds(); }
    [[nodiscard]] double gain() const { return gain_; }

  private:
    class Probe;
    [[nodiscard]] SideLoudness measured();
    Synthesizer synth_;
    std::string folder_;
    MidiWriter midi_;
    std::unique_ptr<Probe> line_;
    std::unique_ptr<Probe> band_;
    std::shared_ptr<std::optional<SideLoudness>> known_;
    double gain_ = 0;
};

}  // namespace shedbook
