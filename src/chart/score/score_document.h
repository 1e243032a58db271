// A MusicXML file as a tree, after it has been found safe to make one.
#pragma once

#include <pugixml.hpp>
#include <string>

#include "shedbook/base/diagnostics.h"

namespace shedbook {

// Fills `document`; false, with an error, for what is no MusicXML score.
[[nodiscard]] bool load_score(pugi::xml_document& document, const std::string& name, const std::string& xml,
                              Diagnostics& diagnostics);

}  // namespace shedbook
