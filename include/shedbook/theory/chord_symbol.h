// Chord symbols: what was written, and what it means. A symbol is a root, a kind from one table, what was
// altered, added or left out beyond that, and perhaps another bass. Notes follow from it; text is only how a
// reader wrote it.
//
//     auto symbol = read_chord_symbol(SourceText{"input", "Bb7(#9,#11)"}, diagnostics);
//     to_string(*symbol);                                      // "Bb7(#9,#11)"
//     chord_notes(*symbol);                                    // Bb D F Ab C# E
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/theory/interval.h"
#include "shedbook/theory/key.h"
#include "shedbook/theory/pitch_class.h"

namespace shedbook {

// What a note does in a chord. Guide tones are Third and Seventh.
enum class ChordRole { Root, Third, Fourth, Second, Fifth, Sixth, Seventh, Ninth, Eleventh, Thirteenth };

struct ChordTone {
    Interval above_root;
    ChordRole role = ChordRole::Root;
    friend bool operator==(const ChordTone&, const ChordTone&) = default;
};

// The broad families that rules speak of.
enum class ChordFamily { Major, Minor, Dominant, HalfDiminished, Diminished, Augmented, Suspended, Power };

// One row of the kind table.
struct ChordKind {
    std::string_view id;       // snake case, stable: "minor_seventh"
    std::string_view name;     // in words: "minor seventh"
    std::string_view suffix;   // as we print it after the root: "m7"
    std::string_view degrees;  // over the root: "1 b3 5 b7"
    ChordFamily family = ChordFamily::Major;
    std::string_view xml_kind;  // MusicXML kind value
    std::string_view xml_text;  // its text attribute: the plain part only
    std::string_view
        xml_add;  // what the file adds to that kind or alters in it, counted as the file does (from the
                  // dominant scale, so 7 is the minor seventh): "7 9" for 9sus4 on suspended-fourth
    [[nodiscard]] std::span<const Interval> intervals() const;
};

[[nodiscard]] std::span<const ChordKind> chord_kinds();
[[nodiscard]] const ChordKind* find_chord_kind(std::string_view id);

enum class AlterationKind { Add, Alter, Omit };

// Beyond the kind: (b9) is Add 9 -1, (#5) Alter 5 +1, (no3) Omit 3.
struct Alteration {
    AlterationKind kind = AlterationKind::Add;
    int degree = 9;  // 2 to 13
    int alter = 0;   // semitones against the major or perfect degree; 0 for Omit
    friend bool operator==(const Alteration&, const Alteration&) = default;
};

struct ChordSymbol {
    PitchClass root;
    const ChordKind* kind = nullptr;      // points into the table, never null in a symbol that was read
    std::vector<Alteration> alterations;  // sorted by degree, then alter
    std::optional<PitchClass> bass;       // written after a slash; absent when it is the root
    // Same meaning; how it was typed does not count: whoever makes a symbol from tones or text gets one
    // description of them, so "C7(#5)" and "C+7" are equal.
    friend bool operator==(const ChordSymbol&, const ChordSymbol&) = default;
};

// How a reader likes symbols printed. Reading takes all of these.
struct SymbolStyle {
    enum class Major { Maj, M, Triangle } major = Major::Maj;
    enum class Minor { M, Dash } minor = Minor::M;
    enum class Accidentals { Letters, Signs } accidentals = Accidentals::Letters;
};

// Reads one whole symbol (surrounding blanks are allowed); docs/chord-symbols.md is the grammar. What is not
// understood is reported at its place with the nearest spelling; nothing is guessed. "N.C." is no symbol: see
// is_no_chord.
[[nodiscard]] std::optional<ChordSymbol> read_chord_symbol(const SourceText& source, Span where,
                                                           Diagnostics& diagnostics);
[[nodiscard]] std::optional<ChordSymbol> read_chord_symbol(const SourceText& source,
                                                           Diagnostics& diagnostics);
// The same without messages.
[[nodiscard]] std::optional<ChordSymbol> parse_chord_symbol(std::string_view text);
// "N.C.", "NC", "N/C", "n.c.", "no chord" ...
[[nodiscard]] bool is_no_chord(std::string_view text);

// Our printed form; read_chord_symbol gives back an equal symbol.
[[nodiscard]] std::string to_string(const ChordSymbol& symbol, const SymbolStyle& style = {});

// The sounding chord over the root, rising: kind and alterations together. The slash bass is not in it, nor
// are the optional tones.
[[nodiscard]] std::vector<ChordTone> tones(const ChordSymbol& symbol);
// What the name of a chord holds by the book and players leave out: the 11 of a 13 chord over a major third,
// the third of a dominant 11 chord.
[[nodiscard]] std::vector<ChordTone> optional_tones(const ChordSymbol& symbol);
// The tones as spelled notes. Third, fifth and seventh keep their letters; in a diminished seventh chord, and
// for tensions and altered fifths, a note that would need a double accidental takes its plain name (Cdim7:
// A).
[[nodiscard]] std::vector<PitchClass> chord_notes(const ChordSymbol& symbol);
// Semitones over the root as a bit set: bit 0 is the root.
[[nodiscard]] unsigned pitch_set(const ChordSymbol& symbol);
// The same with the optional tones, as the MusicXML standard counts them.
[[nodiscard]] unsigned full_pitch_set(const ChordSymbol& symbol);
// Root and bass moved by an interval, the rest unchanged.
[[nodiscard]] ChordSymbol transposed(const ChordSymbol& symbol, Interval by);
// The same for reading: a root that the key does not have takes its usual name (Dbmaj7, C#m7); without a key,
// and for a bass, only an awkward name becomes the plain one. Where nothing is transposed they stay as they
// were typed, but for double accidentals.
[[nodiscard]] ChordSymbol written_symbol(const ChordSymbol& symbol, Interval to_written,
                                         const std::optional<Key>& written_key = {});

// Questions that harmony asks.
[[nodiscard]] bool has_tone(const ChordSymbol& symbol, int semitones_over_root);
[[nodiscard]] ChordFamily family(const ChordSymbol& symbol);

}  // namespace shedbook
