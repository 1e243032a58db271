// The small elements of MusicXML: notes, chord symbols, the file's head. Each function appends to `out`.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "shedbook/notation/document.h"

namespace shedbook {

// & < > " escaped; control characters, which XML forbids, dropped.
void append_escaped(std::string& out, std::string_view text);
// "<name>text</name>"
void append_element(std::string& out, std::string_view name, std::string_view text);
void append_number(std::string& out, int number);
// A text cut at blanks into lines of so many characters at most.
[[nodiscard]] std::vector<std::string> wrapped(const std::string& text, std::size_t most);

// Everything before the first part; the parts are called P1, P2 and so on. `caution`: at the foot of the
// first page; may be empty. `staff_height`: in tenths of a millimetre.
void append_file_head(std::string& out, const DocumentHead& head, const std::string& caution,
                      int staff_height);
void append_part_start(std::string& out, int number);
inline constexpr std::string_view kFileEnd = "</score-partwise>\n";
// `staff`: 0 where the part has only one. `fingering`: null where there is none. `of_signs`: elements that
// stand among its notations (sign_notations).
void append_event(std::string& out, const WrittenMusic& music, const Event& event, int staff,
                  const NoteFingering* fingering = nullptr, std::string_view of_signs = {});
// "dotted quarter"
[[nodiscard]] std::string in_words(NoteValue value);
void append_backup(std::string& out, Ticks by);
// A chord symbol, or the words "N.C."
// `offset`: how far behind the start of the note that follows; 0 but for places where no note can begin.
void append_chord(std::string& out, const ChordMark& mark, Ticks offset);
// A direction of plain words over the staff.
void append_words(std::string& out, std::string_view text, std::string_view weight, int size);
// Small words under the staff.
void append_words_below(std::string& out, std::string_view text);
// Signs beside a bar, each a direction.
void append_section_label(std::string& out, std::string_view label);
void append_form_sign(std::string& out, const FormSignRow& row);
// Those of a bar that hang on its last note: a fermata, a caesura.
[[nodiscard]] std::string sign_notations(const std::vector<Sign>& signs);
// The ends of an octave line over (1) or under (-1) the staff.
void append_octave_line_start(std::string& out, int side);
void append_octave_line_stop(std::string& out, int side);
// What stands over a piece, each of it possibly empty.
struct PieceWords {
    std::string number;
    std::string title;
    std::string remark;
};
// The heading of a piece: its number in a box, then title, feel and tempo in one row.
void append_heading(std::string& out, const WrittenMusic& music, const PieceWords& words);

}  // namespace shedbook
