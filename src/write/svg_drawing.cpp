#include "svg_drawing.h"

#include <cstdlib>
#include <ostream>

#include "musicxml_elements.h"
#include "shedbook/base/text.h"

namespace shedbook {

std::string svg_number(double value) {
    const auto tenths = static_cast<long>(value * 10 + (value < 0 ? -0.5 : 0.5));
    std::string out = std::to_string(tenths / 10);
    if (tenths % 10 != 0) out += "." + std::to_string(std::abs(tenths % 10));
    return out;
}

double width_of(std::string_view text, double size) {
    return static_cast<double>(count_characters(text)) * size * 0.56;
}

void SvgDrawing::line(double x1, double y1, double x2, double y2, double width) {
    svg_ += "<line x1=\"" + svg_number(x1) + "\" y1=\"" + svg_number(y1) + "\" x2=\"" + svg_number(x2) +
            "\" y2=\"" + svg_number(y2) + "\" stroke-width=\"" + svg_number(width) + "\"/>\n";
}

void SvgDrawing::dotted(const std::string& d) {
    svg_ += "<path d=\"" + d + "\" stroke-dasharray=\"1 4\"/>\n";
}

void SvgDrawing::shade(double x, double y, double width, double height, double grey) {
    const std::string value = std::to_string(255 - static_cast<int>(grey * 255));
    svg_ += "<rect x=\"" + svg_number(x) + "\" y=\"" + svg_number(y) + "\" width=\"" + svg_number(width) +
            "\" height=\"" + svg_number(height) + "\" stroke=\"none\" fill=\"rgb(" + value + "," + value +
            "," + value + ")\"/>\n";
}

void SvgDrawing::circle(double x, double y, double radius, bool filled) {
    svg_ += "<circle cx=\"" + svg_number(x) + "\" cy=\"" + svg_number(y) + "\" r=\"" + svg_number(radius) +
            "\" fill=\"" + (filled ? "black" : "white") + "\"/>\n";
}

void SvgDrawing::text(double x, double y, double size, std::string_view content, bool bold, bool middle) {
    svg_ += "<text x=\"" + svg_number(x) + "\" y=\"" + svg_number(y) + "\" font-size=\"" + svg_number(size) +
            "\"";
    if (bold) svg_ += " font-weight=\"bold\"";
    if (middle) svg_ += " text-anchor=\"middle\"";
    svg_ += ">";
    append_escaped(svg_, content);
    svg_ += "</text>\n";
}

void SvgDrawing::finish(double width, double height, std::ostream& out) const {
    out << "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
           "viewBox=\"0 0 "
        << svg_number(width) << " " << svg_number(height)
        << "\" font-family=\"Nimbus Sans, Helvetica, Arial, sans-serif\" stroke-linecap=\"round\">\n"
           "<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n"
           "<g fill=\"none\" stroke=\"black\" stroke-width=\"1.2\">\n<style>text { fill: black; stroke: "
           "none; }</style>\n"
        << svg_ << "</g>\n</svg>\n";
}

}  // namespace shedbook
