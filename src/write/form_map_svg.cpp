#include "shedbook/write/form_map_svg.h"

#include <algorithm>
#include <array>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "svg_drawing.h"

namespace shedbook {
namespace {

// All in units of a page 1000 wide.
constexpr double kWidth = 1000;
constexpr double kLeft = 60;
constexpr double kRight = 960;
constexpr double kArcRoom = 54;    // above the symbols
constexpr double kSymbolRow = 20;  // symbols stand this far above the line
constexpr double kLabelRow = 15;   // between rows of labels below it
constexpr double kRegionRow = 26;

double to_double(Rational value) {
    return static_cast<double>(value.num()) / static_cast<double>(value.den());
}

// Puts labels into the first row where they do not touch the one before.
class Rows {
  public:
    std::size_t place(double x, double width) {
        for (std::size_t row = 0; row < ends_.size(); ++row) {
            if (ends_[row] > x) continue;
            ends_[row] = x + width + 8;
            return row;
        }
        ends_.push_back(x + width + 8);
        return ends_.size() - 1;
    }
    [[nodiscard]] std::size_t count() const { return ends_.size(); }

  private:
    std::vector<double> ends_;
};

class PhraseDrawer {
  public:
    PhraseDrawer(const MapPhrase& phrase, SvgDrawing& drawing, double top)
        : phrase_{phrase},
          drawing_{drawing},
          line_{top + kArcRoom + kSymbolRow + 16},
          bar_{(kRight - kLeft) / static_cast<double>(std::max<std::size_t>(4, phrase.bars.size()))} {}

    // Draws the phrase and gives the y below it.
    double draw() {
        if (!phrase_.label.empty()) drawing_.text(14, line_ + 6, 18, phrase_.label, true);
        draw_bars();
        draw_leads();
        const double below = draw_chords();
        return draw_units(draw_regions(below));
    }

  private:
    [[nodiscard]] double x_of(Rational place) const { return kLeft + to_double(place) * bar_; }
    [[nodiscard]] double chord_x(Rational place) const { return x_of(place) + 8; }

    void draw_bars() {
        // Dark enough to be told apart on paper, light enough to read on.
        static constexpr std::array<double, count_of<Grade>()> kGrey{0, 0.06, 0.13, 0.22};
        for (std::size_t i = 0; i < phrase_.bars.size(); ++i) {
            const double grey = kGrey[row_index(phrase_.bars[i].grade)];
            if (grey > 0)
                drawing_.shade(kLeft + static_cast<double>(i) * bar_, line_ - kSymbolRow - 14, bar_,
                               kSymbolRow + 14, grey);
        }
        const double end = x_of(Rational{static_cast<std::int64_t>(phrase_.bars.size())});
        drawing_.line(kLeft, line_, end, line_, 1);
        drawing_.line(kLeft, line_ - 9, kLeft, line_ + 9);
        for (std::size_t i = 0; i < phrase_.bars.size(); ++i) {
            const MapBar& bar = phrase_.bars[i];
            const double left = kLeft + static_cast<double>(i) * bar_;
            const double right = left + bar_;
            drawing_.line(right, line_ - 9, right, line_ + 9, bar.repeat_end ? 3 : 1.2);
            if (bar.double_bar) drawing_.line(right - 4, line_ - 9, right - 4, line_ + 9);
            if (bar.repeat_start) draw_repeat(left, 1);
            if (bar.repeat_end) draw_repeat(right, -1);
            drawing_.text(left + 2, line_ + 20, 9, bar.number);
            if (!bar.ending.empty()) {
                const double top = line_ - kSymbolRow - kArcRoom - 4;
                drawing_.line(left + 2, top, right - 6, top, 1);
                drawing_.line(left + 2, top, left + 2, top + 12, 1);
                drawing_.text(left + 6, top + 12, 11, bar.ending);
            }
            if (!bar.signs.empty())
                drawing_.text(right - 8 - width_of(bar.signs, 11), line_ - 4, 11, bar.signs);
        }
    }

    void draw_repeat(double x, int direction) {
        drawing_.line(x + 4 * direction, line_ - 9, x + 4 * direction, line_ + 9, 1);
        for (const double y : {line_ - 4, line_ + 4}) {
            drawing_.line(x + 7 * direction, y, x + 9 * direction, y, 2.5);
        }
    }

