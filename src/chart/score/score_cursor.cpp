#include "score_cursor.h"

#include <algorithm>
#include <string_view>

#include "score_values.h"

namespace shedbook {

void ScoreCursor::take_divisions(pugi::xml_node attributes) {
    divisions_ = divisions_of(attributes).value_or(divisions_);
}

Duration ScoreCursor::duration_of(pugi::xml_node element) const {
    const auto count = parse_decimal(element.child("duration").text().get());
    if (!count || *count < Rational{}) return {};
    return Duration{*count / divisions_ * Rational{1, 4}};
}

bool ScoreCursor::take_move(pugi::xml_node element) {
    const std::string_view name = element.name();
    if (name == "backup") {
        at_ = std::max(Position{}, at_ - duration_of(element));
    } else if (name == "forward") {
        advance(duration_of(element));
    } else {
        return false;
    }
    return true;
}

ScoreCursor::Note ScoreCursor::take_note(pugi::xml_node note) {
    if (note.child("grace")) return {at_, {}, false};
    const Duration length = duration_of(note);
    const bool joins_chord = !note.child("chord").empty();
    if (!joins_chord) {
        note_begins_ = at_;
        advance(length);
    }
    return {note_begins_, length, joins_chord};
}

Position ScoreCursor::place_of(pugi::xml_node element) const {
    const auto offset = parse_decimal(element.child("offset").text().get());
    if (!offset) return at_;
    return std::max(Position{}, at_ + Duration{*offset / divisions_ * Rational{1, 4}});
}

void ScoreCursor::advance(Duration by) {
    at_ += by;
    furthest_ = std::max(furthest_, at_);
}

}  // namespace shedbook
