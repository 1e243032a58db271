#include "shedbook/theory/chord_symbol.h"

#include <algorithm>
#include <cstdlib>

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

ChordSymbol written_symbol(const ChordSymbol& symbol, Interval to_written,
                           const std::optional<Key>& written_key) {
    ChordSymbol out = transposed(symbol, to_written);
    const bool is_as_typed = to_written.semitones() % 12 == 0 && to_written.steps() % 7 == 0;
    const auto usual = [&](PitchClass name) {
        if (is_as_typed) return without_double_accidental(name);
        return written_key && is_in_signature(*written_key, name) ? name : plain_name(name);
    };
    out.root = usual(out.root);
    if (out.bass) out.bass = usual(*out.bass);
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
