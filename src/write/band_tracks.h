// The tracks of the band in a MIDI file: chords, bass, drums, and the clicks that count in.
#pragma once

#include <array>
#include <random>

#include "band_plan.h"
#include "feel.h"
#include "midi_track.h"
#include "swing.h"

namespace shedbook {

// Between two notes, so that repeated ones are heard as two.
inline constexpr std::int64_t kNoteGap = 12;
// MIDI 1.0: numbers of controllers.
inline constexpr int kChannelVolume = 7;
inline constexpr int kPan = 10;
inline constexpr int kAllSoundOff = 120;

[[nodiscard]] std::int64_t ticks_of(Duration length);

// A track begins with its name, its instrument and where it stands.
struct TrackSetup {
    std::string_view name;
    std::string_view instrument;
    int channel = 0;  // from 0; General MIDI keeps the tenth, 9, for drums
    int program = 0;  // from 0
    int pan = 64;     // 64 is the middle
};
// General MIDI Level 1 recommends 40 log (volume / 127) decibels for a channel volume.
[[nodiscard]] int volume_at(int usual, double decibels_more);
[[nodiscard]] double most_louder(int usual);
// What a rounded volume makes of so many decibels.
[[nodiscard]] double volume_as_set(int usual, double decibels_more);

void begin_track(MidiTrack& track, const TrackSetup& setup);

class BandTracks {
  public:
    explicit BandTracks(const SoundOptions& options);

    // Two bars before a piece, from that tick on.
    void count_off(std::int64_t at, const Meter& meter, bool in_triplets);
    void play(const Performance& piece, const RhythmSection& band, const Clock& clock);
    void settle();
    // Decibels more than usual; once, at the end.
    void set_volumes(double decibels_more);
    // Everything that may ring on stops.
    void stop(std::int64_t at);
    [[nodiscard]] std::array<MidiTrack*, 4> tracks() { return {&chords_, &bass_, &drums_, &clicks_}; }

  private:
    void play_notes(MidiTrack& track, int channel, BandPart part, const std::vector<BandNote>& notes);
    void play_drums_of(const RhythmSection& band);
    void click();
    [[nodiscard]] bool is_silent(Position at) const;
    // After everything held at a fermata has begun, nobody moves.
    [[nodiscard]] bool is_held(Position at) const;
    [[nodiscard]] Position end_of_hold(Position at, Position end) const;
    [[nodiscard]] PlaceInBar place_of(Position at) const;
    [[nodiscard]] int velocity(BandPart part, Position at, Touch touch) const;
    // More or less velocity; another each time.
    [[nodiscard]] int unevenness(BandPart part);
    [[nodiscard]] std::int64_t delay(Position at, BandPart part) const;

    SoundOptions options_;
    MidiTrack chords_, bass_, drums_, clicks_;
    // Of the piece at hand.
    const Performance* piece_ = nullptr;
    const Clock* clock_ = nullptr;
    std::vector<BandChorus> choruses_;
    BandStyle style_ = BandStyle::Swing;
    std::array<std::mt19937, 3> hands_;  // one each, so that muting one does not change the others
};

}  // namespace shedbook
