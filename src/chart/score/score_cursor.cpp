#include "score_cursor.h"

#include <algorithm>
#include <string>
#include <utility>

#include "../numbers.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

// What the file says, no longer than a message can be.
std::string quoted_part(std::string_view text) {
    constexpr std::size_t kLongest = 20;
    return "'" + std::string{text.substr(0, kLongest)} + (text.size() > kLongest ? "..." : "") + "'";
}

}  // namespace

void ScoreCursor::begin_measure(int bar) {
    at_ = note_begins_ = furthest_ = Position{};
    bar_ = bar;
    has_told_of_length_ = false;
}

void ScoreCursor::take_divisions(pugi::xml_node attributes) {
    const pugi::xml_node given = attributes.child("divisions");
    if (!given) return;
    const auto divisions = parse_decimal(given.text().get());
    if (divisions && *divisions > Rational{} && *divisions <= Rational{kMostDivisions}) {
        divisions_ = *divisions;
        return;
    }
    messages_.warning(bar_, {}, "a quarter cannot have " + quoted_part(given.text().get()) + " divisions",
                      "lengths are counted in " + to_string(divisions_) + " a quarter, as before");
}

Duration ScoreCursor::duration_of(pugi::xml_node element) {
    const std::string text = element.child("duration").text().get();
    const auto count = parse_decimal(text);
    if (count && *count >= Rational{}) return Duration{*count / divisions_ * Rational{1, 4}};
    if (!std::exchange(has_told_of_length_, true)) {
        const std::string what = std::string{"a "} + element.name();
        messages_.warning(bar_, {},
                          text.empty() ? what + " without a duration"
                                       : what + " cannot last " + quoted_part(text) + " divisions",
                          "it takes no time, and so do others like it in this bar");
    }
    return {};
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
