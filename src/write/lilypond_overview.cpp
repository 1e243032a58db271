#include "lilypond_overview.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <utility>
#include <vector>

#include "lilypond_text.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// All measures in staff spaces.
constexpr std::size_t kBarsALine = 8;
constexpr std::size_t kMostLines = 6;  // of eight bars; a longer form has sixteen
constexpr double kFirstBar = 6;        // of the first bar, behind the letter of its section
constexpr double kLeastLine = 5.4;     // from line to line, without brackets
constexpr double kMostLine = 13.5;
constexpr double kBracketRow = 1.9;
constexpr double kIndexRow = 2.8;
constexpr double kHeads = 12;            // both headings and what is around them
constexpr std::size_t kRoomOfName = 44;  // characters of a unit and its keys in the index
constexpr std::size_t kMostLetters = 3;  // of a label that has a box at the left

std::string number_text(double value) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.2f", value);
    return text.data();
}

std::string at(double x, double y) {
    return number_text(x) + " " + number_text(y);
}

std::string placed(double x, double y, const std::string& what) {
    return "\\translate #'(" + number_text(x) + " . " + number_text(y) + ") " + what + " ";
}

std::string small(const std::string& text) {
    return "\\sans \\fontsize #-3.5 " + text_markup(with_signs(text));
}

// Bars of one section that stand side by side.
struct FormLine {
    std::string label;
    std::vector<TuneOverview::Bar> bars;
    bool ends_section = false;
};

std::vector<FormLine> lines_of(const TuneOverview& overview, std::size_t bars_a_line) {
    std::vector<FormLine> out;
    for (const TuneOverview::Section& section : overview.sections) {
        for (std::size_t from = 0; from < section.bars.size(); from += bars_a_line) {
            const std::size_t to = std::min(section.bars.size(), from + bars_a_line);
            out.push_back({from == 0 ? section.label : "",
                           {section.bars.begin() + static_cast<std::ptrdiff_t>(from),
                            section.bars.begin() + static_cast<std::ptrdiff_t>(to)},
                           to == section.bars.size()});
        }
    }
    return out;
}

std::size_t bars_a_line_of(const TuneOverview& overview) {
    return lines_of(overview, kBarsALine).size() > kMostLines ? 2 * kBarsALine : kBarsALine;
}

// A place of a unit on one line.
struct Bracket {
    double from = 0;  // in bars of the line
    double to = 0;
    bool opens = true;  // it begins here
    bool closes = true;
    std::string label;
    int begins = 0;  // the bar, perhaps on a line above
    std::size_t row = 0;
};

std::string label_in_form(const TuneOverview::Row& row, const UnitHead::Place& place) {
    const auto named_in = [](const UnitHead::Place& here) { return here.named_in.value_or(here.key); };
    const Key key = named_in(place);
    return std::to_string(row.section) +
           (key == named_in(row.unit.places.front())
                ? ""
                : " in " + to_string(key.tonic) + (is_minor(key.mode) ? "m" : ""));
}

std::vector<Bracket> brackets_of(const TuneOverview& overview, const FormLine& line) {
    const int first = line.bars.front().number;
    const int last = line.bars.back().number;
    std::vector<Bracket> out;
    for (const TuneOverview::Row& row : overview.units) {
        if (row.section == 0) continue;
        for (const UnitHead::Place& place : row.unit.places) {
            for (const auto& [from, to] : parts_of(place)) {
                if (to < first || from > last) continue;
                out.push_back({static_cast<double>(std::max(from, first) - first),
                               static_cast<double>(std::min(to, last) - first + 1), from >= first, to <= last,
                               label_in_form(row, place), from});
            }
        }
    }
    // In this order they keep their rows from line to line.
    std::ranges::stable_sort(out, {}, &Bracket::begins);
    std::vector<double> ends;
    for (Bracket& bracket : out) {
        const auto free = std::ranges::find_if(ends, [&](double end) { return end <= bracket.from; });
        bracket.row = static_cast<std::size_t>(free - ends.begin());
        if (free == ends.end()) ends.push_back(0);
        ends[bracket.row] = bracket.to;
    }
    return out;
}

std::size_t rows_of(const std::vector<Bracket>& brackets) {
    std::size_t out = 0;
    for (const Bracket& bracket : brackets) out = std::max(out, bracket.row + 1);
    return out;
}

