#include "musicxml_elements.h"

#include <array>
#include <charconv>
#include <cstdlib>

#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/theory/chord_xml.h"

namespace shedbook {
namespace {

constexpr std::array<std::string_view, 7> kTypes{"whole", "half", "quarter", "eighth",
                                                 "16th",  "32nd", "64th"};
constexpr std::string_view kAccidentals[] = {"", "flat-flat", "flat", "natural", "sharp", "double-sharp"};
static_assert(has_a_row_each<Accidental>(kAccidentals));
constexpr std::string_view kBeams[] = {"", "begin", "continue", "end", "forward hook", "backward hook"};
static_assert(has_a_row_each<Beam>(kBeams));

std::string_view type_of(NoteValue value) {
    return kTypes[static_cast<std::size_t>(value.log2)];
}

void append_pitch(std::string& out, Pitch pitch) {
    out += "<pitch><step>";
    out += letter(pitch.step());
    out += "</step>";
    if (const int alter = pitch.alter(); alter != 0) {
        out += "<alter>";
        append_number(out, alter);
        out += "</alter>";
    }
    out += "<octave>";
    append_number(out, pitch.octave());
    out += "</octave></pitch>";
}

void append_note_name(std::string& out, std::string_view element, PitchClass note) {
    out += "<";
    out += element;
    out += "><";
    out += element;
    out += "-step>";
    out += letter(note.step());
    out += "</";
    out += element;
    out += "-step>";
    if (note.alter() != 0) {
        out += "<";
        out += element;
        out += "-alter>";
        append_number(out, note.alter());
        out += "</";
        out += element;
        out += "-alter>";
    }
    out += "</";
    out += element;
    out += ">";
}

// Indexed by Articulation.
constexpr std::string_view kArticulations[] = {"", "<staccato/>", "<tenuto/>", "<accent/>"};
static_assert(has_a_row_each<Articulation>(kArticulations));

// A fret stands below as the row of words that every reader shows: with both string and fret, some readers
// take the staff for a tablature and let each string ring on.
void append_fret(std::string& out, const NoteFingering& fingering) {
    out += "<lyric number=\"1\" placement=\"below\"><syllabic>single</syllabic>";
    append_element(out, "text", fingering.text);
    out += "</lyric>";
}

bool has_technical(const NoteFingering* fingering) {
    return fingering != nullptr && (!fingering->is_fret || !fingering->string_name.empty());
}

void append_technical(std::string& out, const NoteFingering& fingering) {
    out += "<technical>";
    if (!fingering.is_fret) {
        out += "<fingering placement=\"below\">";
        append_escaped(out, fingering.text);
        out += "</fingering>";
    }
    if (!fingering.string_name.empty()) append_element(out, "string", std::to_string(fingering.string));
    out += "</technical>";
}

bool has_notations(const Event& event, const Sounded* note, const NoteFingering* fingering,
                   std::string_view of_signs) {
    if (has_technical(fingering) || !of_signs.empty()) return true;
    if (event.tuplet.starts || event.tuplet.stops) return true;
    return note != nullptr &&
           (note->tied_from_before || note->tied_on || note->slur_starts || note->slur_stops ||
            note->breath_after || note->articulation != Articulation::None);
}

void append_note_notations(std::string& out, const Sounded& note) {
    if (note.tied_from_before) out += "<tied type=\"stop\"/>";
    if (note.tied_on) out += "<tied type=\"start\"/>";
    if (note.slur_stops) out += "<slur type=\"stop\" number=\"1\"/>";
    if (note.slur_starts) out += "<slur type=\"start\" number=\"1\"/>";
    if (note.articulation == Articulation::None && !note.breath_after) return;
    out += "<articulations>";
    out += kArticulations[row_index(note.articulation)];
    if (note.breath_after) out += "<breath-mark/>";
    out += "</articulations>";
}

void append_notations(std::string& out, const Event& event, const Sounded* note,
                      const NoteFingering* fingering, std::string_view of_signs) {
    if (!has_notations(event, note, fingering, of_signs)) return;
    out += "<notations>";
    if (note != nullptr) append_note_notations(out, *note);
    if (has_technical(fingering)) append_technical(out, *fingering);
    if (event.tuplet.starts) {
        out += event.tuplet.bracket ? "<tuplet type=\"start\" bracket=\"yes\"/>"
                                    : "<tuplet type=\"start\" bracket=\"no\"/>";
    }
    if (event.tuplet.stops) out += "<tuplet type=\"stop\"/>";
    out += of_signs;
    out += "</notations>";
}

// From the length of a note or rest to how it is drawn.
void append_value(std::string& out, const Event& event, int staff, bool is_whole_bar, Accidental shown) {
    const auto* note = std::get_if<Sounded>(&event.what);
    out += "<duration>";
    append_number(out, event.length);
    out += "</duration>";
    if (note != nullptr && note->tied_from_before) out += "<tie type=\"stop\"/>";
    if (note != nullptr && note->tied_on) out += "<tie type=\"start\"/>";
    out += staff > 1 ? "<voice>2</voice>" : "<voice>1</voice>";
    if (!is_whole_bar) {
        out += "<type>";
        out += type_of(event.value);
        out += "</type>";
        for (int dot = 0; dot < event.value.dots; ++dot) out += "<dot/>";
    }
    if (shown != Accidental::None) {
        out += "<accidental>";
        out += kAccidentals[row_index(shown)];
        out += "</accidental>";
    }
    if (event.tuplet.actual != event.tuplet.normal) {
        out += "<time-modification><actual-notes>";
        append_number(out, event.tuplet.actual);
        out += "</actual-notes><normal-notes>";
        append_number(out, event.tuplet.normal);
        out += "</normal-notes></time-modification>";
    }
}

void append_staff(std::string& out, int staff) {
    if (staff > 0) out += staff > 1 ? "<staff>2</staff>" : "<staff>1</staff>";
}

// A further note of a chord: what belongs to all of it stands at its first note.
void append_chord_note(std::string& out, const ChordNote& other, const Event& event, int staff) {
    out += "      <note><chord/>";
    append_pitch(out, other.pitch.on_paper());
    append_value(out, event, staff, false, other.shown);
    append_staff(out, staff);
    const auto& note = std::get<Sounded>(event.what);
    if (note.tied_from_before || note.tied_on) {
        out += "<notations>";
        if (note.tied_from_before) out += "<tied type=\"stop\"/>";
        if (note.tied_on) out += "<tied type=\"start\"/>";
        out += "</notations>";
    }
    out += "</note>\n";
}

void append_offset(std::string& out, Ticks offset) {
    if (offset == 0) return;
    out += "<offset>";
    append_number(out, offset);
    out += "</offset>";
}

void append_words_type(std::string& out, std::string_view text, std::string_view weight, int size,
                       bool more) {
    out += "<direction-type><words font-weight=\"";
    out += weight;
    out += "\" font-style=\"normal\" font-size=\"";
    append_number(out, size);
    out += more ? "\" xml:space=\"preserve\">" : "\">";
    append_escaped(out, text);
    out += "</words></direction-type>";
}

}  // namespace

void append_element(std::string& out, std::string_view name, std::string_view text) {
    out += "<";
    out += name;
    out += ">";
    append_escaped(out, text);
    out += "</";
    out += name;
    out += ">";
}

std::string in_words(NoteValue value) {
    return (value.dots > 0 ? "dotted " : "") + std::string{type_of(value)};
}

void append_escaped(std::string& out, std::string_view text) {
    for (std::size_t i = 0; i < text.size(); ++i) {
        // U+FFFE and U+FFFF are no characters of XML (XML 1.0, production 2 Char).
        const std::string_view three = text.substr(i, 3);
        if (three == "\xEF\xBF\xBE" || three == "\xEF\xBF\xBF") {
            i += 2;
            continue;
        }
        const char c = text[i];
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\t':
            case '\n':
            case '\r':
                out += ' ';
                break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20U) out += c;
        }
    }
}

