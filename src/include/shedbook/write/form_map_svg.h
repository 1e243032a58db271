// A form map as an SVG picture: black on white, readable from a copier.
#pragma once

#include <iosfwd>

#include "shedbook/notation/form_map.h"

namespace shedbook {

void write_form_map(const FormMap& map, std::ostream& out);

}  // namespace shedbook