// Slanted, one for each degree above easy.
std::string strokes(Grade grade, double x, double y) {
    constexpr double kApart = 0.9;
    const auto count = static_cast<int>(row_index(grade));
    if (count == 0) return {};
    std::string out = "\\path #0.35 #'(";
    for (int i = 0; i < count; ++i) {
        const double left = x + kApart * (i - (count - 1) / 2.0);
        out += "(moveto " + at(left - 0.25, y) + ")(lineto " + at(left + 0.25, y + 1.3) + ")";
    }
    return out + ") ";
}

std::string bracket_text(const Bracket& bracket, double bar_width) {
    constexpr double kHook = 0.7;
    constexpr double kInset = 0.25;
    const double y = -1.4 - kBracketRow * static_cast<double>(bracket.row);
    const double left = kFirstBar + bracket.from * bar_width + kInset;
    const double right = kFirstBar + bracket.to * bar_width - kInset;
    const double middle = (left + right) / 2;
    const double half = 0.75 + 0.42 * static_cast<double>(count_characters(bracket.label));
    std::string out = "\\path #0.15 #'(";
    out += "(moveto " + at(left, bracket.opens ? y + kHook : y) + ")(lineto " + at(left, y) + ")";
    if (middle - half > left) out += "(lineto " + at(middle - half, y) + ")";
    out += "(moveto " + at(std::min(middle + half, right), y) + ")(lineto " + at(right, y) + ")";
    if (bracket.closes) out += "(lineto " + at(right, y + kHook) + ")";
    return out + ") " +
           placed(middle, y - 0.55,
                  "\\center-align \\sans \\bold \\fontsize #-3 " + text_markup(with_signs(bracket.label)));
}

// Repeats and endings as in the changes, in small.
std::string repeats(const TuneOverview::Bar& bar, double left, double width) {
    constexpr double kHeight = 1.6;
    const auto sign = [&](double x, double dots) {
        std::string out = "\\path #0.35 #'((moveto " + at(x, 0) + ")(lineto " + at(x, kHeight) + ")) ";
        for (const double y : {0.5, 1.1}) out += placed(x + dots, y, "\\draw-circle #0.1 #0 ##t");
        return out;
    };
    constexpr double kDots = 0.6;
    std::string out;
    if (bar.repeat_start) out += sign(left, kDots);
    if (bar.repeat_end) out += sign(left + width, -kDots);
    if (!bar.under_ending) return out;
    constexpr double kBracket = 2.7;
    constexpr double kHook = 0.8;
    constexpr double kInset = 0.2;
    const bool starts = !bar.ending.empty();
    const double from = starts ? left + kInset : left - kInset;
    out += "\\path #0.12 #'((moveto " + at(from, starts ? kBracket - kHook : kBracket) + ")(lineto " +
           at(from, kBracket) + ")(lineto " + at(left + width - kInset, kBracket) + ")) ";
    return starts ? out + placed(left + 0.6, kBracket - 1.1, small(bar.ending + ".")) : out;
}

std::string form_line(const TuneOverview& overview, const FormLine& line, double bar_width, double height) {
    constexpr double kBarHeight = 2;
    const auto count = static_cast<double>(line.bars.size());
    const double right = kFirstBar + count * bar_width;
    std::string out =
        "\\markup \\overlay { \\path #0.15 #'((moveto " + at(kFirstBar, 0) + ")(lineto " + at(right, 0) + ")";
    for (std::size_t i = 1; i < line.bars.size(); ++i) {
        const double x = kFirstBar + static_cast<double>(i) * bar_width;
        out += "(moveto " + at(x, 0) + ")(lineto " + at(x, kBarHeight * 0.7) + ")";
    }
    out += ") \\path #0.3 #'((moveto " + at(kFirstBar, 0) + ")(lineto " + at(kFirstBar, kBarHeight) + ")" +
           (line.ends_section ? "(moveto " + at(right, 0) + ")(lineto " + at(right, kBarHeight) + ")" : "") +
           ") ";
    const bool has_box = !line.label.empty() && count_characters(line.label) <= kMostLetters;
    if (has_box)
        out += placed(
            0.4, 0.2,
            "\\override #'(box-padding . 0.35) \\box \\sans \\bold \\fontsize #-1 " + quoted(line.label));
    // Above the bracket of an ending.
    const double number_at = kBarHeight + (line.bars.front().under_ending ? 1.5 : 0.5);
    out += placed(kFirstBar, number_at, small(std::to_string(line.bars.front().number)));
    if (!has_box && !line.label.empty())
        out += placed(kFirstBar + 3, kBarHeight + 0.5,
                      "\\sans \\bold \\fontsize #-2.5 " + text_markup(short_title(line.label)));
    for (std::size_t i = 0; i < line.bars.size(); ++i)
        out += repeats(line.bars[i], kFirstBar + static_cast<double>(i) * bar_width, bar_width);
    for (std::size_t i = 0; i < line.bars.size(); ++i)
        out += strokes(line.bars[i].grade, kFirstBar + (static_cast<double>(i) + 0.5) * bar_width, 0.5);
    for (const Bracket& bracket : brackets_of(overview, line)) out += bracket_text(bracket, bar_width);
    // A line without brackets is as high as one with them.
    return out + placed(0, -height + kBarHeight + 1.7, "\\null") + "}\n";
}

