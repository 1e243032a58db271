#include "shedbook/theory/chord_symbol.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "chord_degrees.h"
#include "chord_symbol_messages.h"
#include "chord_symbol_parser.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

unsigned pitch_bits(DegreeSet degrees) {
    unsigned out = 1;
    for (DegreeSet left = degrees & ~kAltered; left != 0; left &= left - 1) {
        const Degree& degree = lowest_degree(left);
        const int semitones = make_degree(degree.number, degree.alter).semitones();
        out |= 1U << static_cast<unsigned>(semitones % 12);
    }
    return out;
}

std::vector<ChordTone> chord_tones(DegreeSet degrees) {
    std::vector<ChordTone> out;
    for (DegreeSet left = degrees & ~kAltered; left != 0; left &= left - 1) {
        const Degree& degree = lowest_degree(left);
        out.push_back({make_degree(degree.number, degree.alter), degree.role});
    }
    std::ranges::sort(out, {}, [](const ChordTone& tone) { return tone.above_root.semitones(); });
    return out;
}

// Which notes may lose their letter to be rid of a double accidental. A scale of seven notes keeps its
// letters, and the third, the fifth, the seventh and the flat fifth of a half-diminished chord are in one;
// H31.1 and common practice for the rest.
bool may_be_respelled(const ChordTone& tone, DegreeSet chord) {
    if (holds(chord, kDiminishedSeventh)) return true;
    switch (tone.role) {
        case ChordRole::Root:
        case ChordRole::Third:
        case ChordRole::Seventh:
            return false;
        case ChordRole::Fifth:
            return tone.above_root.alter() != 0 && !holds(chord, kFlatThird | kFlatFifth);
        default:
            return true;
    }
}

}  // namespace

std::optional<ChordSymbol> read_chord_symbol(const SourceText& source, Span where, Diagnostics& diagnostics) {
    const std::string_view text = std::string_view{source.text}.substr(where.begin, where.end - where.begin);
    Failure failure;
    std::optional<ChordSymbol> out = parse_chord(plain_text(text), failure);
    if (!out)
        report(failure, source, where, diagnostics);
    else if (std::abs(out->root.alter()) == 2)
        warn_of_double_root(*out, source, where, diagnostics);
    return out;
}

std::optional<ChordSymbol> read_chord_symbol(const SourceText& source, Diagnostics& diagnostics) {
    return read_chord_symbol(source, Span{0, source.text.size()}, diagnostics);
}

std::optional<ChordSymbol> parse_chord_symbol(std::string_view text) {
    Failure failure;
    return parse_chord(plain_text(text), failure);
}

bool is_no_chord(std::string_view text) {
    constexpr std::size_t kLongest = 7;
    constexpr std::string_view kBetween = ". /-()[]";
    std::string letters;
    for (const char c : text) {
        if (kBetween.find(c) != std::string_view::npos) continue;
        letters += c;
        if (letters.size() > kLongest) return false;
    }
    letters = lower_case(letters);
    return letters == "nc" || letters == "nochord";
}

std::vector<ChordTone> tones(const ChordSymbol& symbol) {
    std::vector<ChordTone> out = chord_tones(degrees_of(symbol));
    out.insert(out.begin(), ChordTone{});
    return out;
}

std::vector<ChordTone> optional_tones(const ChordSymbol& symbol) {
    return chord_tones(optional_degrees(symbol));
}

std::vector<PitchClass> chord_notes(const ChordSymbol& symbol) {
    const DegreeSet chord = degrees_of(symbol);
    std::vector<PitchClass> out;
    for (const ChordTone& tone : tones(symbol)) {
        PitchClass note = symbol.root + tone.above_root;
        // Over a root that has a double accidental itself all notes have them.
        const bool heavy = std::abs(note.alter()) > 1 && std::abs(symbol.root.alter()) < 2;
        if (heavy && may_be_respelled(tone, chord)) note = simplest_name(note.semitone(), symbol.root);
        out.push_back(note);
    }
    return out;
}

unsigned pitch_set(const ChordSymbol& symbol) {
    return pitch_bits(degrees_of(symbol));
}

