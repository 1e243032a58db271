#include <algorithm>
#include <cassert>
#include <climits>

#include "chord_degrees.h"

namespace shedbook {
namespace {

using F = ChordFamily;

// The chord kinds. A new kind is a row here, nothing else; tests/theory/chord_symbol_test.cpp checks every
// row as data.
//
// Degrees: Hutchinson, Music Theory for the 21st-Century Classroom, 31.1-31.3 (9, 11 and 13 imply the lower
// ones; "maj" speaks of the seventh; a sixth is a sixth only without a seventh; "sus" has no third), and the
// kind values of MusicXML 4.0, which agree but for two tones that players leave out: the 11 of a 13 over a
// major third and the third of a dominant 11 (see optional_degrees). Encoding: MusicXML 4.0 kind values; an
// xml_add is needed where none says it all. Where two rows leave equally much to say about a chord, the
// earlier one names it.
constexpr std::array<ChordKind, 43> kKinds{{
    {"major", "major", "", "1 3 5", F::Major, "major", "", ""},
    {"minor", "minor", "m", "1 b3 5", F::Minor, "minor", "m", ""},
    {"diminished", "diminished", "dim", "1 b3 b5", F::Diminished, "diminished", "dim", ""},
    {"augmented", "augmented", "+", "1 3 #5", F::Augmented, "augmented", "+", ""},
    {"suspended_fourth", "suspended fourth", "sus4", "1 4 5", F::Suspended, "suspended-fourth", "sus4", ""},
    {"suspended_second", "suspended second", "sus2", "1 2 5", F::Suspended, "suspended-second", "sus2", ""},
    {"power", "power", "5", "1 5", F::Power, "power", "5", ""},

    {"major_sixth", "major sixth", "6", "1 3 5 6", F::Major, "major-sixth", "6", ""},
    {"six_nine", "six nine", "6/9", "1 3 5 6 9", F::Major, "major-sixth", "6", "9"},
    {"minor_sixth", "minor sixth", "m6", "1 b3 5 6", F::Minor, "minor-sixth", "m6", ""},
    {"minor_six_nine", "minor six nine", "m6/9", "1 b3 5 6 9", F::Minor, "minor-sixth", "m6", "9"},

    {"major_seventh", "major seventh", "maj7", "1 3 5 7", F::Major, "major-seventh", "maj7", ""},
    {"major_ninth", "major ninth", "maj9", "1 3 5 7 9", F::Major, "major-ninth", "maj9", ""},
    {"major_eleventh", "major eleventh", "maj11", "1 3 5 7 9 11", F::Major, "major-11th", "maj11", ""},
    {"major_thirteenth", "major thirteenth", "maj13", "1 3 5 7 9 13", F::Major, "major-13th", "maj13", ""},

    {"dominant_seventh", "dominant seventh", "7", "1 3 5 b7", F::Dominant, "dominant", "7", ""},
    {"dominant_ninth", "dominant ninth", "9", "1 3 5 b7 9", F::Dominant, "dominant-ninth", "9", ""},
    {"dominant_eleventh", "dominant eleventh", "11", "1 5 b7 9 11", F::Suspended, "dominant-11th", "11", ""},
    {"dominant_thirteenth", "dominant thirteenth", "13", "1 3 5 b7 9 13", F::Dominant, "dominant-13th", "13",
     ""},

    {"minor_seventh", "minor seventh", "m7", "1 b3 5 b7", F::Minor, "minor-seventh", "m7", ""},
    {"minor_ninth", "minor ninth", "m9", "1 b3 5 b7 9", F::Minor, "minor-ninth", "m9", ""},
    {"minor_eleventh", "minor eleventh", "m11", "1 b3 5 b7 9 11", F::Minor, "minor-11th", "m11", ""},
    {"minor_thirteenth", "minor thirteenth", "m13", "1 b3 5 b7 9 11 13", F::Minor, "minor-13th", "m13", ""},

    {"minor_major_seventh", "minor major seventh", "m(maj7)", "1 b3 5 7", F::Minor, "major-minor", "m(maj7)",
     ""},
    {"minor_major_ninth", "minor major ninth", "m(maj9)", "1 b3 5 7 9", F::Minor, "major-minor", "m(maj9)",
     "9"},
    {"minor_major_eleventh", "minor major eleventh", "m(maj11)", "1 b3 5 7 9 11", F::Minor, "major-minor",
     "m(maj11)", "9 11"},
    {"minor_major_thirteenth", "minor major thirteenth", "m(maj13)", "1 b3 5 7 9 11 13", F::Minor,
     "major-minor", "m(maj13)", "9 11 13"},

    {"half_diminished", "half-diminished seventh", "m7b5", "1 b3 b5 b7", F::HalfDiminished, "half-diminished",
     "m7\u266D5", ""},
    {"diminished_seventh", "diminished seventh", "dim7", "1 b3 b5 bb7", F::Diminished, "diminished-seventh",
     "dim7", ""},
    {"diminished_major_seventh", "diminished major seventh", "dim(maj7)", "1 b3 b5 7", F::Diminished,
     "major-minor", "m(maj7)", "b5"},
    {"augmented_seventh", "augmented seventh", "+7", "1 3 #5 b7", F::Dominant, "augmented-seventh", "+7", ""},
    {"altered_seventh", "altered seventh", "7alt", "1 3 b7", F::Dominant, "other", "7alt", ""},

    {"seventh_suspended_fourth", "seventh suspended fourth", "7sus4", "1 4 5 b7", F::Suspended,
     "suspended-fourth", "sus4", "7"},
    {"ninth_suspended_fourth", "ninth suspended fourth", "9sus4", "1 4 5 b7 9", F::Suspended,
     "suspended-fourth", "sus4", "7 9"},
    // The file leaves the ninth unsaid, or editors print it: "7 13" is what they turn into 13sus4.
    {"thirteenth_suspended_fourth", "thirteenth suspended fourth", "13sus4", "1 4 5 b7 9 13", F::Suspended,
     "suspended-fourth", "sus4", "7 13"},
    {"sixth_suspended_fourth", "sixth suspended fourth", "6sus4", "1 4 5 6", F::Suspended, "suspended-fourth",
     "sus4", "6"},
    {"six_nine_suspended_fourth", "six nine suspended fourth", "6/9sus4", "1 4 5 6 9", F::Suspended,
     "suspended-fourth", "sus4", "6 9"},
    {"major_seventh_suspended_fourth", "major seventh suspended fourth", "maj7sus4", "1 4 5 7", F::Suspended,
     "suspended-fourth", "sus4", "#7"},
    {"major_ninth_suspended_fourth", "major ninth suspended fourth", "maj9sus4", "1 4 5 7 9", F::Suspended,
     "suspended-fourth", "sus4", "#7 9"},
    {"major_thirteenth_suspended_fourth", "major thirteenth suspended fourth", "maj13sus4", "1 4 5 7 9 13",
     F::Suspended, "suspended-fourth", "sus4", "#7 9 13"},
    {"seventh_suspended_second", "seventh suspended second", "7sus2", "1 2 5 b7", F::Suspended,
     "suspended-second", "sus2", "7"},
    {"major_seventh_suspended_second", "major seventh suspended second", "maj7sus2", "1 2 5 7", F::Suspended,
     "suspended-second", "sus2", "#7"},
    {"sixth_suspended_second", "sixth suspended second", "6sus2", "1 2 5 6", F::Suspended, "suspended-second",
     "sus2", "6"},
}};

constexpr std::size_t kMostTones = 8;

// The degrees column, worked out once.
struct KindTones {
    DegreeSet set = 0;
    std::size_t count = 0;
    std::array<Interval, kMostTones> intervals{};
};

constexpr std::array<KindTones, kKinds.size()> kKindTones = [] {
    std::array<KindTones, kKinds.size()> out{};
    for (std::size_t i = 0; i < kKinds.size(); ++i) {
        KindTones& tones = out[i];
        tones.set = degrees_in(kKinds[i].degrees);
        tones.intervals[tones.count++] = kUnison;
        for (DegreeSet left = tones.set; left != 0; left &= left - 1) {
            const Degree& degree = lowest_degree(left);
            tones.intervals[tones.count++] = make_degree(degree.number, degree.alter);
        }
        if (kKinds[i].id == "altered_seventh") tones.set |= kAltered;
    }
    return out;
}();

const KindTones& tones_of(const ChordKind& kind) {
    return kKindTones[static_cast<std::size_t>(&kind - kKinds.data())];
}

// Tells `say` what has to be said beyond a kind to arrive at a set; false where the kind cannot be the ground
// of it. A third or a seventh is never altered or added (that is another kind), and only third, fifth and
// tensions are left out.
template <class Say>
bool compare(DegreeSet kind, DegreeSet wanted, Say say) {
    constexpr DegreeSet kNeverLeftOut = kSevenths | kSecond | kFourth | degrees_numbered(6) | kAltered;
    constexpr DegreeSet kNeverAdded = kThirds | kDiminishedSeventh | kFlatSeventh | kAltered;
    DegreeSet missing = kind & ~wanted;
    DegreeSet extra = wanted & ~kind;
    if (meets(missing, kNeverLeftOut) || meets(extra, kNeverAdded)) return false;
    if (meets(extra, kSeventh) && meets(kind, kFlatSeventh)) return false;
    // A power chord takes no more than a plain tone above it, and an 11 chord without its 11 is another
    // chord.
    if (kind == kFifth && meets(extra, ~(kNinth | kEleventh))) return false;
    if (!meets(kind, kThirds) && meets(missing, kEleventh) && meets(extra, kSharpEleventh)) return false;
    for (; missing != 0; missing &= missing - 1) {
        const Degree& degree = lowest_degree(missing);
        const DegreeSet instead = extra & degrees_numbered(degree.number);
        if (instead == 0) {
            say(AlterationKind::Omit, Degree{degree.number, 0, degree.role});
            continue;
        }
        say(AlterationKind::Alter, lowest_degree(instead));
        extra &= ~(instead & (~instead + 1));
    }
    for (; extra != 0; extra &= extra - 1) say(AlterationKind::Add, lowest_degree(extra));
    return true;
}

int effort_of(AlterationKind what, const Degree& degree) {
    if (what == AlterationKind::Omit) return 4;
    if (degree.number == 7) return 5;
    return degree.alter == 0 ? 3 : 2;
}

std::optional<int> effort(const KindTones& kind, DegreeSet wanted) {
    int sum = 0;
    const auto add = [&](AlterationKind what, const Degree& degree) { sum += effort_of(what, degree); };
    if (!compare(kind.set, wanted, add)) return std::nullopt;
    // Players write C7(#5,b9), though C+7 by itself.
    constexpr DegreeSet kAugmentedSeventh = kThird | kSharpFifth | kFlatSeventh;
    if (sum > 0 && kind.set == kAugmentedSeventh) sum += 3;
    return sum;
}

// A minor third beside a major one is the #9 (H31.3).
DegreeSet with_one_third(DegreeSet degrees) {
    return holds(degrees, kThirds) ? (degrees & ~kFlatThird) | kSharpNinth : degrees;
}

// The fifth has one name (a flat one beside a natural one is #11), and so have the sixth and the thirteenth.
DegreeSet with_one_fifth(DegreeSet degrees) {
    if (!holds(degrees, kFifth)) return degrees;
    if (holds(degrees, kFlatFifth)) degrees = (degrees & ~kFlatFifth) | kSharpEleventh;
    if (holds(degrees, kSharpFifth)) degrees = (degrees & ~kSharpFifth) | kFlatThirteenth;
    return degrees;
}

// H31.1: Co7 may be spelled with its sixth; so a sixth in a diminished triad is the diminished seventh, and
// elsewhere there is none.
DegreeSet with_diminished_seventh(DegreeSet degrees) {
    constexpr DegreeSet kTriad = kFlatThird | kFlatFifth;
    const bool diminished = holds(degrees, kTriad) && !meets(degrees, kFlatSeventh);
    if (diminished && meets(degrees, kSixth | kThirteenth)) degrees |= kDiminishedSeventh;
    if (diminished && holds(degrees, kDiminishedSeventh)) {
        // Over a diminished seventh nobody hears a second fifth.
        if (holds(degrees, kSharpFifth)) degrees = (degrees & ~kSharpFifth) | kFlatThirteenth;
        return degrees & ~(kSixth | kThirteenth);
    }
    if (holds(degrees, kDiminishedSeventh)) degrees = (degrees & ~kDiminishedSeventh) | kSixth;
    return degrees;
}

// H31.2: it is called a sixth only where there is no seventh.
DegreeSet with_sixths_named(DegreeSet degrees) {
    if (meets(degrees, kSevenths | kAltered)) {
        if (holds(degrees, kSixth)) degrees = (degrees & ~kSixth) | kThirteenth;
        if (holds(degrees, kFlatSixth)) degrees = (degrees & ~kFlatSixth) | kFlatThirteenth;
        return degrees;
    }
    if (holds(degrees, kThirteenth)) degrees = (degrees & ~kThirteenth) | kSixth;
    if (holds(degrees, kFlatThirteenth)) degrees = (degrees & ~kFlatThirteenth) | kFlatSixth;
    return degrees;
}

// A second that is also there as a ninth is said once, a fourth and an eleventh likewise.
DegreeSet with_each_tone_once(DegreeSet degrees) {
    const bool third = meets(degrees, kThirds);
    if (holds(degrees, kFourth | kEleventh)) degrees &= ~(third ? kFourth : kEleventh);
    if (holds(degrees, kSecond | kNinth)) degrees &= ~(third || holds(degrees, kFourth) ? kSecond : kNinth);
    // Csus4(add9) is Csus4(add2): without a seventh or sixth nobody means the register.
    const bool plain = !third && !meets(degrees, kSevenths | degrees_numbered(6));
    if (plain && holds(degrees, kFourth | kNinth)) degrees = (degrees & ~kNinth) | kSecond;
    return degrees;
}

}  // namespace

std::span<const ChordKind> chord_kinds() {
    return kKinds;
}

const ChordKind* find_chord_kind(std::string_view id) {
    const auto found = std::ranges::find(kKinds, id, &ChordKind::id);
    return found == kKinds.end() ? nullptr : &*found;
}

std::span<const Interval> ChordKind::intervals() const {
    const ChordKind* row = find_chord_kind(id);
    if (row == nullptr) return {};
    const KindTones& tones = tones_of(*row);
    return std::span{tones.intervals}.first(tones.count);
}

DegreeSet tidied(DegreeSet degrees) {
    degrees = with_one_fifth(with_one_third(degrees));
    return with_each_tone_once(with_sixths_named(with_diminished_seventh(degrees)));
}

DegreeSet degrees_of(const ChordKind& kind) {
    return tones_of(kind).set;
}

DegreeSet degrees_of(const ChordSymbol& symbol) {
    DegreeSet out = degrees_of(*symbol.kind);
    for (const Alteration& alteration : symbol.alterations) {
        if (alteration.kind == AlterationKind::Add) continue;
        out &= ~degrees_numbered(alteration.degree);
    }
    for (const Alteration& alteration : symbol.alterations) {
        if (alteration.kind == AlterationKind::Omit) continue;
        out |= degree_set(alteration.degree, alteration.alter);
    }
    return out;
}

DegreeSet optional_degrees(const ChordKind& kind) {
    const DegreeSet own = degrees_of(kind);
    if (holds(own, kThird | kThirteenth)) return kEleventh;
    return kind.id == "dominant_eleventh" ? kThird : 0;
}

DegreeSet optional_degrees(const ChordSymbol& symbol) {
    const DegreeSet wanted = optional_degrees(*symbol.kind);
    const DegreeSet own = degrees_of(symbol);
    if (wanted == kEleventh && meets(own, kEleventh | kSharpEleventh | kFourth)) return 0;
    return wanted;
}

std::optional<int> effort(const ChordKind& kind, DegreeSet degrees) {
    return effort(tones_of(kind), degrees);
}

std::optional<std::vector<Alteration>> described_as(const ChordKind& kind, DegreeSet degrees) {
    std::vector<Alteration> out;
    const auto add = [&](AlterationKind what, const Degree& degree) {
        out.push_back({what, degree.number, degree.alter});
    };
    if (!compare(degrees_of(kind), degrees, add)) return std::nullopt;
    std::ranges::sort(out, [](const Alteration& a, const Alteration& b) {
        return a.degree != b.degree ? a.degree < b.degree : a.alter < b.alter;
    });
    return out;
}

ChordSymbol described(DegreeSet degrees, PitchClass root, std::optional<PitchClass> bass) {
    ChordSymbol out;
    out.root = root;
    if (bass != root) out.bass = bass;
    int least = INT_MAX;
    for (std::size_t i = 0; i < kKinds.size() && least > 0; ++i) {
        const int needed = effort(kKindTones[i], degrees).value_or(INT_MAX);
        if (needed >= least) continue;
        least = needed;
        out.kind = &kKinds[i];
    }
    assert(out.kind != nullptr);
    if (least > 0) out.alterations = *described_as(*out.kind, degrees);
    return out;
}

}  // namespace shedbook
