#include "shedbook/theory/chord_xml.h"

#include <algorithm>
#include <climits>

#include "chord_degrees.h"
#include "chord_xml_kinds.h"

namespace shedbook {
namespace {

bool is_suspension(std::string_view xml_kind) {
    return xml_kind.starts_with("suspended");
}

// The degrees that editors are known to understand; for the rest another kind has to be the ground. (Tried
// with three editors and engravers; an added seventh is a kind of its own except in a suspension.)
bool is_usual(const XmlDegree& degree, std::string_view xml_kind) {
    const int alter = degree.alter;
    const bool plain_or_raised = alter == 0 || alter == 1;
    const bool altered = alter == -1 || alter == 1;
    if (degree.type == XmlDegreeType::Subtract) {
        return alter == 0 && degree.value % 2 == 1 && degree.value >= 3 && degree.value <= 11;
    }
    if (degree.type == XmlDegreeType::Alter) {
        switch (degree.value) {
            case 5:
            case 9:
                return altered;
            case 11:
                return alter == 1;
            case 13:
                return alter == -1;
            default:
                return false;
        }
    }
    switch (degree.value) {
        case 2:
            return alter == 0;
        case 4:
        case 11:
            return plain_or_raised;
        case 5:
            return altered;
        case 6:
        case 13:
            return alter == 0 || alter == -1;
        case 7:
            return plain_or_raised && is_suspension(xml_kind);
        case 9:
            return alter >= -1 && alter <= 1;
        default:
            return false;
    }
}

// Builds the degrees of one chord on one row of the kind table.
class DegreeWriter {
  public:
    explicit DegreeWriter(const ChordKind& kind)
        : kind_{kind}, ground_{find_xml_kind(kind.xml_kind)->degrees}, own_{degrees_of(kind)} {
        for (DegreeSet left = degrees_in_file(kind.xml_add); left != 0; left &= left - 1) {
            const Degree& degree = lowest_degree(left);
            // What the kind has already is altered, not added: b5 of a diminished chord with major seventh.
            if (holds_number(degree.number)) {
                write({degree.number, degree.alter, XmlDegreeType::Alter, ""});
            } else {
                write({degree.number, in_file(degree.number, degree.alter), XmlDegreeType::Add, ""});
            }
        }
    }

    // False where the degree could not be said.
    bool say(const Alteration& alteration) {
        switch (alteration.kind) {
            case AlterationKind::Omit:
                return omit(alteration);
            case AlterationKind::Alter:
                return alter(alteration);
            case AlterationKind::Add:
                break;
        }
        return add(alteration);
    }

    [[nodiscard]] std::vector<XmlDegree> finished() && { return std::move(degrees_); }

  private:
    [[nodiscard]] bool holds_number(int number) const { return meets(ground_, degrees_numbered(number)); }

    // An added degree counts from the dominant scale, whose seventh is minor.
    static int in_file(int number, int alter) { return number == 7 ? alter + 1 : alter; }
    static DegreeSet degrees_in_file(std::string_view xml_add) {
        DegreeSet out = degrees_in(xml_add);
        if (holds(out, kSeventh)) out = (out & ~kSeventh) | kFlatSeventh;
        if (xml_add.starts_with("#7")) out |= kSeventh;
        return out;
    }

    bool write(const XmlDegree& degree) {
        degrees_.push_back(degree);
        return is_usual(degree, kind_.xml_kind);
    }

    std::vector<XmlDegree>::iterator written(int number) {
        return std::ranges::find(degrees_, number, &XmlDegree::value);
    }

    bool omit(const Alteration& alteration) {
        if (const auto found = written(alteration.degree); found != degrees_.end()) {
            degrees_.erase(found);
            return true;
        }
        return holds_number(alteration.degree) &&
               write({alteration.degree, 0, XmlDegreeType::Subtract, "no"});
    }

    bool alter(const Alteration& alteration) {
        if (const auto found = written(alteration.degree); found != degrees_.end()) {
            found->alter = alteration.alter;
            return is_usual(*found, kind_.xml_kind);
        }
        if (!holds_number(alteration.degree)) {
            return write({alteration.degree, alteration.alter, XmlDegreeType::Add, ""});
        }
        const Degree& natural = lowest_degree(ground_ & degrees_numbered(alteration.degree));
        return write({alteration.degree, alteration.alter - natural.alter, XmlDegreeType::Alter, ""});
    }

