// Units that others may lie in, and the line inside one chord.
#include <algorithm>
#include <set>

#include "unit_row.h"

namespace shedbook {
namespace {

using Family = UnitFamily;

constexpr int kStretch = 4;  // bars

std::optional<std::size_t> sounding_in(const RowView& p, int bar) {
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (p.at(i).first_bar <= bar && bar <= p.at(i).last_bar && p.at(i).first_bar == bar) return i;
    }
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (p.at(i).first_bar <= bar && bar <= p.at(i).last_bar) return i;
    }
    return std::nullopt;
}

}  // namespace

bool is_over_bass(const UnitChord& chord) {
    return chord.symbol().bass && (chord.has_foreign_bass || chord.root == chord.bass);
}

// One minor chord with a voice that moves inside it.
UnitFound line_cliche(const RowView& p, std::size_t i) {
    constexpr std::size_t kColours = 3;
    std::set<unsigned> colours;
    for (const Reading* reading : p.at(i).readings) colours.insert(pitch_set(reading->symbol));
    if (!p.is(i, Family::Minor) || colours.size() < kColours) return std::nullopt;
    return FoundUnit{UnitKind::LineCliche, i, i, false, false, p.key_on(i, Mode::Minor)};
}

// Three or more chords over one bass; some of them have another root.
UnitFound pedal(const RowView& p, std::size_t i) {
    const auto bass_of = [](const Reading& reading) {
        return (reading.symbol.bass ? *reading.symbol.bass : reading.symbol.root).semitone();
    };
    const int bass = bass_of(*p.at(i).readings.front());
    const auto holds = [&](std::size_t k) {
        return std::ranges::all_of(p.at(k).readings,
                                   [&](const Reading* reading) { return bass_of(*reading) == bass; });
    };
    if (!holds(i) || (i > 0 && p.follows(i) && holds(i - 1))) return std::nullopt;
    std::size_t last = i;
    int changes = -1;
    bool has_other_root = false;
    std::optional<ChordSymbol> before;
    for (std::size_t k = i; k < p.size() && (k == i || p.follows(k)) && holds(k); ++k) {
        last = k;
        for (const Reading* reading : p.at(k).readings) {
            if (before == reading->symbol) continue;
            before = reading->symbol;
            ++changes;
            has_other_root = has_other_root || reading->symbol.root.semitone() != bass;
        }
    }
    const bool is_long = p.at(last).last_bar > p.at(i).first_bar;
    if (changes < 2 || !has_other_root || !is_long) return std::nullopt;
    return FoundUnit{UnitKind::Pedal, i, last, false, false, p.context().home};
}

// A dominant or diminished chord, or the IV of a major key to its I: a key, not a mode.
bool leads_to(const RowView& p, std::size_t from, std::size_t to) {
    const bool is_plagal = p.is(from, Family::Major) && p.is(to, Family::Major) &&
                           (p.falls(from, to) == kFifthDown || p.falls(to, from) == kFifthDown);
    return is_plagal || p.is(from, Family::Diminished) ||
           (p.is_dominant(from) && p.falls(from, to) == kFifthDown);
}

// Of two chords, the first being the ground.
Mode sway_mode(const RowView& p, std::size_t i) {
    if (!p.is(i, Family::Minor)) return Mode::Mixolydian;
    const bool has_major_fourth = p.falls(i, i + 1) == kFifthDown && !p.is(i + 1, Family::Minor);
    return has_major_fourth ? Mode::Dorian : Mode::Minor;
}

