#include "home_ends.h"

#include <numeric>

#include "blues_form.h"

namespace shedbook {
namespace {

// How far a home agrees with the key that the chart states: fully, or in part if it has only the same
// signature (a lead sheet often states no more than that).
double agreement(Tonality stated, Tonality home) {
    const bool same_mode = (stated.ground == Ground::Minor) == (home.ground == Ground::Minor);
    if (stated.tonic == home.tonic && same_mode) return 1;
    return !same_mode && fifths_apart(stated, home) == 0 ? 0.3 : 0;
}

}  // namespace

int final_tonic(const std::vector<ChordView>& chords) {
    constexpr double kTurnaround = 8;
    double after = 0;
    for (int i = static_cast<int>(chords.size()) - 1; i > 0 && after <= kTurnaround; --i) {
        const ChordView& chord = chords[static_cast<std::size_t>(i)];
        const ChordView& before = chords[static_cast<std::size_t>(i - 1)];
        const int fall = above(before.root, chord.root);
        const bool rests = is_major_sound(chord.sound) || is_minor_sound(chord.sound);
        if (rests && (fall == 7 || fall == 1) && before.sound == Sound::Dominant) return i;
        after += chord.beats;
    }
    return -1;
}

Voices voices_of_ends(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated,
                      Tonality home, const KeyScores& scores) {
    Voices out{};
    const auto voice = [&out](Voice kind) -> double& { return out[static_cast<std::size_t>(kind)]; };
    const auto is_tonic = [&](const ChordView& chord) { return is_tonic_chord(chord, home); };
    if (has_blues_form(chords, home.tonic)) voice(Voice::BluesForm) = scores.blues_form;
    const int final = final_tonic(chords);
    if (final >= 0 && is_tonic(chords[static_cast<std::size_t>(final)]))
        voice(Voice::LastCadence) = scores.final_cadence;
    const bool begins = is_tonic(chords.front());
    if (begins) voice(Voice::FirstChord) = scores.first_chord;
    const ChordView& last = chords.back();
    if (is_tonic(last)) {
        voice(Voice::LastChord) = scores.last_chord * (is_doubtful_tonic(last, home) ? 0.6 : 1);
    } else if (last.sound == Sound::Dominant) {
        const int d = above(last.root, home.tonic);
        if (d == 7 || d == 1) voice(Voice::TurnsBack) = scores.turns_back * (begins ? 1 : 0.4);
    }
    if (stated) voice(Voice::Named) = scores.stated * agreement(*stated, home);
    return out;
}

double cost_of_ends(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated,
                    Tonality home, const KeyScores& scores) {
    const Voices voices = voices_of_ends(chords, stated, home, scores);
    double cost = -std::accumulate(voices.begin(), voices.end(), 0.0);
    if (home.ground == Ground::Minor) cost += scores.minor;
    if (home.ground == Ground::Blues && voices[static_cast<std::size_t>(Voice::BluesForm)] == 0)
        cost += scores.blues;
    return cost;
}

}  // namespace shedbook
