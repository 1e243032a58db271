#include "shedbook/drill/ladder.h"

#include <algorithm>
#include <utility>

#include "shedbook/base/rational.h"

namespace shedbook {
namespace {

// The interval up from one note to another that sounds `semitones` high, whatever their letters say.
Interval interval_sounding(PitchClass from, PitchClass to, int semitones) {
    Interval out = to - from;
    while (out.semitones() < semitones) out = out + kOctave;
    while (out.semitones() > semitones) out = out - kOctave;
    return out;
}

int semitones_up(PitchClass from, PitchClass to) {
    return (to.semitone() - from.semitone() + 12) % 12;
}

}  // namespace

ScaleLadder::ScaleLadder(const Scale& scale, const std::optional<ChordSymbol>& chord,
                         std::optional<PitchClass> home)
    : scale_{scale}, chord_{chord}, home_{home} {
    const std::vector<PitchClass> chord_tones = chord ? chord_notes(*chord) : std::vector<PitchClass>{};
    notes_ = spelled(scale, chord_tones);
    const auto degrees = scale.type->intervals();
    for (std::size_t i = 0; i < notes_.size(); ++i) {
        // The name decides the letters, the table the octave.
        above_.push_back(interval_sounding(scale.tonic, notes_[i], degrees[i].semitones()));
        degrees_.push_back(degrees[i].steps() + 1);
        const bool in_chord = std::ranges::any_of(
            chord_tones, [&](PitchClass tone) { return tone.semitone() == notes_[i].semitone(); });
        if (in_chord) chord_rungs_.push_back(static_cast<int>(i));
    }
    if (chord_rungs_.size() >= 3) return;
    // A blues scale over a seventh chord holds too few of its tones: take every other note of the scale.
    chord_rungs_.clear();
    for (int rung = 0; rung < size() && rung <= 6; rung += 2) chord_rungs_.push_back(rung);
}

ScaleLadder ScaleLadder::with_notes(const std::vector<Note>& notes) const {
    ScaleLadder out = *this;
    out.notes_.clear();
    out.above_.clear();
    out.degrees_.clear();
    out.chord_rungs_.clear();
    const bool changes_names =
        std::ranges::any_of(notes, [](const Note& note) { return note.falling.has_value(); });
    const PitchClass first = notes.front().name;
    for (const Note& note : notes) {
        const int high = semitones_up(first, note.name);
        out.notes_.push_back(note.name);
        out.above_.push_back(interval_sounding(first, note.name, high));
        if (changes_names) {
            out.falling_.push_back(interval_sounding(first, note.falling.value_or(note.name), high));
        }
        out.degrees_.push_back((note.name - scale_.tonic).steps() + 1);
        for (const int rung : chord_rungs_) {
            if (notes_[static_cast<std::size_t>(rung)].semitone() != note.name.semitone()) continue;
            out.chord_rungs_.push_back(out.size() - 1);
            break;
        }
    }
    if (!out.chord_rungs_.empty()) return out;
    for (int rung = 0; rung < out.size(); rung += 2) out.chord_rungs_.push_back(rung);
    return out;
}

ScaleLadder ScaleLadder::with_chord_rungs(std::vector<int> rungs) const {
    ScaleLadder out = *this;
    out.chord_rungs_ = std::move(rungs);
    return out;
}

Pitch ScaleLadder::pitch(int rung, Pitch bottom) const {
    const int octave = floor_div(rung, size());
    return bottom + octave * kOctave + above_[static_cast<std::size_t>(rung - octave * size())];
}

Pitch ScaleLadder::falling_pitch(int rung, Pitch bottom) const {
    if (falling_.empty()) return pitch(rung, bottom);
    const int octave = floor_div(rung, size());
    return bottom + octave * kOctave + falling_[static_cast<std::size_t>(rung - octave * size())];
}

int ScaleLadder::degree(int rung) const {
    return degrees_[static_cast<std::size_t>(modulo(rung, size()))];
}

int ScaleLadder::chord_rung(int k) const {
    const int octave = floor_div(k, chord_size());
    return octave * size() + chord_rungs_[static_cast<std::size_t>(k - octave * chord_size())];
}

int ScaleLadder::chord_tone_at(int rung) const {
    int k = floor_div(rung, size()) * chord_size();
    while (chord_rung(k) < rung) ++k;
    return k;
}

}  // namespace shedbook
