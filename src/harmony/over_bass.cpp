#include "over_bass.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <string>
#include <string_view>

#include "chord_view.h"
#include "shedbook/base/text.h"
#include "shedbook/harmony/analysis.h"

namespace shedbook {
namespace {

// A chord over a bass: its tones over its own root, where the bass lies over that root (half steps), and the
// rest of the symbol that it sounds as on either. What is empty is not heard. Each name holds what sounds
// (calc); a third or fifth that the hand leaves out is the one that the name has.
struct OverBassRow {
    std::string_view source;
    std::string_view degrees;
    int bass;
    std::string_view on_bass;
    std::string_view on_root = {};
};

// clang-format off
constexpr OverBassRow kOverBass[]{
    // The triads a step above the bass and its like: trade notes row 39, LEV.
    {"39, LEV", "1 3 5", 2, "9sus4"},
    {"39, CP", "1 3 5 6", 2, "9sus4"},
    {"39, CP", "1 2 3 5", 2, "9sus4"},
    {"39, CP", "1 2 3 5 6", 2, "9sus4"},
    {"39, CP", "1 3 5 7", 2, "13sus4"},
    {"39, CP", "1 2 3 5 7", 2, "13sus4"},
    {"39, LEV", "1 b3 5 b7", 5, "9sus4"},
    {"39, CP", "1 2 b3 5 b7", 5, "13sus4"},
    {"39, CP", "1 2 b3 4 5 b7", 5, "13sus4"},
    {"39, CP", "1 b3 5", 5, "9sus4"},
    // Other major triads.
    {"CP", "1 3 5", 1, "dim(maj7)"},
    {"CP", "1 3 5", 3, "13(b9)"},
    {"CP", "1 3 5", 5, "maj9"},
    {"CP", "1 3 5", 6, "7(b9,#11)"},
    {"CP", "1 3 5", 8, "maj7(#5)"},
    {"CP", "1 3 5", 9, "m7"},
    {"CP", "1 3 5", 10, "6/9(#11)", "7"},
    {"LEV", "1 3 5", 11, "7sus4(b9,b13)", "maj7"},
    // Minor triads.
    {"CP", "1 b3 5", 1, "maj9(#11)"},
    {"33, LEV", "1 b3 5", 2, "7sus4(b9)"},
    {"calc", "1 b3 5", 4, "m(maj7,b13)"},
    {"calc", "1 b3 5", 6, "dim7(b9)"},
    {"CP", "1 b3 5", 8, "maj7"},
    {"CP", "1 b3 5", 9, "m7b5"},
    {"CP", "1 b3 5", 10, "", "m7"},
    {"CP", "1 b3 5", 11, "", "m(maj7)"},
    // Diminished and augmented triads.
    {"CP", "1 b3 b5", 2, "7(b9)"},
    {"CP", "1 b3 b5", 5, "7(b9)"},
    {"CP", "1 b3 b5", 8, "7"},
    {"CP", "1 b3 b5", 9, "dim7"},
    {"CP", "1 b3 b5", 10, "", "m7b5"},
    {"calc", "1 3 #5", 1, "m(maj7)"},
    {"calc", "1 3 #5", 5, "m(maj7)"},
    {"calc", "1 3 #5", 9, "m(maj7)"},
    {"calc", "1 3 #5", 2, "9(b5)"},
    {"calc", "1 3 #5", 6, "9(b5)"},
    {"calc", "1 3 #5", 10, "9(b5)"},
    // Four notes that make five with the bass.
    {"CP", "1 3 5 7", 5, "maj9(#11)"},
    {"CP", "1 3 5 7", 9, "m9"},
    {"CP", "1 b3 5 b7", 2, "7sus4(b9,b13)"},
    {"CP", "1 b3 5 b7", 8, "maj9"},
    {"CP", "1 b3 5 6", 5, "9"},
    {"CP", "1 b3 b5 b7", 5, "7sus4(b9)"},
    {"CP", "1 b3 b5 b7", 8, "9"},
    {"CP", "1 b3 b5 6", 2, "7(b9)"},
    {"CP", "1 b3 b5 6", 5, "7(b9)"},
    {"CP", "1 b3 b5 6", 8, "7(b9)"},
    {"CP", "1 b3 b5 6", 11, "7(b9)"},
    {"calc", "1 3 5 b7", 3, "13(b9)"},
    {"calc", "1 3 5 b7", 6, "7(b9,#11)"},
};
// clang-format on

constexpr std::array<std::string_view, 12> kDegreeNames{"1",  "b2", "2",  "b3", "3",  "4",
                                                        "b5", "5",  "#5", "6",  "b7", "7"};

unsigned tones_of(std::string_view degrees) {
    unsigned out = 0;
    for (const std::string_view degree : split(degrees, ' ')) {
        const auto* const found = std::ranges::find(kDegreeNames, degree);
        out |= bit(static_cast<int>(found - kDegreeNames.begin()));
    }
    return out;
}

// The table with its names read, each on C.
struct OverBass {
    unsigned tones = 0;
    int bass = 0;
    std::optional<ChordSymbol> on_bass, on_root;
};

const std::vector<OverBass>& over_bass_table() {
    static const std::vector<OverBass> kTable = [] {
        const auto on_c = [](std::string_view rest) {
            return rest.empty() ? std::nullopt : parse_chord_symbol("C" + std::string{rest});
        };
        std::vector<OverBass> out;
        for (const OverBassRow& row : kOverBass) {
            out.push_back({tones_of(row.degrees), row.bass, on_c(row.on_bass), on_c(row.on_root)});
        }
        return out;
    }();
    return kTable;
}

const OverBass* row_of(const ChordSymbol& symbol) {
    if (!symbol.bass) return nullptr;
    const int bass = above(symbol.bass->semitone(), symbol.root.semitone());
    const unsigned tones = pitch_set(symbol);
    const auto found = std::ranges::find_if(
        over_bass_table(), [&](const OverBass& row) { return row.bass == bass && row.tones == tones; });
    return found == over_bass_table().end() ? nullptr : &*found;
}

ChordSymbol named(ChordSymbol on_c, PitchClass root) {
    on_c.root = root;
    return on_c;
}

PitchClass bass_of(const ChordSymbol& symbol) {
    return symbol.bass.value_or(symbol.root);
}

// Down or up, a half or a whole step.
bool is_step(PitchClass a, PitchClass b) {
    const int up = above(a.semitone(), b.semitone());
    return up == 1 || up == 2 || up == 10 || up == 11;
}

// The same chord over a bass a step away: a line in the bass.
bool is_in_line(const ChordSymbol& a, const ChordSymbol* b) {
    if (b == nullptr) return false;
    ChordSymbol other = *b;
    other.bass = a.bass;
    return other == a && is_step(bass_of(a), bass_of(*b));
}

// A seventh in the bass goes down a step, or its chord falls a fifth; over a bass that stays it does not.
bool goes_on_as_seventh(const ChordSymbol& symbol, const ChordSymbol* next) {
    if (next == nullptr || bass_of(*next).semitone() == bass_of(symbol).semitone()) return false;
    const int down = above(bass_of(symbol).semitone(), bass_of(*next).semitone());
    return down == 1 || down == 2 || above(symbol.root.semitone(), next->root.semitone()) == 7;
}

// V over a tonic that is held: F C/F F.
bool is_five_over_tonic(const ChordSymbol& symbol, const ChordSymbol* beside) {
    const bool falls = above(symbol.root.semitone(), symbol.bass->semitone()) == 7;
    return beside != nullptr && falls && pitch_set(symbol) == tones_of("1 3 5") &&
           beside->root.semitone() == symbol.bass->semitone() &&
           bass_of(*beside).semitone() == symbol.bass->semitone();
}

ChordSymbol heard_between(const ChordSymbol* before, const ChordSymbol& symbol, const ChordSymbol* next) {
    const OverBass* row = row_of(symbol);
    if (row == nullptr) return symbol;
    const bool comes = is_in_line(symbol, before);
    const bool goes = is_in_line(symbol, next);
    if (row->on_root) {
        const bool is_inverted = !row->on_bass || comes || goes || goes_on_as_seventh(symbol, next);
        return is_inverted ? named(*row->on_root, symbol.root) : named(*row->on_bass, *symbol.bass);
    }
    if (is_five_over_tonic(symbol, before) || is_five_over_tonic(symbol, next)) return symbol;
    // A suspension may well begin or end with its own triad: G G/A A7.
    const bool suspends = family(*row->on_bass) == ChordFamily::Suspended;
    const bool passes = suspends ? comes && goes : comes || goes;
    return passes ? symbol : named(*row->on_bass, *symbol.bass);
}

}  // namespace

ChordSymbol heard_by_itself(const ChordSymbol& symbol) {
    return heard_between(nullptr, symbol, nullptr);
}

std::vector<ChordSymbol> heard_in_row(const std::vector<ChordSymbol>& written) {
    std::vector<ChordSymbol> out;
    out.reserve(written.size());
    for (auto here = written.begin(); here != written.end(); ++here) {
        if (!here->bass) {
            out.push_back(*here);
            continue;
        }
        const auto is_other = [&](const ChordSymbol& symbol) { return symbol != *here; };
        const auto next = std::find_if(here, written.end(), is_other);
        const auto before = std::find_if(std::make_reverse_iterator(here), written.rend(), is_other);
        out.push_back(heard_between(before == written.rend() ? nullptr : &*before, *here,
                                    next == written.end() ? nullptr : &*next));
    }
    return out;
}

bool is_suspension_over_bass(const ChordSymbol& symbol) {
    const OverBass* row = row_of(symbol);
    return row != nullptr && row->on_bass && !row->on_root && family(*row->on_bass) == ChordFamily::Suspended;
}

}  // namespace shedbook
