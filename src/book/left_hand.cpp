#include "left_hand.h"

#include <algorithm>
#include <utility>

namespace shedbook {
namespace {

// How far the note a tenth below lies, in this scale; nothing for a note outside it.
std::optional<Interval> tenth_below(Pitch note, const std::vector<PitchClass>& scale) {
    const auto at = std::ranges::find(scale, note.name());
    if (at == scale.end()) return std::nullopt;
    const std::size_t size = scale.size();
    const auto place = static_cast<std::size_t>(at - scale.begin());
    Pitch below{scale[(place + size - 2) % size], note.octave() + 1};
    while (below.midi() >= note.midi()) below = below - kOctave;
    return below - kOctave - note;
}

}  // namespace

ConcertLine left_hand_of(const ConcertLine& line, HandsApart apart, const ScaleLadder* ladder) {
    if (apart == HandsApart::Octave || ladder == nullptr || ladder->size() < 3)
        return transposed(line, -kOctave);
    ConcertLine out = line;
    Interval by = -kOctave;
    for (auto note = out.notes.rbegin(); note != out.notes.rend(); ++note) {
        if (const auto tenth = tenth_below(note->pitch, ladder->notes())) by = *tenth;
        note->pitch = note->pitch + by;
    }
    return out;
}

void add_left_hand(WrittenMusic& music, const ConcertLine& line, const NotateOptions& notation,
                   const ScaleLadder* ladder) {
    if (!notation.instrument->left_hand) return;
    ConcertLine left = left_hand_of(line, notation.instrument->hands_apart, ladder);
    left.texts.clear();
    left.breaths.clear();
    add_lower_staff(music, left, notation);
}

void add_lower_staff(WrittenMusic& music, const ConcertLine& left, const NotateOptions& notation) {
    Instrument lower = *notation.instrument;
    const Clef clef = lower.left_hand.value_or(Clef{.sign = 'F', .line = 4});
    // As the right hand reads what lies high.
    if (clef != lower.clef) lower.high_clef = lower.clef;
    lower.clef = clef;
    NotateOptions options = notation;
    options.instrument = &lower;
    music.lower.push_back(notate(left, options));
}

}  // namespace shedbook
