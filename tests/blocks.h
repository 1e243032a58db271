// Blocks for tests, around a piece of music.
#pragma once

#include <string>
#include <utility>

#include "shedbook/notation/document.h"

namespace shedbook {

inline Topic topic_of(const char* symbol, const char* scale) {
    return {parse_chord_symbol(symbol), *parse_scale(scale)};
}

inline Drill drill_block(WrittenMusic music, PieceNumber number = {1, 1}, std::string title = "A scale") {
    Drill out;
    out.number = number;
    out.id = "range-scale";
    out.title = std::move(title);
    out.topic.scale = *parse_scale("C Mixolydian");
    out.music.push_back(std::move(music));
    return out;
}

inline Etude etude_block(WrittenMusic music, PieceNumber number = {1, 0}, std::string title = "A line") {
    Etude out;
    out.number = number;
    out.id = "unbroken-scale";
    out.title = std::move(title);
    out.music.push_back(std::move(music));
    return out;
}

}  // namespace shedbook
