// The glyphs, lines and words of a drawing of notes, gathered by kind so that the drawing stays small.
#pragma once

#include <string>
#include <string_view>

namespace shedbook {

class StaffPicture {
  public:
    explicit StaffPicture(double width) : width_{width} {}
    // One that phone.html defines: "gc".
    void use(std::string_view glyph, double x, double y);
    void line(double x1, double y1, double x2, double y2);
    void box(double x1, double y1, double x2, double y2);
    void dot(double x, double y);
    void tie(double x1, double x2, double y, double bend);
    void word(double x, double y, std::string_view text, int size = 13);
    // One <svg> element. `name`: what a reader says that sees no drawing.
    [[nodiscard]] std::string finished(double height, std::string_view name) const;

  private:
    double width_;
    std::string uses_;
    std::string thin_;
    std::string filled_;
    std::string words_;
};

}  // namespace shedbook
