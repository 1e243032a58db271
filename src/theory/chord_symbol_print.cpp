#include "chord_degrees.h"

namespace shedbook {
namespace {

std::string_view sign_for(int alter, SymbolStyle::Accidentals how) {
    const bool letters = how == SymbolStyle::Accidentals::Letters;
    switch (alter) {
        case -2:
            return letters ? "bb" : "\U0001D12B";
        case -1:
            return letters ? "b" : "\u266D";
        case 1:
            return letters ? "#" : "\u266F";
        case 2:
            return letters ? "##" : "\U0001D12A";
        default:
            return "";
    }
}

std::string note_name(PitchClass note, const SymbolStyle& style) {
    std::string out = to_string(note).substr(0, 1);
    int alter = note.alter();
    // A chord moved by an interval may have more than two accidentals.
    for (; alter > 2; --alter) out += sign_for(1, style.accidentals);
    for (; alter < -2; ++alter) out += sign_for(-1, style.accidentals);
    return out + std::string{sign_for(alter, style.accidentals)};
}

std::string_view major_word(const SymbolStyle& style) {
    switch (style.major) {
        case SymbolStyle::Major::M:
            return "M";
        case SymbolStyle::Major::Triangle:
            return "\u25B3";
        case SymbolStyle::Major::Maj:
            break;
    }
    return "maj";
}

// The suffix of the table, word by word, in the reader's habit.
std::string styled(std::string_view suffix, const SymbolStyle& style) {
    std::string out;
    while (!suffix.empty()) {
        std::size_t taken = 1;
        if (suffix.starts_with("dim")) {
            taken = 3;
            out += suffix.substr(0, taken);
        } else if (suffix.starts_with("maj")) {
            taken = 3;
            out += major_word(style);
        } else if (suffix.front() == 'm') {
            out += style.minor == SymbolStyle::Minor::Dash ? '-' : 'm';
        } else if (suffix.front() == 'b') {
            out += sign_for(-1, style.accidentals);
        } else {
            out += suffix.front();
        }
        suffix.remove_prefix(taken);
    }
    return out;
}

// Whether an added tone must be called added, so that "9" is not taken for the number of the chord, or a flat
// ninth for one in place of the natural.
bool needs_add(const Alteration& tone, DegreeSet chord) {
    if (tone.alter == 0 || holds(chord, degree_set(tone.degree))) return true;
    const bool triad = !meets(chord, kSevenths | degrees_numbered(6));
    return triad && (tone.degree == 9 || tone.degree == 11);
}

std::string printed(const Alteration& alteration, DegreeSet chord, const SymbolStyle& style) {
    const std::string number = std::to_string(alteration.degree);
    if (alteration.kind == AlterationKind::Omit) return "no" + number;
    if (alteration.kind == AlterationKind::Add && alteration.degree == 7)
        return std::string{major_word(style)} + "7";
    const bool add = alteration.kind == AlterationKind::Add && needs_add(alteration, chord);
    return (add ? "add" : "") + std::string{sign_for(alteration.alter, style.accidentals)} + number;
}

}  // namespace

std::string to_string(const ChordSymbol& symbol, const SymbolStyle& style) {
    std::string out = note_name(symbol.root, style) + styled(symbol.kind->suffix, style);
    const DegreeSet chord = degrees_of(symbol);
    // What is left out comes last.
    std::string list;
    for (const bool omitted : {false, true}) {
        for (const Alteration& alteration : symbol.alterations) {
            if ((alteration.kind == AlterationKind::Omit) != omitted) continue;
            list += (list.empty() ? "" : ",") + printed(alteration, chord, style);
        }
    }
    if (!list.empty()) out += "(" + list + ")";
    if (symbol.bass) out += "/" + note_name(*symbol.bass, style);
    return out;
}

}  // namespace shedbook
