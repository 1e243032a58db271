// A MusicXML score as a list of parts, each a row of measures, whichever of the two document forms it came
// in.
#pragma once

#include <optional>
#include <pugixml.hpp>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"

namespace shedbook {

struct ScoreMeasure {
    pugi::xml_node head;     // with the number and the implicit attribute
    pugi::xml_node content;  // with notes and harmony elements
};

struct ScorePart {
    std::string id;
    std::string name;
    std::vector<ScoreMeasure> measures;
    int harmonies = 0;
};

// The parts of score-partwise and score-timewise.
[[nodiscard]] std::vector<ScorePart> score_parts(pugi::xml_node score);

// The part asked for by id or name; without a wish the one with the most chord symbols, the first of equals.
// Nothing, with an error, if there is no such part.
[[nodiscard]] const ScorePart* choose_part(const std::vector<ScorePart>& parts, const std::string& wanted,
                                           const std::string& file, Diagnostics& diagnostics);

}  // namespace shedbook
