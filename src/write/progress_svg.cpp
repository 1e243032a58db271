#include "shedbook/write/progress_svg.h"

#include <algorithm>
#include <string>

#include "svg_drawing.h"

namespace shedbook {
namespace {

constexpr double kChartWidth = 1000;
constexpr double kChartLeft = 190;
constexpr double kChartRight = 960;
constexpr double kPanelHeight = 130;
constexpr double kPanelGap = 46;

// One line of practice: tempos up, days to the right.
class PanelDrawer {
  public:
    PanelDrawer(const TempoChart& chart, const TempoLine& line, SvgDrawing& drawing, double top)
        : chart_{chart}, line_{line}, drawing_{drawing}, top_{top} {
        low_ = high_ = line.goal;
        for (const TempoLine::Dot& dot : line.dots) {
            if (dot.tempo == 0) continue;
            low_ = low_ == 0 ? dot.tempo : std::min(low_, dot.tempo);
            high_ = std::max(high_, dot.tempo);
        }
        low_ = low_ / 20 * 20;
        high_ = (high_ + 20) / 20 * 20;
    }

    void draw() {
        drawing_.text(30, top_ + 14, 13, line_.name, true);
        for (int tempo = low_; tempo <= high_; tempo += std::max(20, (high_ - low_) / 80 * 20)) {
            drawing_.line(kChartLeft, y_of(tempo), kChartRight, y_of(tempo), 0.2);
            drawing_.text(kChartLeft - 30, y_of(tempo) + 4, 10, std::to_string(tempo));
        }
        drawing_.line(kChartLeft, top_, kChartLeft, top_ + kPanelHeight);
        draw_goal();
        const TempoLine::Dot* before = nullptr;
        for (const TempoLine::Dot& dot : line_.dots) {
            if (dot.tempo == 0) continue;
            if (before != nullptr)
                drawing_.line(x_of(before->day), y_of(before->tempo), x_of(dot.day), y_of(dot.tempo), 0.6);
            before = &dot;
        }
        for (const TempoLine::Dot& dot : line_.dots) draw_dot(dot);
    }

  private:
    [[nodiscard]] double x_of(int day) const {
        return kChartLeft + 12 + (kChartRight - kChartLeft - 24) * day / std::max(1, chart_.days);
    }
    [[nodiscard]] double y_of(int tempo) const {
        return top_ + kPanelHeight - kPanelHeight * (tempo - low_) / std::max(1, high_ - low_);
    }
    void draw_goal() {
        if (line_.goal == 0) return;
        const double y = y_of(line_.goal);
        drawing_.dotted("M " + svg_number(kChartLeft) + " " + svg_number(y) + " L " +
                        svg_number(kChartRight) + " " + svg_number(y));
        drawing_.text(kChartRight + 4, y + 4, 10, "goal");
    }
    // Filled: clean. Crossed: not. A ring around it: from memory.
    void draw_dot(const TempoLine::Dot& dot) {
        if (dot.tempo == 0) return;
        const double x = x_of(dot.day);
        const double y = y_of(dot.tempo);
        if (dot.from_memory) drawing_.circle(x, y, 7, false);
        if (dot.is_clean) return drawing_.circle(x, y, 3.6, true);
        drawing_.line(x - 4, y - 4, x + 4, y + 4, 1.6);
        drawing_.line(x - 4, y + 4, x + 4, y - 4, 1.6);
    }

    const TempoChart& chart_;
    const TempoLine& line_;
    SvgDrawing& drawing_;
    double top_;
    int low_ = 0;
    int high_ = 0;
};

}  // namespace

void write_tempo_chart(const TempoChart& chart, std::ostream& out) {
    SvgDrawing drawing;
    drawing.text(30, 40, 26, chart.title, true);
    drawing.text(
        30, 62, 12,
        "Tempo over days. Dot: clean. Cross: not clean. Ring: from memory. Dotted line: the tempo to "
        "arrive at.");
    double top = 90;
    for (const TempoLine& line : chart.lines) {
        PanelDrawer{chart, line, drawing, top}.draw();
        top += kPanelHeight + kPanelGap;
    }
    drawing.text(kChartLeft, top - kPanelGap + 24, 11, chart.first_day);
    drawing.text(kChartRight - width_of(chart.last_day, 11), top - kPanelGap + 24, 11, chart.last_day);
    drawing.finish(kChartWidth, top, out);
}

void write_key_map(const KeyMap& map, std::ostream& out) {
    constexpr double kCell = 44;
    constexpr double kFirstColumn = 300;
    SvgDrawing drawing;
    drawing.text(30, 40, 26, map.title, true);
    drawing.text(30, 62, 12, map.about);
    for (std::size_t i = 0; i < map.columns.size(); ++i)
        drawing.text(kFirstColumn + (static_cast<double>(i) + 0.5) * kCell, 98, 14, map.columns[i], true,
                     true);
    double y = 108;
    for (const KeyMap::Row& row : map.rows) {
        drawing.text(30, y + kCell / 2 + 5, 14, row.label);
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            const KeyMap::Cell& cell = row.cells[i];
            const double x = kFirstColumn + static_cast<double>(i) * kCell;
            if (!cell.is_there) {
                drawing.text(x + kCell / 2, y + kCell / 2 + 5, 14, "\u00B7", false, true);
                continue;
            }
            // As full as it is known; the letter says the same.
            const double height = (kCell - 6) * cell.share / 100;
            drawing.shade(x + 3, y + kCell - 3 - height, kCell - 6, height, 0.22);
            for (const double edge : {3.0, kCell - 3}) {
                drawing.line(x + 3, y + edge, x + kCell - 3, y + edge, 0.8);
                drawing.line(x + edge, y + 3, x + edge, y + kCell - 3, 0.8);
            }
            drawing.text(x + kCell / 2, y + kCell / 2 + 5, 15, cell.sign, true, true);
        }
        y += kCell;
    }
    drawing.finish(kFirstColumn + static_cast<double>(map.columns.size()) * kCell + 30, y + 20, out);
}

}  // namespace shedbook
