// Reads the measures of one part, one after the other, with what is in force from one to the next.
#pragma once

#include <optional>
#include <pugixml.hpp>
#include <string>
#include <utility>
#include <vector>

#include "../score_bar.h"
#include "../score_messages.h"
#include "score_cursor.h"
#include "score_parts.h"

namespace shedbook {

// What the part says once, or first.
struct ScoreHeader {
    std::optional<Key> key;
    std::optional<Meter> meter;
    std::optional<int> tempo;
    std::string feel;
    Interval to_concert;  // of the first transposition, octaves included
};

class MeasureReader {
  public:
    explicit MeasureReader(ScoreMessages& messages) : messages_{messages}, cursor_{messages} {}

    [[nodiscard]] ScoreBar read(const ScoreMeasure& measure, int index);
    [[nodiscard]] const ScoreHeader& header() const { return header_; }

  private:
    void take(pugi::xml_node element);
    void take_attributes(pugi::xml_node attributes);
    void take_key(pugi::xml_node key);
    void take_time(pugi::xml_node time);
    void take_transpose(pugi::xml_node transpose);
    void take_measure_style(pugi::xml_node style);
    void take_note(pugi::xml_node note);
    void take_melody(pugi::xml_node note, const ScoreCursor::Note& timed);
    void take_harmony(pugi::xml_node harmony);
    void take_direction(pugi::xml_node direction);
    void take_words(const std::string& words, Position at);
    void take_tempo(pugi::xml_node metronome, pugi::xml_node sound);
    void add_no_chord(Position at);
    void add_chord(PlacedChord chord);
    [[nodiscard]] std::optional<PitchClass> concert(pugi::xml_node parent, const char* step,
                                                    const char* alter) const;

    ScoreMessages& messages_;
    ScoreHeader header_;
    ScoreCursor cursor_;
    std::optional<Meter> meter_;
    std::optional<Key> key_;  // as it sounds
    std::optional<Key> written_key_;
    bool has_begun_ = false;    // something sounded: later keys and meters are changes
    Interval transpose_;        // as the part says it
    Interval to_concert_;       // the same, respelled where the key asks for it; octaves included, for notes
    std::string melody_voice_;  // of the first note
    int measure_repeat_ = 0;
    std::vector<std::pair<const FormSignRow*, Position>>
        after_notes_;  // signs of this bar, and where they stand
    ScoreBar* bar_ = nullptr;
};

}  // namespace shedbook
