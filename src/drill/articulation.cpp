#include "pattern_text.h"

namespace shedbook {
namespace {

constexpr std::size_t kMostMarks = 64;

std::optional<Articulation> mark_of(char c) {
    switch (c) {
        case 'o':
            return Articulation::None;
        case '.':
            return Articulation::Staccato;
        case '-':
            return Articulation::Tenuto;
        case '>':
            return Articulation::Accent;
        default:
            return std::nullopt;
    }
}

// Every slur that begins ends before the next begins; the pattern goes round and round.
bool slurs_are_closed(const ArticulationPattern& pattern) {
    std::optional<bool> open;  // nothing: not known yet
    for (int round = 0; round < 2; ++round) {
        for (const ArticulationStep& step : pattern) {
            if (step.slur_stops) {
                if (open == false || step.slur_starts) return false;
                open = false;
            }
            if (step.slur_starts) {
                if (open == true) return false;
                open = true;
            }
        }
    }
    return true;
}

}  // namespace

std::optional<ArticulationPattern> parse_articulation(std::string_view text, PatternFault& fault) {
    ArticulationPattern out;
    bool opens = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == ' ') continue;
        if (c == '(' && !opens) {
            opens = true;
            continue;
        }
        if (c == ')' && !out.empty() && !opens && !out.back().slur_stops) {
            out.back().slur_stops = true;
            continue;
        }
        const std::optional<Articulation> mark = mark_of(c);
        if (!mark) {
            fault = {i, i + 1, "'" + std::string{c} + "' is no mark here",
                     "write o for a plain note, . short, - full length, > accent; slurred notes in ( )"};
            return std::nullopt;
        }
        out.push_back({*mark, opens, false});
        opens = false;
    }
    if (out.empty() || opens || out.size() > kMostMarks) {
        fault = {0, text.size(), "a way to articulate has 1 to 64 notes, as \"(o o) . .\"", ""};
        return std::nullopt;
    }
    if (!slurs_are_closed(out)) {
        fault = {0, text.size(), "a slur is opened and not closed, or the other way round",
                 "as \"(o o) . .\", or over the beat: \"o) (o\""};
        return std::nullopt;
    }
    return out;
}

}  // namespace shedbook