void append_number(std::string& out, int number) {
    std::array<char, 12> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), number).ptr;
    out.append(digits.data(), end);
}

void append_part_start(std::string& out, int number) {
    out += "  <part id=\"P";
    append_number(out, number);
    out += "\">\n";
}

void append_backup(std::string& out, Ticks by) {
    out += "      <backup><duration>";
    append_number(out, by);
    out += "</duration></backup>\n";
}

void append_event(std::string& out, const WrittenMusic& music, const Event& event, int staff,
                  const NoteFingering* fingering, std::string_view of_signs) {
    const auto* note = std::get_if<Sounded>(&event.what);
    const auto* rest = std::get_if<Rest>(&event.what);
    out += rest != nullptr && rest->hidden ? "      <note print-object=\"no\">" : "      <note>";
    if (note != nullptr) {
        append_pitch(out, note->pitch.on_paper());
    } else if (rest != nullptr) {
        out += rest->whole_bar ? "<rest measure=\"yes\"/>" : "<rest/>";
    } else {
        append_pitch(out, std::get<Slash>(event.what).on.on_paper());
    }
    append_value(out, event, staff, rest != nullptr && rest->whole_bar,
                 note != nullptr ? note->shown : Accidental::None);
    if (const auto* slash = std::get_if<Slash>(&event.what))
        out += slash->has_stem ? "<notehead>slash</notehead>" : "<stem>none</stem><notehead>slash</notehead>";
    append_staff(out, staff);
    for (int level = 0; level < kBeamLevels; ++level) {
        const Beam beam = event.beams[static_cast<std::size_t>(level)];
        if (beam == Beam::None) break;
        out += "<beam number=\"";
        append_number(out, level + 1);
        out += "\">";
        out += kBeams[row_index(beam)];
        out += "</beam>";
    }
    append_notations(out, event, note, fingering, of_signs);
    if (fingering != nullptr && fingering->is_fret) append_fret(out, *fingering);
    out += "</note>\n";
    if (note == nullptr) return;
    for (const ChordNote& other : music.notes_below(*note)) append_chord_note(out, other, event, staff);
}

