// The harmony elements of a score, and what is said where they are not plain.
#include <cstdlib>
#include <string>
#include <utility>

#include "../numbers.h"
#include "score_measures.h"
#include "score_values.h"
#include "shedbook/base/text.h"
#include "shedbook/theory/chord_xml.h"

namespace shedbook {
namespace {

// A thirteenth is the highest that chords are built to; two accidentals are the most that a note has.
constexpr int kHighestDegree = 13;
constexpr int kMostAlter = 2;

// Those that a chord can have; the others are counted.
std::vector<XmlDegree> degrees_of(pugi::xml_node harmony, int& left_out) {
    std::vector<XmlDegree> out;
    for (const pugi::xml_node degree : harmony.children("degree")) {
        const auto value = parse_decimal(degree.child("degree-value").text().get());
        const auto alter = parse_decimal(degree.child("degree-alter").text().get());
        const auto type = from_word<XmlDegreeType>(trimmed(degree.child("degree-type").text().get()));
        const bool is_degree =
            value && value->is_whole() && value->num() >= 1 && value->num() <= kHighestDegree;
        if (!is_degree || (alter && std::abs(alter->num()) > kMostAlter * alter->den())) {
            ++left_out;
            continue;
        }
        XmlDegree row;
        row.value = static_cast<int>(value->num());
        row.alter = alter && alter->is_whole() ? static_cast<int>(alter->num()) : 0;
        row.type = type.value_or(XmlDegreeType::Add);
        out.push_back(row);
    }
    return out;
}

// The symbol as the file shows it, for messages.
std::string shown(const std::optional<PitchClass>& root, const XmlHarmony& harmony) {
    std::string out = root ? to_string(*root) : "";
    const std::string_view kind = harmony.text.empty() ? harmony.kind : harmony.text;
    if (kind != "major")
        out += (harmony.text.empty() && !out.empty() && !kind.empty() ? " " : "") + std::string{kind};
    for (const XmlDegree& degree : harmony.degrees) {
        out += " " + std::string{to_word(degree.type)} + " " + std::to_string(degree.value);
        if (degree.alter != 0) out += (degree.alter > 0 ? "+" : "") + std::to_string(degree.alter);
    }
    return out;
}

// An inversion without a bass of its own names the chord tone that lies lowest.
std::optional<PitchClass> bass_of_inversion(pugi::xml_node harmony, const ChordSymbol& symbol) {
    const int inversion = harmony.child("inversion").text().as_int(0);
    const std::vector<PitchClass> notes = chord_notes(symbol);
    if (inversion < 1 || inversion >= static_cast<int>(notes.size())) return std::nullopt;
    return notes[static_cast<std::size_t>(inversion)];
}

}  // namespace

std::optional<PitchClass> MeasureReader::concert(pugi::xml_node parent, const char* step,
                                                 const char* alter) const {
    const auto written = note_name(parent.child(step).text().get(), parent.child(alter).text().get());
    return written ? std::optional{readable(*written + to_concert_)} : std::nullopt;
}

void MeasureReader::take_harmony(pugi::xml_node harmony) {
    const Position at = cursor_.place_of(harmony);
    const pugi::xml_node kind = harmony.child("kind");
    const std::string_view kind_value = trimmed(kind.text().get());
    if (kind_value == "none") return add_no_chord(at);
    const auto root = concert(harmony.child("root"), "root-step", "root-alter");
    XmlHarmony said;
    said.kind = kind_value;
    said.text = trimmed(kind.attribute("text").value());
    int left_out = 0;
    said.degrees = degrees_of(harmony, left_out);
    PlacedChord chord;
    chord.at = at;
    chord.text = shown(root, said);
    const int bar = bar_->measure;
    if (left_out > 0) {
        messages_.warning(
            bar, chord.text,
            left_out == 1 ? "a degree that no chord has"
                          : std::to_string(left_out) + " degrees that no chord has",
            "degrees go from 1 to " + std::to_string(kHighestDegree) + "; the others are left out");
    }
    if (!root) {
        const bool numeral = harmony.child("function") || harmony.child("numeral");
        messages_.warning(
            bar, chord.text,
            numeral ? "a numeral without a root is not read" : "this chord symbol has no root that is read",
            "no chord is put in its place");
        add_chord(std::move(chord));
        return;
    }
    said.root = *root;
    if (const pugi::xml_node bass = harmony.child("bass"))
        said.bass = concert(bass, "bass-step", "bass-alter");
    XmlReading reading = read_xml_chord(said);
    if (reading.symbol && !reading.symbol->bass && !harmony.child("bass")) {
        reading.symbol->bass = bass_of_inversion(harmony, *reading.symbol);
    }
    switch (reading.note) {
        case XmlChordNote::Plain:
            break;
        case XmlChordNote::NoChord:
            return add_no_chord(at);
        case XmlChordNote::TextDisagrees:
            messages_.warning(bar, chord.text,
                              "kind and text disagree: the kind says " + to_string(*reading.symbol) +
                                  ", the text " + to_string(*reading.by_text),
                              "the kind is taken");
            break;
        case XmlChordNote::KindNotStandard:
            messages_.warning(bar, chord.text,
                              "the kind '" + std::string{kind_value} + "' is not of the standard",
                              "read as " + to_string(*reading.symbol));
            break;
        case XmlChordNote::ReadFromText:
            messages_.warning(bar, chord.text, "the kind does not say the chord",
                              "read from the text: " + to_string(*reading.symbol));
            break;
        case XmlChordNote::Unreadable:
            messages_.warning(bar, chord.text, "neither kind nor text says which chord this is",
                              "no chord is put in its place");
            break;
    }
    if (harmony.child("root").next_sibling("root")) {
        messages_.warning(bar, chord.text, "a chord over a chord; the first of the two is read", {});
    }
    chord.symbol = reading.symbol;
    add_chord(std::move(chord));
}

}  // namespace shedbook
