// One part of a MusicXML file: its measures, with what waits to be said over the next piece.
#pragma once

#include <array>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "musicxml_elements.h"
#include "shedbook/notation/document.h"

namespace shedbook {

class MusicXmlPart {
  public:
    // `out`: where text goes as it comes; null: it is kept (see `text`).
    MusicXmlPart(std::ostream* out, int number);

    // Words over the next piece, below what was said before.
    void say(const std::string& words);
    // A row of boxes below those words, with what their tempos count.
    void say_boxes(std::string row) { pending_boxes_ = std::move(row); }
    // The next piece begins on a page of its own.
    void begin_page() { pending_page_ = has_music_; }
    void write(const WrittenMusic& music, const PieceWords& words);
    // A part without music is a mistake of the caller's (assert): MusicXML cannot be without a bar.
    void finish();
    [[nodiscard]] const std::string& text() const { return text_; }

  private:
    // `words`: null in bars that are not the first.
    void write_measure(const WrittenMusic& music, const Measure& measure, const PieceWords* words);
    void print_element(const WrittenMusic& music, const Measure& measure, bool is_first);
    void attributes(const WrittenMusic& music, const Measure& measure, bool is_first);
    struct ClefOfStaff {
        Clef clef;
        int staff;  // 1 or 2; 0: there is only one
    };
    std::vector<ClefOfStaff> take_new_clefs(const WrittenMusic& music, const Measure& measure);
    void clef(const Clef& clef, int staff);
    void lower_staff(const WrittenMusic& music, std::size_t index);
    void left_barline(const Measure& measure);
    void heading(const WrittenMusic& music, const PieceWords& words);
    void signs(const std::vector<Sign>& signs);
    void contents(const WrittenMusic& music, const Measure& measure);
    // Null where nothing stands under the note.
    [[nodiscard]] static const NoteFingering* fingering_of(const WrittenMusic& music, const Event& event);
    void right_barline(const Measure& measure, bool file_ends);
    void close_last_measure(bool file_ends);
    void flush_if_large();
    void flush();

    std::ostream* out_;
    std::string text_;                        // not yet written
    std::vector<std::string> pending_lines_;  // words that wait for the next music, top line first
    std::string pending_boxes_;
    bool pending_page_ = false;
    int next_number_ = 1;
    // What was last said in `attributes`.
    std::array<std::optional<Clef>, 2> clefs_;  // of the upper staff and the lower one
    std::optional<int> key_;
    std::optional<Meter> meter_;
    bool meter_hidden_ = false;
    Ticks divisions_ = 0;
    bool has_music_ = false;
    std::size_t next_text_ = 0;  // of the piece at hand
    // The last bar of a piece stays open until it is known whether the file ends with it.
    std::optional<Measure> open_measure_;
};

}  // namespace shedbook
