#include "shedbook/drill/ladder.h"

#include <algorithm>

namespace shedbook {
namespace {

int floor_div(int a, int b) {
    return a >= 0 ? a / b : -((-a + b - 1) / b);
}

}  // namespace

ScaleLadder::ScaleLadder(const Scale& scale, const std::optional<ChordSymbol>& chord)
    : scale_{scale}, chord_{chord} {
    const std::vector<PitchClass> chord_tones = chord ? chord_notes(*chord) : std::vector<PitchClass>{};
    notes_ = spelled(scale, chord_tones);
    const auto degrees = scale.type->intervals();
    for (std::size_t i = 0; i < notes_.size(); ++i) {
        Interval above = notes_[i] - scale.tonic;
        // The name decides the letters, the table the octave.
        while (above.semitones() < degrees[i].semitones()) above = above + kOctave;
        while (above.semitones() > degrees[i].semitones()) above = above - kOctave;
        above_tonic_.push_back(above);
        const bool in_chord = std::ranges::any_of(
            chord_tones, [&](PitchClass tone) { return tone.semitone() == notes_[i].semitone(); });
        if (in_chord) chord_rungs_.push_back(static_cast<int>(i));
    }
    if (chord_rungs_.size() >= 3) return;
    // A blues scale over a seventh chord holds too few of its tones: take every other note of the scale.
    chord_rungs_.clear();
    for (int rung = 0; rung < size() && rung <= 6; rung += 2) chord_rungs_.push_back(rung);
}

Pitch ScaleLadder::pitch(int rung, Pitch tonic) const {
    const int octave = floor_div(rung, size());
    return tonic + octave * kOctave + above_tonic_[static_cast<std::size_t>(rung - octave * size())];
}

int ScaleLadder::chord_rung(int k) const {
    const int octave = floor_div(k, chord_size());
    return octave * size() + chord_rungs_[static_cast<std::size_t>(k - octave * chord_size())];
}

}  // namespace shedbook