UnitFound modal_stretch(const RowView& p, std::size_t i) {
    const UnitChord& chord = p.at(i);
    if (chord.last_bar - chord.first_bar + 1 >= kStretch && p.is(i, Family::Minor) && !line_cliche(p, i))
        return FoundUnit{UnitKind::ModalStretch,
                         i,
                         i,
                         false,
                         false,
                         p.key_on(i, chord.is_triad ? Mode::Minor : Mode::Dorian)};
    // Two that sway.
    const auto sways = [&](std::size_t k) {
        return p.follows(k) && k >= i + 2 && p.at(k).root == p.at(k - 2).root &&
               p.at(k).family == p.at(k - 2).family;
    };
    if (!p.follows(i + 1)) return std::nullopt;
    if (i > 0 && p.follows(i) && p.at(i - 1).root == p.at(i + 1).root &&
        p.at(i - 1).family == p.at(i + 1).family && p.at(i - 1).section == p.at(i).section)
        return std::nullopt;
    std::size_t last = i + 1;
    while (sways(last + 1) && p.at(last + 1).section == chord.section) ++last;
    const bool leads = leads_to(p, i, i + 1) || leads_to(p, i + 1, i);
    const int bars = p.at(last).last_bar - chord.first_bar + 1;
    if (leads || last < i + 3 || bars < kStretch) return std::nullopt;
    return FoundUnit{UnitKind::ModalStretch, i, last, false, false, p.key_on(i, sway_mode(p, i))};
}

// Keys at equal thirds, each reached by its V.
UnitFound key_cycle(const RowView& p, std::size_t i) {
    constexpr std::size_t kKeysOfCycle = 3;
    const auto arrival_behind = [&](std::size_t k) -> std::optional<std::size_t> {
        for (std::size_t v = k; v <= k + 1; ++v) {
            const bool is_way = p.follows(v) || v == 0;
            if (is_way && v + 1 < p.size() && p.is_dominant(v) && p.follows(v + 1) &&
                p.is(v + 1, Family::Major) && p.falls(v, v + 1) == kFifthDown)
                return v + 1;
        }
        return std::nullopt;
    };
    std::vector<std::size_t> keys;
    if (p.is(i, Family::Major)) keys.push_back(i);
    const auto first = arrival_behind(keys.empty() ? i : i + 1);
    if (keys.empty() && (!first || !p.is_two(i))) return std::nullopt;
    for (auto next = first; next; next = arrival_behind(*next + 1)) {
        const bool is_third = keys.empty() || [&] {
            const int step = up(p.at(keys.back()).root, p.at(*next).root);
            return step == 3 || step == 4 || step == 8 || step == 9;
        }();
        const bool is_equal = keys.size() < 2 || up(p.at(keys.back()).root, p.at(*next).root) ==
                                                     up(p.at(keys[0]).root, p.at(keys[1]).root);
        if (!is_third || !is_equal) break;
        keys.push_back(*next);
    }
    if (keys.size() < kKeysOfCycle) return std::nullopt;
    return FoundUnit{UnitKind::KeyCycle, i, keys.back(), true, false, p.key_on(keys.front(), Mode::Major)};
}

// Twelve bars of a section: I, IV in the fifth, I in the seventh, a dominant in the ninth or tenth.
UnitFound blues_frame(const RowView& p, std::size_t i) {
    constexpr int kBars = 12;
    const UnitChord& one = p.at(i);
    const int section_bars = (*p.context().bars_of_sections)[static_cast<std::size_t>(one.section)];
    if (one.bar_of_section % kBars != 0 || section_bars % kBars != 0) return std::nullopt;
    const auto root_in = [&](int bar) {
        const auto at = sounding_in(p, one.first_bar + bar - 1);
        return at ? up(one.root, p.at(*at).root) : -1;
    };
    const auto is_five = [](int degree) { return degree == kFifthDown || degree == 2 || degree == 8; };
    if (root_in(5) != 5 || (root_in(7) != 0 && root_in(8) != 0)) return std::nullopt;
    if (!is_five(root_in(9)) && !is_five(root_in(10))) return std::nullopt;
    const auto last = sounding_in(p, one.first_bar + kBars - 1);
    if (!last) return std::nullopt;
    std::size_t end = *last;
    while (end + 1 < p.size() && p.at(end + 1).first_bar == one.first_bar + kBars - 1) ++end;
    return FoundUnit{UnitKind::BluesFrame,
                     i,
                     end,
                     false,
                     false,
                     p.key_on(i, p.is(i, Family::Minor) ? Mode::Minor : Mode::Major)};
}

}  // namespace shedbook
