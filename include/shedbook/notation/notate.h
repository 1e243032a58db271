// From sound to paper: the one place where music is transposed and respelled, chord symbols with the notes,
// and where bars, ties, accidentals, tuplets and beams are decided.
//
//     WrittenMusic music = notate(line, {.instrument = alto, .open_key = true});
//     sounding(music, std::get<Sounded>(music.events[0].what).pitch) == line.notes[0].pitch;      // but for
//     its octave sign
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/notation/written_music.h"
#include "shedbook/theory/concert_line.h"
#include "shedbook/theory/key.h"

namespace shedbook {

// Which side to take where a key or a scale can be written two ways.
enum class Prefer { Fewest, Sharps, Flats };

// A concert chord symbol over the line; nothing: no chord.
struct PlacedSymbol {
    Position at;  // from the start of the line
    std::optional<ChordSymbol> symbol;
    bool is_optional = false;  // in brackets: a player may leave it out
};

// A length or a place that no notation has, as a bar of a seventh of a whole note: which bar, and why.
class UnwritableMusic : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

// The notes of a scale from a place of the line on, as they are spelled in concert pitch and in the part.
// What is in none of them passes, and has its plain name.
struct PlacedScale {
    Position at;
    std::vector<PitchClass> concert;
    std::vector<PitchClass> written;
};

struct NotateOptions {
    const Instrument* instrument = nullptr;
    Meter meter;
    std::optional<Key> key;             // concert key of the tune; nothing: none
    bool open_key = false;              // print no signature; `key` then only says which way to spell
    std::optional<Key> signature = {};  // concert; printed in place of that of `key`
    // Concert notes of the scale, where one scale is all there is: they may ask for another spelling than the
    // key does.
    std::vector<PitchClass> scale;
    std::vector<PlacedSymbol> chords;
    std::vector<PlacedScale> scales;  // in order of time; none: every note as it is transposed
    Prefer prefer = Prefer::Fewest;
    // One entry a bar, where bars differ from what `meter` says (pickup, change of meter); empty: all alike.
    struct BarPlan {
        Duration length;
        std::optional<Meter> change;
        bool is_pickup = false;
    };
    std::vector<BarPlan> bars;
};

// Breaks the line into bars (the last one filled with rest) and decides everything about its notation; its
// ticks are as fine as they must be, 12 a quarter at least. Throws UnwritableMusic.
[[nodiscard]] WrittenMusic notate(const ConcertLine& line, const NotateOptions& options);

// From concert to written pitch for a part: the instrument's interval, respelled by a diminished second where
// the key would have more than six accidentals, or where the scale would need a double accidental or more
// than six. With a key, a chord has the name that it has in the chart.
[[nodiscard]] Interval written_interval(const Instrument& instrument, const std::optional<Key>& key,
                                        const std::vector<PitchClass>& scale = {},
                                        Prefer prefer = Prefer::Fewest);
// How a part names the notes of a scale, those of its chord among them: degrees keep their letters, but none
// has a double accidental in a key, and in a scale without seven letters of its own no colour an awkward
// name. With the names of the key, for who begins, what the signature has is called so there: no Fb in four
// sharps; the root keeps its name, and third, fifth and seventh theirs where those are plain.
enum class NamesOf { Scale, Key };
[[nodiscard]] PlacedScale scale_in_part(Position at, const std::vector<PitchClass>& scale,
                                        const std::optional<ChordSymbol>& symbol, Interval by,
                                        const std::optional<Key>& written_key,
                                        NamesOf names = NamesOf::Scale);

// The note on the middle line, as the key has it: where slashes stand.
[[nodiscard]] WrittenPitch middle_of_staff(const Clef& clef, int key_fifths);

// The sounding pitch of a written note.
[[nodiscard]] Pitch sounding(const WrittenMusic& music, WrittenPitch note);

// How a beat is drawn: "a dotted quarter = 60".
[[nodiscard]] NoteValue note_value(Duration beat);

}  // namespace shedbook
