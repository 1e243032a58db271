// What the words and signs of a score say about its form.
#pragma once

#include <optional>
#include <pugixml.hpp>
#include <string>

#include "../score_bar.h"

namespace shedbook {

// "Chorus:", "Verse 2", "Bridge": the name of a section.
[[nodiscard]] bool is_section_name(const std::string& words);
// "Fast Waltz", "Medium swing", "Moderato": how a tune is played.
[[nodiscard]] bool is_feel(const std::string& text);

// The attributes of a sound element: dacapo, dalsegno, tocoda, coda, segno, fine.
void take_sound_marks(pugi::xml_node sound, SignSet& signs);

// A barline element: repeats, endings, double bars, segno and coda.
void take_barline(pugi::xml_node barline, ScoreBar& out);

}  // namespace shedbook
