// Where a reader of MusicXML stands in a measure: what durations, backup and forward make of it (MusicXML
// 4.0, elements divisions, duration, backup and forward).
#pragma once

#include <pugixml.hpp>
#include <string_view>

#include "../score_messages.h"
#include "shedbook/base/time.h"

namespace shedbook {

class ScoreCursor {
  public:
    explicit ScoreCursor(ScoreMessages& messages) : messages_{messages} {}

    // `bar` counts measures from 0.
    void begin_measure(int bar);
    // Divisions of a quarter, where an attributes element sets them; those that cannot be are told, and the
    // ones before hold.
    void take_divisions(pugi::xml_node attributes);
    // Moves by a backup or forward element; false for any other.
    bool take_move(pugi::xml_node element);

    struct Note {
        Position at;
        Duration length;
        bool joins_chord = false;  // sounds with the note before it
    };
    // A note element: where it begins; moves behind it. A grace note has no length, and what has a length
    // that is none is told.
    Note take_note(pugi::xml_node note);

    // The place here, moved by the element's offset.
    [[nodiscard]] Position place_of(pugi::xml_node element) const;
    // What notes, rests and forward elements of the measure have filled.
    [[nodiscard]] Duration filled() const { return furthest_ - Position{}; }

  private:
    [[nodiscard]] Duration duration_of(pugi::xml_node element);
    void advance(Duration by);

    ScoreMessages& messages_;
    int bar_ = 0;
    bool has_told_of_length_ = false;  // of this measure
    Rational divisions_{1};
    Position at_;
    Position note_begins_;  // of the last note: where a chord note joins it
    Position furthest_;
};

}  // namespace shedbook
