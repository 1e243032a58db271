// Blocks to a Standard MIDI File of type 1: what the document says, played. Every piece has a count-in of two
// bars and a marker, then the line in sounding pitch over chords, bass and drums, and a bar in which the
// last chord rings. Tracks: conductor, line, chords, bass, drums, clicks.
//
//     MidiWriter writer{stream, {.feel = Feel::Straight}};
//     writer.begin(head); writer.take(music); writer.finish();
#pragma once

#include <cstdint>
#include <iosfwd>
#include <memory>
#include <vector>

#include "shedbook/notation/document.h"
#include "shedbook/write/sound_options.h"

namespace shedbook {

inline constexpr int kMidiTicksPerQuarter = 480;

// A note as it sounds in one time through a piece, in ticks from its beginning.
enum class SoundingPart { Line, Bass, Chords, Clicks };
struct SoundedNote {
    std::int64_t at = 0;
    std::int64_t length = 0;
    SoundingPart part = SoundingPart::Line;
    int key = 0;
    int velocity = 0;
};
// Of a block with music, without its count-in and drums.
[[nodiscard]] std::vector<SoundedNote> sounded_notes(const Block& piece, SoundOptions options);
// By how many decibels channels are set louder than they usually are.
struct MixLevels {
    double line = 0;
    double band = 0;
};

class MidiWriter : public BlockSink {
  public:
    MidiWriter(std::ostream& out, const SoundOptions& options);
    ~MidiWriter() override;
    void begin(const DocumentHead& head) override;
    void take(const Block& block) override;
    void finish() override;
    // So many decibels more between line and band than usual, before it is finished; as nearly as channel
    // volumes can.
    MixLevels set_line_over_band(double more);
    // How long it all sounds so far.
    [[nodiscard]] double seconds() const;

    class Impl;  // of this module alone

  private:
    std::unique_ptr<Impl> impl_;
};

}  // namespace shedbook