std::string head(const std::string& title, const std::string& right, double width) {
    return "\\markup \\override #'(line-width . " + number_text(width) +
           ") \\fill-line { \\sans \\bold \\fontsize #2 " + quoted(title) + " " + right + " }\n";
}

std::string legend() {
    std::string out = "\\concat { ";
    for (const Worded<Grade>& row : kWords<Grade>) {
        if (row.value == Grade::Easy) continue;
        out += "\\overlay { " + strokes(row.value, 0, -0.2) + "} \\hspace #1.2 " +
               small(std::string{row.word}) + " \\hspace #2 ";
    }
    return out + small("brackets: units, by number") + " }";
}

// "24 to 25, 7 to 9 ...": the one that is drilled first, in bold.
std::string places_markup(const UnitHead& unit) {
    constexpr std::size_t kMost = 15;
    const auto bars = [](const UnitHead::Place& place) {
        std::vector<std::string> parts;
        for (const auto& [first, last] : parts_of(place))
            parts.push_back(std::to_string(first) + (first == last ? "" : "\u2013" + std::to_string(last)));
        return join(parts, "+");
    };
    std::string others;
    std::size_t left = unit.places.size() - 1;
    for (std::size_t i = 1; i < unit.places.size(); ++i) {
        const std::string next = ", " + bars(unit.places[i]);
        if (count_characters(others) + count_characters(next) > kMost) break;
        others += next;
        --left;
    }
    if (left == 1) {
        others += ", " + bars(unit.places.back());
    } else if (left > 1) {
        others += " and " + std::to_string(left) + " more";
    }
    return "\\concat { \\bold " + quoted(bars(unit.places.front())) + " " + quoted(others) + " }";
}

// One row of the index: what, where, how hard, page.
std::string index_row(const std::string& number, const std::string& what, const std::string& where,
                      std::optional<Grade> grade, const std::vector<int>& pages, double width) {
    std::string out = "\\markup \\sans \\fontsize #-0.5 \\overlay { \\combine \\transparent \"|\" \\bold " +
                      quoted(number) + " ";
    out += placed(3.5, 0, pages.empty() ? what : to_page(pages.front(), what)) + placed(44, 0, where);
    if (grade) {
        out += strokes(*grade, width - 19, 0.1);
        out += placed(width - 16, 0, quoted(to_word(*grade)));
    }
    std::string all;
    for (const int page : pages) {
        const std::string last = page == pages.back() ? "" : ", ";
        all += " " + to_page(page, quoted(std::to_string(page) + last));
    }
    if (!pages.empty()) out += placed(width, 0, "\\right-align \\concat {" + all + " }");
    return out + "}\n";
}

std::string wrapped(const std::string& words, double width) {
    return "\\markup \\fontsize #-1 \\italic \\override #'(line-width . " + number_text(width) +
           ") \\wordwrap-string " + quoted(with_signs(words)) + "\n";
}

// `before` them, then "pages 16, 17".
std::string pages_markup(const std::string& before, std::vector<int> pages) {
    pages.erase(std::unique(pages.begin(), pages.end()), pages.end());
    std::string out = "\\concat { " + quoted(before + (pages.size() == 1 ? "page " : "pages "));
    for (std::size_t i = 0; i < pages.size(); ++i)
        out += (i > 0 ? " \", \" " : " ") + to_page(pages[i], quoted(std::to_string(pages[i])));
    return out + " }";
}

// "ii-V-I in D major, bars 3 to 5, 9 to 11": all of its places.
std::string name_with_bars(const UnitHead& unit) {
    std::vector<int> bars;
    for (const UnitHead::Place& place : unit.places) {
        for (const auto& [first, last] : parts_of(place)) {
            for (int bar = first; bar <= last; ++bar) bars.push_back(bar);
        }
    }
    std::ranges::sort(bars);
    bars.erase(std::unique(bars.begin(), bars.end()), bars.end());
    return name_with_keys(unit, kRoomOfName) + ", " + bars_in_words(bars);
}

