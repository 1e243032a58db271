// Lines, grey areas and words of a picture, as SVG.
#pragma once

#include <iosfwd>
#include <string>
#include <string_view>

namespace shedbook {

// One decimal is finer than any printer of such a picture.
[[nodiscard]] std::string svg_number(double value);
// About how wide a text is: nobody here can ask the font.
[[nodiscard]] double width_of(std::string_view text, double size);

class SvgDrawing {
  public:
    void line(double x1, double y1, double x2, double y2, double width = 1.2);
    void dotted(const std::string& d);
    // Behind what is drawn later; `grey` is 0 white to 1 black.
    void shade(double x, double y, double width, double height, double grey);
    void circle(double x, double y, double radius, bool filled);
    void text(double x, double y, double size, std::string_view content, bool bold = false,
              bool middle = false);
    // The whole picture.
    void finish(double width, double height, std::ostream& out) const;

  private:
    std::string svg_;
};

}  // namespace shedbook
