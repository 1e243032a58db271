#include <cstdlib>

#include "chord_degrees.h"
#include "chord_xml_kinds.h"
#include "shedbook/base/text.h"
#include "shedbook/theory/chord_xml.h"

namespace shedbook {
namespace {

// What the degrees of a file make of a kind. Files call "alter" what they should call "add" and the other way
// round; the tone that is meant is the same.
class DegreeReader {
  public:
    explicit DegreeReader(DegreeSet kind) : chord_{kind} {}

    bool apply(const XmlDegree& degree) {
        const DegreeSet there = chord_ & degrees_numbered(degree.value);
        switch (degree.type) {
            case XmlDegreeType::Subtract:
                chord_ &= ~there;
                return degree.value >= 2 && degree.value <= 13;
            case XmlDegreeType::Alter:
                return alter(degree, there);
            case XmlDegreeType::Add:
                break;
        }
        const DegreeSet tone = tone_for(degree.value, degree.value == 7 ? degree.alter - 1 : degree.alter);
        chord_ |= tone;
        added_ |= tone;
        return tone != 0;
    }

    [[nodiscard]] DegreeSet chord() const { return chord_; }
    [[nodiscard]] DegreeSet added() const { return added_; }

  private:
    // An altered tone that has another name here: #4, b2.
    static DegreeSet tone_for(int value, int alter) {
        if (value == 3) return alter == 0 ? kThird : alter == -1 ? kFlatThird : 0;
        if (value == 2 && alter != 0) return degree_set(9, alter);
        if (value == 4 && alter == 1) return kSharpEleventh;
        return degree_set(value, alter);
    }

    bool alter(const XmlDegree& degree, DegreeSet there) {
        int against = 0;
        if (there != 0) against = lowest_degree(there).alter;
        const DegreeSet tone = tone_for(degree.value, against + degree.alter);
        if (tone == 0) return false;
        chord_ = (chord_ & ~there) | tone;
        return true;
    }

    DegreeSet chord_;
    DegreeSet added_ = 0;
};

// What a 13 over a major third and a dominant 11 hold by the book and not on the stand.
DegreeSet as_played(std::string_view kind, DegreeSet chord, DegreeSet added) {
    if (kind == "dominant-13th" || kind == "major-13th") return chord & ~(kEleventh & ~added);
    if (kind == "dominant-11th" && holds(chord, kEleventh)) return chord & ~(kThird & ~added);
    // Written so, or editors print the ninth too.
    constexpr DegreeSet kThirteenSus = kFourth | kFlatSeventh | kThirteenth;
    if (kind == "suspended-fourth" && holds(chord, kThirteenSus) && !meets(chord, kNinths))
        return chord | kNinth;
    return chord;
}

// The text as if typed behind the root; a text that begins with the root's own name is taken as it is.
std::optional<ChordSymbol> from_text(const XmlHarmony& harmony) {
    const std::string_view text = trimmed(harmony.text);
    if (text.empty()) return std::nullopt;
    std::string typed = to_string(harmony.root);
    // "b9" behind C would make it C flat.
    if (text.front() == 'b' || text.front() == '#' || text.front() == 'x') typed += ' ';
    typed += text;
    std::optional<ChordSymbol> out = parse_chord_symbol(typed);
    if (!out) out = parse_chord_symbol(text);
    if (!out || out->root != harmony.root) return std::nullopt;
    if (harmony.bass) out->bass = *harmony.bass == out->root ? std::nullopt : harmony.bass;
    return out;
}

XmlReading read_from_text(const XmlHarmony& harmony) {
    XmlReading out;
    out.symbol = from_text(harmony);
    out.note = out.symbol ? XmlChordNote::ReadFromText : XmlChordNote::Unreadable;
    return out;
}

// A text may show the whole chord or, as in our own files, the kind without its degrees.
bool agrees(const ChordSymbol& by_text, const ChordSymbol& symbol, const XmlHarmony& harmony) {
    if (by_text.kind == symbol.kind && by_text.alterations == symbol.alterations) return true;
    XmlHarmony plain = harmony;
    plain.degrees.clear();
    plain.text = {};
    const XmlReading kind_alone = read_xml_chord(plain);
    if (kind_alone.symbol && kind_alone.symbol->kind == by_text.kind &&
        kind_alone.symbol->alterations == by_text.alterations) {
        return true;
    }
    // Our own m(maj9): the kind is m(maj7), the text tells the degrees as well.
    return pitch_set(by_text) == pitch_set(symbol);
}

}  // namespace

XmlReading read_xml_chord(const XmlHarmony& harmony) {
    const std::string_view value = trimmed(harmony.kind);
    if (value == "none") return {std::nullopt, XmlChordNote::NoChord, std::nullopt};
    const XmlKind* kind = find_xml_kind(value);
    if (kind == nullptr) return read_from_text(harmony);
    DegreeReader reader{kind->degrees};
    bool understood = true;
    for (const XmlDegree& degree : harmony.degrees) understood = reader.apply(degree) && understood;
    const DegreeSet chord = tidied(as_played(kind->value, reader.chord(), reader.added()));
    XmlReading out;
    if (chord == 0 || !understood || has_two_sevenths(chord)) return read_from_text(harmony);
    out.symbol = described(chord, harmony.root, harmony.bass);
    out.note = kind->standard ? XmlChordNote::Plain : XmlChordNote::KindNotStandard;
    out.by_text = from_text(harmony);
    if (out.by_text && !agrees(*out.by_text, *out.symbol, harmony)) {
        out.note = XmlChordNote::TextDisagrees;
    } else {
        out.by_text.reset();
    }
    return out;
}

}  // namespace shedbook