    bool add(const Alteration& alteration) {
        const int number = alteration.degree;
        const DegreeSet there = ground_ & degrees_numbered(number);
        // The 11 that a 13 kind has in the file and not on the stand: raised, it is altered.
        if (there != 0 && !meets(own_, degrees_numbered(number))) {
            return alteration.alter != 0 && write({number, alteration.alter, XmlDegreeType::Alter, ""});
        }
        const bool said_before = written(number) != degrees_.end();
        if (there != 0 && !said_before) return false;
        // 13sus4 leaves its ninth unsaid, so another cannot be added to it.
        if (there == 0 && !said_before && meets(own_, degrees_numbered(number))) return false;
        // "add 7, add 13" is 13sus4, ninth and all; without the ninth the 13 is said as a 6.
        const bool bare_thirteenth = number == 13 && alteration.alter == 0 && is_suspension(kind_.xml_kind) &&
                                     !meets(own_, kNinths) && written(9) == degrees_.end();
        const std::string_view text = alteration.alter == 0 ? "add" : "";
        return write(
            {bare_thirteenth ? 6 : number, in_file(number, alteration.alter), XmlDegreeType::Add, text});
    }

    const ChordKind& kind_;
    DegreeSet ground_;  // what the file's kind holds
    DegreeSet own_;     // what our kind holds
    std::vector<XmlDegree> degrees_;
};

std::optional<std::vector<XmlDegree>> degrees_on(const ChordKind& kind,
                                                 const std::vector<Alteration>& alterations) {
    DegreeWriter writer{kind};
    for (const Alteration& alteration : alterations) {
        if (!writer.say(alteration)) return std::nullopt;
    }
    return std::move(writer).finished();
}

// The second of two plain numbers is set off by a comma, or one engraver runs 7 and 13 together.
void set_commas(std::vector<XmlDegree>& degrees) {
    bool plain_before = false;
    for (XmlDegree& degree : degrees) {
        const bool plain = degree.type == XmlDegreeType::Add && degree.alter == 0;
        if (plain && plain_before) degree.text = ",";
        plain_before = plain_before || plain;
    }
}

// Numbers that an editor takes into the name (C7sus4, C69), so that nothing is left to stand in brackets.
bool is_taken_into_name(const XmlDegree& degree, std::string_view xml_kind) {
    if (degree.type != XmlDegreeType::Add || degree.alter != 0) return false;
    const bool tension = degree.value == 9 || degree.value == 11 || degree.value == 13;
    if (is_suspension(xml_kind)) return tension || degree.value == 7;
    if (xml_kind == "major-minor" || xml_kind == "augmented-seventh") return tension;
    return xml_kind.ends_with("sixth") && degree.value == 9;
}

XmlChord xml_chord_on(const ChordKind& kind, std::vector<XmlDegree> degrees, bool altered) {
    XmlChord out{std::string{kind.xml_kind}, std::string{kind.xml_text}, std::move(degrees)};
    // "m(maj9)" with an alteration is neither the kind nor the chord.
    if (altered && kind.xml_kind == "major-minor") out.text = "m(maj7)";
    set_commas(out.degrees);
    out.parentheses = std::ranges::any_of(
        out.degrees, [&](const XmlDegree& degree) { return !is_taken_into_name(degree, kind.xml_kind); });
    return out;
}

// The least laborious row on which all degrees are usual ones.
std::optional<XmlChord> on_any_kind(DegreeSet chord) {
    std::optional<XmlChord> out;
    int least = INT_MAX;
    for (const ChordKind& kind : chord_kinds()) {
        const int needed = effort(kind, chord).value_or(INT_MAX);
        if (needed >= least) continue;
        auto degrees = degrees_on(kind, *described_as(kind, chord));
        if (!degrees) continue;
        least = needed;
        out = xml_chord_on(kind, std::move(*degrees), needed > 0);
    }
    return out;
}

XmlChord as_text(const ChordSymbol& symbol) {
    ChordSymbol upper = symbol;
    upper.bass.reset();
    return {"other", to_string(upper).substr(to_string(upper.root).size()), {}};
}

}  // namespace

XmlChord xml_chord(const ChordSymbol& symbol) {
    DegreeSet chord = degrees_of(symbol);
    if (holds(chord, kAltered)) return as_text(symbol);
    if (auto degrees = degrees_on(*symbol.kind, symbol.alterations)) {
        return xml_chord_on(*symbol.kind, std::move(*degrees), !symbol.alterations.empty());
    }
    // A diminished seventh with a major one beside it: the file has room for one, the other is its sixth.
    if (holds(chord, kDiminishedSeventh | kSeventh)) chord = (chord & ~kDiminishedSeventh) | kSixth;
    if (auto found = on_any_kind(chord)) return std::move(*found);
    return as_text(symbol);
}

}  // namespace shedbook