// "guide-tone line, composed etude: pages 16, 17"; only the pages where that is too long.
std::string lines_and_pages(const std::vector<std::string>& lines, const std::vector<int>& pages) {
    constexpr std::size_t kMost = 36;
    const std::string names = join(lines, ", ") + ": ";
    return pages_markup(count_characters(names) <= kMost ? names : "", pages);
}

// Where a plan comes back to a unit, too.
std::vector<int> pages_of_unit(const PlannedTune& tune, int number) {
    std::vector<int> out;
    for (const PlannedSection& section : tune.sections) {
        const auto* unit =
            section.section() != nullptr ? std::get_if<UnitHead>(&section.section()->head) : nullptr;
        if (unit == nullptr || (section.section()->number != number && unit->again != number)) continue;
        if (out.empty() || out.back() != section.first_page) out.push_back(section.first_page);
    }
    constexpr std::size_t kMost = 4;
    out.resize(std::min(out.size(), kMost));
    return out;
}

std::string index(const PlannedTune& tune, double width) {
    std::vector<std::string> left_out;
    std::string out;
    for (const TuneOverview::Row& row : tune.overview->units) {
        if (row.section == 0) {
            left_out.push_back(name_with_bars(row.unit));
            continue;
        }
        out += index_row(std::to_string(row.section),
                         text_markup(with_signs(name_with_keys(row.unit, kRoomOfName))),
                         places_markup(row.unit), row.unit.grade, pages_of_unit(tune, row.section), width);
    }
    std::vector<int> sets;
    std::vector<std::string> lines;
    std::vector<int> pages_of_lines;
    for (const PlannedSection& section : tune.sections) {
        if (const Etude* etude = section.etude()) {
            lines.push_back(lower_case(etude->title));
            pages_of_lines.push_back(section.first_page);
        } else if (std::holds_alternative<TopicHead>(section.section()->head)) {
            sets.push_back(section.first_page);
        }
    }
    if (!sets.empty())
        out += index_row("",
                         quoted(tune.drills_some_scales() ? "Scales with drills; the others: page " +
                                                                std::to_string(tune.table_page())
                                                          : "Scales with drills"),
                         pages_markup("", sets), {}, {}, width);
    if (!lines.empty())
        out += index_row("", quoted("The whole form"), lines_and_pages(lines, pages_of_lines), {}, {}, width);
    if (!left_out.empty()) out += wrapped("In the changes only: " + join(left_out, "; ") + ".", width);
    return out;
}

double line_height(const TuneOverview& overview) {
    std::size_t rows = 0;
    for (const FormLine& line : lines_of(overview, bars_a_line_of(overview)))
        rows = std::max(rows, rows_of(brackets_of(overview, line)));
    return kLeastLine + kBracketRow * static_cast<double>(rows);
}

double height_of_index(const TuneOverview& overview) {
    const auto has_pages = [](const TuneOverview::Row& row) { return row.section != 0; };
    const auto rows = std::ranges::count_if(overview.units, has_pages);
    const bool leaves_out = static_cast<std::size_t>(rows) < overview.units.size();
    return kIndexRow * static_cast<double>(rows + 2 + (leaves_out ? 2 : 0));
}

}  // namespace

double least_height(const TuneOverview& overview) {
    const std::size_t lines = lines_of(overview, bars_a_line_of(overview)).size();
    return kHeads + line_height(overview) * static_cast<double>(lines) + height_of_index(overview);
}

std::string overview_text(const PlannedTune& tune, const PageRoom& room, double height) {
    const TuneOverview& overview = *tune.overview;
    const std::size_t bars_a_line = bars_a_line_of(overview);
    const std::vector<FormLine> lines = lines_of(overview, bars_a_line);
    const double room_for_line =
        (height - kHeads - height_of_index(overview)) / static_cast<double>(lines.size());
    const double line_of = std::clamp(room_for_line, line_height(overview), kMostLine);
    const double width = room.text_width;
    const double bar_width = (width - kFirstBar - 0.5) / static_cast<double>(bars_a_line);
    std::string out = head("The form, and where it is hard", legend(), width);
    for (const FormLine& line : lines) out += form_line(overview, line, bar_width, line_of);
    if (overview.units.empty()) return out;
    out += head(overview.easiest_first ? "The units, easiest first" : "The units, hardest first",
                small("page"), width);
    return out + "\\markup \\draw-hline\n" + index(tune, width);
}

}  // namespace shedbook