unsigned full_pitch_set(const ChordSymbol& symbol) {
    return pitch_bits(degrees_of(symbol) | optional_degrees(symbol));
}

ChordSymbol transposed(const ChordSymbol& symbol, Interval by) {
    ChordSymbol out = symbol;
    out.root = out.root + by;
    if (out.bass) out.bass = *out.bass + by;
    return out;
}

namespace {

// How far along the line of fifths a chord's own scale lies from the major scale on its root; nothing for a
// diminished chord, which leads from anywhere.
std::optional<int> scale_fifths(const ChordSymbol& symbol) {
    switch (family(symbol)) {
        case ChordFamily::Dominant:
        case ChordFamily::Suspended:
            return -1;
        case ChordFamily::Minor:
            return -2;
        case ChordFamily::HalfDiminished:
            return -5;
        case ChordFamily::Diminished:
            return std::nullopt;
        default:
            return 0;
    }
}

// The usual name of a chord's root: whose scale has fewer accidentals, so Ebm7 Ab7 Dbmaj7 and not D#m7 G#7
// C#maj7; of two alike the one nearer to the key (common practice).
PitchClass usual_root(const ChordSymbol& symbol, Key key) {
    constexpr int kEnharmonic = 12;
    const PitchClass plain = plain_name(symbol.root);
    const std::optional<int> by = scale_fifths(symbol);
    if (!by) return plain;
    const int centre = signature(key);
    const auto cost = [&](PitchClass name) {
        const int fifths = name.fifths();
        return std::pair{std::abs(fifths + *by), std::abs(fifths + *by - centre)};
    };
    for (const int way : {-kEnharmonic, kEnharmonic}) {
        const PitchClass other = PitchClass::from_fifths(plain.fifths() + way);
        if (!is_awkward(other) && cost(other) < cost(plain)) return other;
    }
    return plain;
}

}  // namespace

ChordSymbol written_symbol(const ChordSymbol& symbol, Interval to_written,
                           const std::optional<Key>& written_key) {
    ChordSymbol out = transposed(symbol, to_written);
    const bool is_as_typed = to_written.semitones() % 12 == 0 && to_written.steps() % 7 == 0;
    const auto is_of_key = [&](PitchClass name) {
        return written_key && is_in_signature(*written_key, name);
    };
    if (is_as_typed) {
        out.root = without_double_accidental(out.root);
        if (out.bass) out.bass = without_double_accidental(*out.bass);
        return out;
    }
    const PitchClass transposed_root = out.root;
    // Without a key, the scale of the page decides.
    if (!is_of_key(out.root)) out.root = written_key ? usual_root(out, *written_key) : plain_name(out.root);
    // The bass goes with its root.
    if (out.bass && !is_of_key(*out.bass)) {
        const int moved = out.root.fifths() - transposed_root.fifths();
        out.bass = plain_name(PitchClass::from_fifths(out.bass->fifths() + moved));
    }
    return out;
}

bool has_tone(const ChordSymbol& symbol, int semitones_over_root) {
    const int within = (semitones_over_root % 12 + 12) % 12;
    return (pitch_set(symbol) >> static_cast<unsigned>(within) & 1U) != 0;
}

ChordFamily family(const ChordSymbol& symbol) {
    const DegreeSet chord = degrees_of(symbol);
    if (holds(chord, kFlatThird)) {
        if (!holds(chord, kFlatFifth)) return ChordFamily::Minor;
        return holds(chord, kFlatSeventh) ? ChordFamily::HalfDiminished : ChordFamily::Diminished;
    }
    if (!holds(chord, kThird) && meets(chord, kSecond | kFourth | kEleventh)) return ChordFamily::Suspended;
    if (holds(chord, kFlatSeventh)) return ChordFamily::Dominant;
    if (holds(chord, kThird | kSharpFifth) && !holds(chord, kSeventh)) return ChordFamily::Augmented;
    return meets(chord, kThird | kSeventh) || meets(chord, degrees_numbered(6)) ? ChordFamily::Major
                                                                                : ChordFamily::Power;
}

}  // namespace shedbook
