// Blocks to MusicXML text, as they come: nothing but the block at hand is in memory. Only elements and
// attributes that versions 3.1 and 4.0 share, so that editors of the last ten years read it.
//
//     MusicXmlWriter writer{stream};
//     writer.begin(head); writer.take(music); writer.finish();
//
// Headings, chord heads, texts and tick boxes stand as words over the music that follows them; a rhythm part
// is a file of its own and is passed over.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/notation/document.h"

namespace shedbook {

class MusicXmlWriter : public BlockSink {
  public:
    explicit MusicXmlWriter(std::ostream& out);
    // Only the part of that number, to stand in a score with others (write/score.h).
    MusicXmlWriter(std::ostream& out, int part_number);
    void begin(const DocumentHead& head) override;
    void take(const Block& block) override;
    // A document without music is a mistake of the caller's (assert): MusicXML cannot be without a bar.
    void finish() override;

  private:
    void write(const WrittenMusic& music);
    void write_measure(const WrittenMusic& music, const Measure& measure, bool is_first);
    void print_element(const WrittenMusic& music, const Measure& measure, bool is_first);
    void attributes(const WrittenMusic& music, const Measure& measure, bool is_first);
    void clef(const Clef& clef, int staff);
    void lower_staff(const WrittenMusic& music, std::size_t index);
    void left_barline(const Measure& measure);
    void heading(const WrittenMusic& music);
    void signs(const std::vector<Sign>& signs);
    void contents(const WrittenMusic& music, const Measure& measure);
    // Null where nothing stands under the note.
    [[nodiscard]] static const NoteFingering* fingering_of(const WrittenMusic& music, const Event& event);
    void right_barline(const Measure& measure, bool file_ends);
    void close_last_measure(bool file_ends);
    void flush_if_large();

    std::ostream& out_;
    int part_number_ = 0;  // 0: a whole file
    std::string text_;     // not yet written
    DocumentHead head_;
    std::vector<std::string> pending_lines_;  // words that wait for the next music, top line first
    std::string pending_boxes_;
    bool pending_page_ = false;
    int next_number_ = 1;
    // What was last said in `attributes`.
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
