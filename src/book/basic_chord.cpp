#include "basic_chord.h"

#include <array>

namespace shedbook {
namespace {

// Tones that a chord must have (semitones over the root), and what it is at bottom; the first row that fits
// counts.
struct Row {
    int third;    // -1: none needed
    int fifth;    // 6 and 8 only where they make the chord what it is
    int seventh;  // 9 is a sixth, or a diminished seventh over a diminished fifth
    const char* kind;
};

constexpr std::array<Row, 11> kRows{{
    {3, 6, 9, "diminished_seventh"},
    {3, 6, 10, "half_diminished"},
    {3, -1, 11, "minor_major_seventh"},
    {3, -1, 10, "minor_seventh"},
    {3, -1, 9, "minor_sixth"},
    {4, -1, 11, "major_seventh"},
    {4, -1, 10, "dominant_seventh"},
    {4, -1, 9, "major_sixth"},
    {5, -1, 10, "seventh_suspended_fourth"},
    {3, -1, -1, "minor"},
    {4, -1, -1, "major"},
}};

}  // namespace

std::optional<ChordSymbol> basic_chord(const ChordSymbol& symbol) {
    const auto has = [&](int tone) { return tone < 0 || has_tone(symbol, tone); };
    // A perfect fifth beside the diminished one makes the latter a colour.
    const bool is_diminished = !has_tone(symbol, 7);
    for (const Row& row : kRows) {
        if (row.fifth == 6 && !is_diminished) continue;
        if (!has(row.third) || !has(row.fifth) || !has(row.seventh)) continue;
        ChordSymbol out;
        out.root = symbol.root;
        out.kind = find_chord_kind(row.kind);
        if (pitch_set(out) == pitch_set(symbol)) return std::nullopt;
        return out;
    }
    return std::nullopt;
}

}  // namespace shedbook
