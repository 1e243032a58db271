// Pictures that are drawn as SVG, in the form that a file's name asks for.
#pragma once

#include <functional>
#include <iosfwd>
#include <string>

namespace shedbook {

// Writes what `draw` draws: as it is into .svg; .pdf and .png are made of it by rsvg-convert (librsvg).
// UsageError for another ending, which says that `what` is drawn ("its map"); MachineError if that program is
// not there or fails.
void write_drawing(const std::string& file, const std::string& what,
                   const std::function<void(std::ostream&)>& draw);

}  // namespace shedbook
