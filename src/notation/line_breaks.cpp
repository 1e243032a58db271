#include "shedbook/notation/line_breaks.h"

#include <algorithm>
#include <numeric>

namespace shedbook {
namespace {

constexpr int kAccidental = 3;
constexpr int kFinger = 2;    // of two signs or three
constexpr int kEachSign = 2;  // more: the frets of a chord
constexpr int kUsualSigns = 3;
constexpr int kBarLine = 2;
constexpr int kSymbol = 8;

using Weights = std::vector<int>;

int weight_of_notes(const WrittenMusic& music, const Measure& measure) {
    int out = 0;
    for (std::size_t i = measure.first_event; i < measure.first_event + measure.event_count; ++i) {
        const auto* note = std::get_if<Sounded>(&music.events[i].what);
        const auto is_shown = [](const ChordNote& other) { return other.shown != Accidental::None; };
        const bool has_accidental =
            note != nullptr &&
            (note->shown != Accidental::None || std::ranges::any_of(music.notes_below(*note), is_shown));
        out += kNoteWeight + (has_accidental ? kAccidental : 0);
        if (music.fingerings.empty()) continue;
        const NoteFingering& finger = music.fingerings[i];
        const int signs = static_cast<int>(finger.text.size() + finger.string_name.size());
        if (signs > 1) out += kFinger + kEachSign * std::max(0, signs - kUsualSigns);
    }
    return out;
}

Weights weights_of(const WrittenMusic& music) {
    Weights out;
    for (std::size_t bar = 0; bar < music.measures.size(); ++bar) {
        const Measure& measure = music.measures[bar];
        int weight =
            std::max(weight_of_notes(music, measure), static_cast<int>(measure.chord_count) * kSymbol);
        for (const WrittenMusic& lower : music.lower)
            weight = std::max(weight, weight_of_notes(lower, lower.measures[bar]));
        out.push_back(weight + kBarLine);
    }
    return out;
}

int sum(const Weights& weights, std::size_t begin, std::size_t end) {
    return std::accumulate(weights.begin() + static_cast<std::ptrdiff_t>(begin),
                           weights.begin() + static_cast<std::ptrdiff_t>(end), 0);
}

// So many lines from `begin` to `end`: one ends where the next bar would lie, by its middle, behind its share
// of the whole, or where there is no more room. Whether that made it more lines.
bool needs_more(const Weights& weights, std::size_t begin, std::size_t end, int lines, int room,
                std::vector<bool>& starts) {
    const int all = sum(weights, begin, end);
    int line = 0;
    int done = 0;
    int before = 0;
    for (std::size_t bar = begin; bar < end; ++bar) {
        const int weight = weights[bar];
        const bool has_share = (2 * before + weight) * lines > 2 * done * all;
        starts[bar] = done == 0 || has_share || line + weight > room;
        if (starts[bar]) ++done;
        line = starts[bar] ? weight : line + weight;
        before += weight;
    }
    return done > lines;
}

void part(const Weights& weights, std::size_t begin, std::size_t end, int room, std::vector<bool>& starts) {
    const auto most = static_cast<int>(end - begin);
    int lines = std::clamp((sum(weights, begin, end) + room - 1) / room, 1, most);
    while (needs_more(weights, begin, end, lines, room, starts) && lines < most) ++lines;
}

void part_lines(const Weights& weights, int room, std::vector<bool>& starts) {
    for (std::size_t begin = 0; begin < starts.size();) {
        std::size_t end = begin + 1;
        while (end < starts.size() && !starts[end]) ++end;
        part(weights, begin, end, room, starts);
        begin = end;
    }
}

// The last line has a bar alone: it goes onto the line before, which is parted where that makes it crowded.
void join_lone_last(const Weights& weights, int room, std::vector<bool>& starts) {
    const std::size_t last = starts.size() - 1;
    if (starts.size() < 3 || !starts[last]) return;
    std::size_t begin = last - 1;
    while (begin > 0 && !starts[begin]) --begin;
    starts[last] = false;
    const int crowded = room * 3 / 4;
    if (sum(weights, begin, last + 1) > crowded) part(weights, begin, last + 1, crowded, starts);
}

}  // namespace

std::vector<bool> starts_of_lines(const WrittenMusic& music, const LineRules& rules) {
    return starts_of_lines(std::span{&music, 1}, rules);
}

std::vector<bool> starts_of_lines(std::span<const WrittenMusic> parts, const LineRules& rules) {
    Weights weights = weights_of(parts.front());
    for (const WrittenMusic& part : parts.subspan(1)) {
        const Weights own = weights_of(part);
        std::ranges::transform(weights, own, weights.begin(), [](int a, int b) { return std::max(a, b); });
    }
    std::vector<bool> out(weights.size(), false);
    for (std::size_t bar = 0; bar < out.size(); ++bar)
        out[bar] = rules.bars > 0 && bar % static_cast<std::size_t>(rules.bars) == 0;
    part_lines(weights, rules.room, out);
    if (rules.bars > 0 && !out.empty()) join_lone_last(weights, rules.room, out);
    return out;
}

std::vector<bool> parted(const WrittenMusic& music, std::vector<bool> starts, int room) {
    part_lines(weights_of(music), room, starts);
    return starts;
}

void break_lines(WrittenMusic& music, const std::vector<bool>& starts) {
    for (std::size_t bar = 0; bar < music.measures.size(); ++bar)
        music.measures[bar].new_system = bar > 0 && starts[bar];
}

}  // namespace shedbook