void append_chord(std::string& out, const ChordMark& mark, Ticks offset) {
    if (!mark.symbol) {
        // No kind of harmony says "no chord" in every reader; words do.
        out += "      <direction placement=\"above\">";
        append_words_type(out, "N.C.", "normal", 12, false);
        append_offset(out, offset);
        out += "</direction>\n";
        return;
    }
    const XmlChord chord = xml_chord(*mark.symbol);
    out += "      <harmony print-frame=\"no\" placement=\"above\">";
    append_note_name(out, "root", mark.symbol->root);
    out += "<kind text=\"";
    append_escaped(out, chord.text);
    out += chord.parentheses ? "\" parentheses-degrees=\"yes\">" : "\">";
    out += chord.kind;
    out += "</kind>";
    if (mark.symbol->bass) append_note_name(out, "bass", *mark.symbol->bass);
    for (const XmlDegree& degree : chord.degrees) {
        out += "<degree><degree-value>";
        append_number(out, degree.value);
        out += "</degree-value><degree-alter>";
        append_number(out, degree.alter);
        out += "</degree-alter><degree-type text=\"";
        out += degree.text;
        out += "\">";
        out += to_word(degree.type);
        out += "</degree-type></degree>";
    }
    append_offset(out, offset);
    out += "</harmony>\n";
}

void append_words_below(std::string& out, std::string_view text) {
    out += "      <direction placement=\"below\">";
    append_words_type(out, text, "normal", 8, false);
    out += "</direction>\n";
}

void append_octave_line_start(std::string& out, int side) {
    out += "      <direction placement=\"";
    out += side > 0 ? "above\"><direction-type><octave-shift type=\"down"
                    : "below\"><direction-type><octave-shift type=\"up";
    out += "\" size=\"8\"/></direction-type></direction>\n";
}

void append_octave_line_stop(std::string& out, int side) {
    out += "      <direction placement=\"";
    out += side > 0 ? "above" : "below";
    out += "\"><direction-type><octave-shift type=\"stop\" size=\"8\"/></direction-type></direction>\n";
}

void append_words(std::string& out, std::string_view text, std::string_view weight, int size) {
    out += "      <direction placement=\"above\">";
    append_words_type(out, text, weight, size, false);
    out += "</direction>\n";
}

void append_heading(std::string& out, const WrittenMusic& music, const PieceWords& words) {
    if (!words.number.empty()) {
        out += "      <direction placement=\"above\"><direction-type><rehearsal font-weight=\"bold\">";
        append_escaped(out, words.number);
        out += "</rehearsal></direction-type></direction>\n";
    }
    const std::string feel = before_tempo(music);
    const std::string title = words.remark.empty() ? words.title : words.title + " (" + words.remark + ")";
    const bool has_more = !feel.empty() || music.tempo.has_value();
    if (title.empty() && !has_more) return;
    // Beside feel and tempo where there is room; else a line of its own, which stands over theirs.
    constexpr std::size_t kRoomOfTitle = 70;
    const bool is_beside = !has_more || count_characters(title) + count_characters(feel) <= kRoomOfTitle;
    out += "      <direction placement=\"above\">";
    if (!title.empty() && is_beside)
        append_words_type(out, has_more ? title + "   " : title, "bold", 12, has_more);
    if (!feel.empty())
        append_words_type(out, music.tempo ? feel + " " : feel, "normal", 11, music.tempo.has_value());
    if (music.tempo) {
        const TempoMark& tempo = *music.tempo;
        out += "<direction-type><metronome><beat-unit>";
        out += type_of(tempo.beat);
        out += "</beat-unit>";
        for (int dot = 0; dot < tempo.beat.dots; ++dot) out += "<beat-unit-dot/>";
        out += "<per-minute>";
        append_number(out, tempo.per_minute);
        out += "</per-minute></metronome></direction-type><sound tempo=\"";
        // In quarters a minute; halves of a quarter come out as .5
        const int eighths = tempo.per_minute * (8 >> tempo.beat.log2) * (tempo.beat.dots > 0 ? 3 : 2) / 2;
        append_number(out, eighths / 2);
        if (eighths % 2 != 0) out += ".5";
        out += "\"/>";
    }
    out += "</direction>\n";
    if (!is_beside) append_words(out, title, "bold", 12);
}

}  // namespace shedbook
