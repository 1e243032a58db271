// Phrases: short ideas for a kind of practice unit, written in degrees over its chords, that are put on the
// unit's own bars. Data: templates/phrases.toml; docs/units.md explains the form to the player who writes
// one.
//
//     const std::vector<ScaleSpan> chords = chords_of_unit(ground, place.chords);
//     for (const Phrase* phrase : phrases_for(UnitKind::TwoFive, 3, PhraseFeel::Swing))
//         if (auto line = phrase_line(*phrase, chords, ground, range)) return line;
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/etude/ground.h"
#include "shedbook/harmony/units.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

enum class PhraseFeel { Any, Swing, Straight };
template <>
inline constexpr Worded<PhraseFeel> kWords<PhraseFeel>[] = {
    {PhraseFeel::Any, "any"}, {PhraseFeel::Swing, "swing"}, {PhraseFeel::Straight, "straight"}};

// One note of a figure, as a degree over its chord's root.
struct PhraseNote {
    enum class Kind { Degree, Rest, Hold };  // Hold: the note before goes on
    Kind kind = Kind::Degree;
    Duration length;
    int steps = 0;  // letters above the root, 0 the root
    std::optional<int>
        alter;        // half steps against the major scale; nothing: as the chord or its scale has it
    int octaves = 0;  // more
    friend bool operator==(const PhraseNote&, const PhraseNote&) = default;
};

// What is played on one chord of a certain length.
struct PhraseFigure {
    enum class Entry { Nearest, Above, Below };  // its first note against the one before
    Entry entry = Entry::Nearest;
    std::vector<PhraseNote> notes;
    Duration length;
};

// A chord of the phrase, as in any key: it stands so far above the first one.
struct PhraseChord {
    std::vector<ChordFamily> families;  // that it may have; empty: any chord on any root
    int over_first = 0;                 // half steps
    std::vector<PhraseFigure> figures;  // one for each length
};

struct Phrase {
    std::string id;
    std::string about;           // its idea in a few words
    std::vector<UnitKind> over;  // kinds of units
    int level = 1;
    PhraseFeel feel = PhraseFeel::Any;
    bool again = false;  // all chords but the last come as often as the unit needs them
    std::vector<PhraseChord> chords;
};

// The [[phrase]] entries of a file; what is wrong is said at its place.
[[nodiscard]] std::vector<Phrase> read_phrases(const SourceText& source, Diagnostics& diagnostics);
// Those that come with the program and the user's own (io/own_templates.h).
[[nodiscard]] const std::vector<Phrase>& phrases();
// For this kind of unit, up to a level, that suit the feel: the highest level first.
[[nodiscard]] std::vector<const Phrase*> phrases_for(UnitKind kind, int level, PhraseFeel feel);

// The unit's chords on a ground, in order of time; `chords` as UnitPlace has them.
[[nodiscard]] std::vector<ScaleSpan> chords_of_unit(const EtudeGround& ground,
                                                    const std::vector<int>& chords);

// The phrase on these chords, nearest the middle of the range. Nothing where it does not suit: other chords,
// lengths that it has no figure for, a range too narrow, or notes that no teacher would let pass over the
// chords as they are here (phrase_craft.h).
[[nodiscard]] std::optional<ConcertLine> phrase_line(const Phrase& phrase, std::span<const ScaleSpan> chords,
                                                     const EtudeGround& ground, PitchRange range);
// Where the ground goes on behind the unit, the phrase goes on in guide tones and comes to rest on the last
// chord, each time on the nearest note in the range.
void arrive(ConcertLine& line, std::span<const ScaleSpan> chords, const EtudeGround& ground,
            PitchRange range);

}  // namespace shedbook
