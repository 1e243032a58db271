#include "pattern_text.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <utility>

#include "shedbook/base/rational.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr int kFurthestDegree = 15;
constexpr std::size_t kLongestCell = 64;

constexpr std::array<std::pair<std::string_view, CellNote::Side>, 6> kSides{{
    {"step-above:", CellNote::Side::StepAbove},
    {"step-below:", CellNote::Side::StepBelow},
    {"half-above:", CellNote::Side::HalfAbove},
    {"half-below:", CellNote::Side::HalfBelow},
    {"whole-above:", CellNote::Side::WholeAbove},
    {"whole-below:", CellNote::Side::WholeBelow},
}};

// "3", "-2", "2'", "5,": a degree with octave marks. A second below is -2, as an interval is counted; there
// is no 0 or -1.
bool parse_degree_text(std::string_view text, CellNote& note) {
    while (text.ends_with('\'') || text.ends_with(',')) {
        note.octaves += text.back() == '\'' ? 1 : -1;
        text.remove_suffix(1);
    }
    const bool below = text.starts_with('-');
    if (below) text.remove_prefix(1);
    if (text.empty() || text.size() > 2) return false;
    int number = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return false;
        number = 10 * number + (c - '0');
    }
    if (number < (below ? 2 : 1) || number > kFurthestDegree || std::abs(note.octaves) > 3) return false;
    note.steps = below ? -(number - 1) : number - 1;
    return true;
}

bool parse_note(std::string_view word, CellNote& note) {
    for (const auto& [prefix, side] : kSides) {
        if (!word.starts_with(prefix)) continue;
        note.kind = CellNote::Kind::Neighbour;
        note.side = side;
        word.remove_prefix(prefix.size());
        if (word == "next") {
            note.target = CellNote::Target::Next;
            return true;
        }
        if (word.starts_with('c')) {
            note.target = CellNote::Target::ChordTone;
            word.remove_prefix(1);
        }
        return parse_degree_text(word, note);
    }
    if (word.starts_with("run:")) {
        note.kind = CellNote::Kind::Run;
        return parse_degree_text(word.substr(4), note);
    }
    if (word.starts_with('c')) {
        note.kind = CellNote::Kind::ChordTone;
        return parse_degree_text(word.substr(1), note);
    }
    return parse_degree_text(word, note);
}

// 0 the first degree, 2 the third, whatever its octave.
std::size_t letter_of(const CellNote& note) {
    return static_cast<std::size_t>(modulo(note.steps, 7));
}

bool parse_edge(std::string_view text, WalkEdge& edge) {
    text = trimmed(text);
    edge.from_top = text.starts_with("top");
    if (!edge.from_top && !text.starts_with("bottom")) return false;
    text.remove_prefix(edge.from_top ? 3 : 6);
    edge.offset = 0;
    if (text.empty()) return true;
    if (text.size() != 2 || (text[0] != '+' && text[0] != '-') || text[1] < '0' || text[1] > '9')
        return false;
    edge.offset = (text[0] == '+' ? 1 : -1) * (text[1] - '0');
    return true;
}

}  // namespace

std::optional<DrillCell> parse_cell(std::string_view text, PatternFault& fault) {
    DrillCell out;
    std::size_t at = 0;
    for (const std::string_view word : split(text, ' ')) {
        const std::size_t begin = at;
        at += word.size() + 1;
        if (word.empty()) continue;
        CellNote note;
        if (!parse_note(word, note)) {
            const bool has_sign = word.size() > 1 && (word[0] == 'b' || word[0] == '#');
            fault = {begin, begin + word.size(), "'" + std::string{word} + "' is no note of a cell",
                     has_sign ? "degrees are those of each chord's own scale: write " +
                                    std::string{word.substr(1)} + ", not " + std::string{word}
                              : "write degrees (1 3 -2 2'), chord tones (c1 c2), neighbours "
                                "(half-below:next) or runs (run:1)",
                     has_sign};
            return std::nullopt;
        }
        out.push_back(note);
    }
    if (out.empty() || out.size() > kLongestCell || out.front().kind == CellNote::Kind::Run) {
        fault = {0, text.size(), "a cell has 1 to 64 notes and does not begin with a run", ""};
        return std::nullopt;
    }
    return out;
}

bool speaks_of_chord(const DrillCell& cell) {
    std::array<bool, 7> heard{};
    for (const CellNote& note : cell) {
        if (note.kind == CellNote::Kind::Degree) heard[letter_of(note)] = true;
    }
    return std::ranges::count(heard, true) >= 3;
}

DrillCell over_sus(const DrillCell& cell) {
    const auto is_degree = [](const CellNote& note, int number) {
        return note.kind == CellNote::Kind::Degree && note.steps == number - 1;
    };
    DrillCell out = cell;
    for (std::size_t i = 0; i < cell.size(); ++i) {
        if (!is_degree(cell[i], 3)) continue;
        const bool passes =
            (i > 0 && is_degree(cell[i - 1], 4)) || (i + 1 < cell.size() && is_degree(cell[i + 1], 4));
        if (!passes) ++out[i].steps;
    }
    return out;
}

DrillCell inverted(const DrillCell& cell, int times) {
    const auto height = [](const CellNote& note) { return note.steps + 7 * note.octaves; };
    DrillCell out = cell;
    for (; times > 0; --times) {
        DrillCell heights = out;
        std::ranges::sort(heights, {}, height);
        const auto is_level = [&](const CellNote& a, const CellNote& b) { return height(a) == height(b); };
        heights.erase(std::unique(heights.begin(), heights.end(), is_level), heights.end());
        DrillCell raised(heights.begin() + 1, heights.end());
        raised.push_back(heights.front());
        ++raised.back().octaves;
        // The lowest note of the inversion stands where the lowest stood, and so on upwards.
        for (CellNote& note : out) {
            const auto rank = std::ranges::find(heights, height(note), height) - heights.begin();
            note = raised[static_cast<std::size_t>(rank)];
        }
    }
    return out;
}

bool parse_walk(std::string_view text, WalkEdge& from, WalkEdge& to) {
    const std::size_t at = text.find(" to ");
    return at != std::string_view::npos && parse_edge(text.substr(0, at), from) &&
           parse_edge(text.substr(at + 4), to);
}

}  // namespace shedbook