    // A dotted line from a dominant to its goal, which it names.
    void draw_leads() {
        const double y = line_ - kSymbolRow - 18;
        for (const MapLead& lead : phrase_.leads) {
            const double from = chord_x(lead.from) + 10;
            const double to = lead.to ? chord_x(*lead.to) + 8 : kRight + 26;
            const double height = std::min(30.0, 12 + (to - from) / 12);
            drawing_.dotted("M " + svg_number(from) + " " + svg_number(y) + " C " + svg_number(from + 8) +
                            " " + svg_number(y - height) + " " + svg_number(to - 8) + " " +
                            svg_number(y - height) + " " + svg_number(to) + " " +
                            svg_number(lead.to ? y : y - height * 0.75));
            drawing_.text((from + to) / 2, y - height * 0.75 - 4, 10, "to " + lead.goal, false, true);
        }
    }

    double draw_chords() {
        Rows rows;
        std::vector<std::size_t> row_of;
        for (const MapChord& chord : phrase_.chords) {
            const double width = std::max(width_of(chord.numeral, 13), width_of(chord.scale, 10.5));
            row_of.push_back(rows.place(chord_x(chord.at), width));
        }
        for (std::size_t i = 0; i < phrase_.chords.size(); ++i) {
            const MapChord& chord = phrase_.chords[i];
            const double x = chord_x(chord.at);
            const double y = line_ + 24 + static_cast<double>(row_of[i]) * 2 * kLabelRow;
            drawing_.text(x, line_ - kSymbolRow + 6, symbol_size(), chord.symbol, true);
            if (row_of[i] > 0) drawing_.line(x - 3, line_ + 14, x - 3, y + 12, 0.5);
            drawing_.text(x + (row_of[i] == 0 ? 8 : 0), y, 13, chord.numeral);
            drawing_.text(x + (row_of[i] == 0 ? 8 : 0), y + 14, 10.5, chord.scale);
        }
        return line_ + 30 + static_cast<double>(std::max<std::size_t>(1, rows.count())) * 2 * kLabelRow;
    }

    // Smaller where chords stand closely.
    [[nodiscard]] double symbol_size() const {
        double size = 17;
        for (std::size_t i = 0; i + 1 < phrase_.chords.size(); ++i) {
            const double room = x_of(phrase_.chords[i + 1].at) - x_of(phrase_.chords[i].at) - 6;
            const double wide = width_of(phrase_.chords[i].symbol, 1);
            if (wide > 0) size = std::min(size, room / wide);
        }
        return std::max(size, 9.0);
    }

    double draw_regions(double y) {
        for (const MapRegion& region : phrase_.regions) {
            const double from = x_of(region.from) + 3;
            const double to = x_of(region.to) - 3;
            drawing_.line(from, y, to, y, 1.6);
            if (!region.comes_from_before) drawing_.line(from, y, from, y - 6, 1.6);
            if (!region.goes_on) drawing_.line(to, y, to, y - 6, 1.6);
            drawing_.text((from + to) / 2, y + 15, 12, region.label, false, true);
        }
        return y + kRegionRow;
    }

    // Below the keys, in as many rows as they need.
    double draw_units(double y) {
        constexpr double kRow = 22;
        Rows rows;
        for (const MapRegion& unit : phrase_.units) {
            const double from = x_of(unit.from) + 3;
            const double to = x_of(unit.to) - 3;
            const double wide = std::max(to - from, width_of(unit.label, 10.5));
            const double top = y + kRow * static_cast<double>(rows.place(from, wide - 8));
            drawing_.line(from, top, to, top, 0.8);
            if (!unit.comes_from_before) drawing_.line(from, top, from, top - 5, 0.8);
            if (!unit.goes_on) drawing_.line(to, top, to, top - 5, 0.8);
            drawing_.text(from + 2, top + 12, 10.5, unit.label);
        }
        return y + kRow * static_cast<double>(rows.count());
    }

    const MapPhrase& phrase_;
    SvgDrawing& drawing_;
    double line_;
    double bar_;
};

}  // namespace

void write_form_map(const FormMap& map, std::ostream& out) {
    SvgDrawing drawing;
    drawing.text(kLeft, 40, 26, map.title, true);
    drawing.text(kLeft, 62, 14, map.about);
    drawing.text(kLeft, 82, 11,
                 "Thick brackets: keys. Thin brackets: practice units. Dotted: where a dominant leads. "
                 "Grey: the darker, the harder.");
    double y = 92;
    for (const MapPhrase& phrase : map.phrases) y = PhraseDrawer{phrase, drawing, y}.draw();
    drawing.finish(kWidth, y + 20, out);
}

}  // namespace shedbook
