#include "staff_picture.h"

#include <initializer_list>

#include "musicxml_elements.h"
#include "svg_drawing.h"

namespace shedbook {
namespace {

// "12.5 30" of 12.5 and 30.
std::string number_list(std::initializer_list<double> values) {
    std::string out;
    for (const double value : values) out += (out.empty() ? "" : " ") + svg_number(value);
    return out;
}

}  // namespace

void StaffPicture::use(std::string_view glyph, double x, double y) {
    uses_ +=
        "<use href=\"#" + std::string{glyph} + "\" x=\"" + svg_number(x) + "\" y=\"" + svg_number(y) + "\"/>";
}

void StaffPicture::line(double x1, double y1, double x2, double y2) {
    thin_ += "M" + number_list({x1, y1}) + "L" + number_list({x2, y2});
}

void StaffPicture::box(double x1, double y1, double x2, double y2) {
    filled_ += "M" + number_list({x1, y1}) + "H" + number_list({x2}) + "V" + number_list({y2}) + "H" +
               number_list({x1}) + "z";
}

void StaffPicture::dot(double x, double y) {
    constexpr double kRadius = 1.3;
    box(x, y - kRadius, x + 2 * kRadius, y + kRadius);
}

void StaffPicture::tie(double x1, double x2, double y, double bend) {
    thin_ += "M" + number_list({x1, y}) + "Q" + number_list({(x1 + x2) / 2, y + bend, x2, y});
}

void StaffPicture::word(double x, double y, std::string_view text, int size) {
    words_ += "<text x=\"" + svg_number(x) + "\" y=\"" + svg_number(y) + "\" font-size=\"" +
              std::to_string(size) + "\">";
    append_escaped(words_, text);
    words_ += "</text>";
}

std::string StaffPicture::finished(double height, std::string_view name) const {
    std::string out = "<svg viewBox=\"0 0 " + number_list({width_, height}) +
                      "\" role=\"img\" fill=\"currentColor\" aria-label=\"";
    append_escaped(out, name);
    out +=
        "\"><path d=\"" + thin_ + "\" fill=\"none\" stroke=\"currentColor\"/><path d=\"" + filled_ + "\"/>";
    return out + uses_ + words_ + "</svg>\n";
}

}  // namespace shedbook
