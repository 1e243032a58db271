#include "chord_statement.h"

#include <algorithm>
#include <array>
#include <bit>

namespace shedbook {
namespace {

// Where the symbol has one of `has` (semitones over the root) and not `plain`, the plain one unsays it.
struct Denial {
    ChordFamily family;
    std::vector<int> has;
    int plain;
};

const std::array<Denial, 7>& denials() {
    static const std::array<Denial, 7> kDenials{{{ChordFamily::Dominant, {1, 3}, 2},
                                                 {ChordFamily::Dominant, {8}, 9},
                                                 {ChordFamily::Dominant, {6, 8}, 7},
                                                 {ChordFamily::HalfDiminished, {6}, 7},
                                                 {ChordFamily::HalfDiminished, {3}, 4},
                                                 {ChordFamily::Major, {9, 11}, 10},
                                                 {ChordFamily::Major, {4}, 3}}};
    return kDenials;
}

SoundSet sounds_of(const std::vector<int>& over_root, int root) {
    SoundSet out = 0;
    for (const int note : over_root) out |= sound(root + note);
    return out;
}

}  // namespace

ChordStatement statement_of(const ChordFacts& facts, const ChordSymbol& symbol) {
    const int root = symbol.root.semitone();
    const ChordFamily own = family(symbol);
    const bool is_altered = symbol.kind->id == "altered_seventh";
    const SoundSet named = facts.all | (is_altered ? sounds_of({1, 3, 6, 8}, root) : 0U);
    ChordStatement out{facts.tones, {}, 0};
    const auto ask = [&](const std::vector<int>& over_root) {
        if (const SoundSet set = sounds_of(over_root, root) & named; set != 0) out.each.push_back(set);
    };
    if (own == ChordFamily::Dominant) {
        ask({4});
        ask({1, 3, 6, 8});
    }
    if (own == ChordFamily::HalfDiminished) {
        ask({6});
        ask({0, 3});
    }
    // What a diminished chord brings is its root, whose other tones the chord before may have; and a minor
    // sixth chord, mostly a iv, is told from the major one by its third.
    if (own == ChordFamily::Diminished) ask({0});
    if (own == ChordFamily::Minor && (sounds_of({9}, root) & facts.tones) != 0) ask({3});
    for (const Denial& denial : denials()) {
        if (denial.family == own && (sounds_of(denial.has, root) & named) != 0)
            out.denies |= sound(root + denial.plain);
    }
    out.denies &= ~named;
    return out;
}

SoundSet held_over(const ChordFacts& facts, const ChordSymbol& symbol, SoundSet scale) {
    struct Colours {
        ChordFamily family;
        std::vector<int> over_root;
    };
    static const std::array<Colours, 4> kColours{{{ChordFamily::Major, {2, 9}},
                                                  {ChordFamily::Minor, {2, 5}},
                                                  {ChordFamily::Dominant, {1, 2, 3, 6, 8, 9}},
                                                  {ChordFamily::Suspended, {2, 9}}}};
    SoundSet out = facts.all;
    for (const Colours& colours : kColours) {
        if (colours.family == family(symbol))
            out |= sounds_of(colours.over_root, symbol.root.semitone()) & scale;
    }
    return out & ~facts.sus_third;
}

int unstated(const ChordStatement& says, SoundSet heard, std::size_t count) {
    const int notes = static_cast<int>(count);
    const int colours = static_cast<int>(
        std::ranges::count_if(says.each, [&](SoundSet set) { return (set & says.tones) == 0; }));
    const int wanted = std::clamp(notes - colours, 1, 2);
    const int tones = std::min(wanted, std::popcount(says.tones)) - std::popcount(heard & says.tones);
    const int each =
        std::min(notes, static_cast<int>(says.each.size())) -
        static_cast<int>(std::ranges::count_if(says.each, [&](SoundSet set) { return (set & heard) != 0; }));
    return std::max({0, tones, each});
}

}  // namespace shedbook
