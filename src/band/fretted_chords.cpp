#include "shedbook/band/fretted_chords.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "voicings.h"

namespace shedbook {
namespace {

// In tenths of a semitone a voice, as voicings.h counts.
constexpr int kRootLeftOut = 12;
constexpr int kBassLeftOut = 300;  // one that the symbol writes: the line is in it
constexpr int kEachFretOver = 8;   // four
constexpr int kHalfStepInside = 18;
constexpr int kColourMissing = 20;
constexpr int kColourBelow = 6;    // for each guide tone over it
constexpr int kColourLowest = 30;  // it is heard as the root
constexpr int kOffBestFret = 5;    // for each fret
constexpr int kBestFret = 5;       // of the lowest: the middle of the part of the neck that comping lies on

bool has_class(const std::vector<int>& classes, int key) {
    return std::ranges::find(classes, key % 12) != classes.end();
}

// What a shape is made of, by pitch class.
struct ShapeTones {
    int bass = 0;
    std::vector<int> guide;        // must be there
    std::vector<int> colour;       // of the band's voicing
    std::size_t without_root = 0;  // notes of the band's voicing
    std::vector<int> plain;        // root and fifth, where there are not enough others

    explicit ShapeTones(const ChordSymbol& symbol) : bass{symbol.bass.value_or(symbol.root).semitone()} {
        const std::vector<int> tones = comping_tones(symbol);
        const int root = symbol.root.semitone();
        for (std::size_t i = 0; i < tones.size(); ++i) {
            const bool is_plain = tones[i] == root || tones[i] == (root + 7) % 12;
            if (i < 2 || !is_plain) (i < 2 ? guide : colour).push_back(tones[i]);
            if (tones[i] != root) ++without_root;
        }
        plain.push_back(root);
        if (has_tone(symbol, 7)) plain.push_back((root + 7) % 12);
    }
    [[nodiscard]] bool has(int key) const {
        return has_class(guide, key) || has_class(colour, key) || has_class(plain, key);
    }
    [[nodiscard]] bool has_four() const {
        std::vector<int> all{guide};
        all.insert(all.end(), colour.begin(), colour.end());
        all.insert(all.end(), plain.begin(), plain.end());
        std::ranges::sort(all);
        return std::unique(all.begin(), all.end()) - all.begin() >=
               static_cast<std::ptrdiff_t>(kShapeStrings);
    }
    [[nodiscard]] bool has_enough_without_root() const { return without_root >= kShapeStrings; }
};

class ShapesOfChord {
  public:
    ShapesOfChord(const ChordSymbol& symbol, const Fretboard& board)
        : tones_{symbol}, root_{symbol.root.semitone()}, board_{board} {}

    std::vector<std::pair<FrettedChord, int>> make() {
        for (std::size_t from = 0; from + kShapeStrings <= board_.open.size(); ++from) {
            for (int low = board_.frets.low; low <= board_.frets.high; ++low) {
                keys_.clear();
                frets_.clear();
                extend(from, low);
            }
        }
        return std::move(out_);
    }

  private:
    // The next string of the shape, within the frets of a hand that begins at `low` and uses that fret.
    void extend(std::size_t from, int low) {
        if (keys_.size() == kShapeStrings) {
            if (std::ranges::find(frets_, low) != frets_.end()) keep(from, low);
            return;
        }
        const int open = board_.open[from + keys_.size()];
        const int last = std::min(low + board_.width - 1, board_.frets.high);
        for (int fret = low; fret <= last; ++fret) {
            const int key = open + fret;
            if (key < board_.sounding.low || key > board_.sounding.high || !may_follow(key)) continue;
            keys_.push_back(key);
            frets_.push_back(fret);
            extend(from, low);
            keys_.pop_back();
            frets_.pop_back();
        }
    }

    // Each note once, of chords that have four; the bass only below the others.
    [[nodiscard]] bool may_follow(int key) const {
        if (!tones_.has_four()) return tones_.has(key) || (keys_.empty() && key % 12 == tones_.bass);
        if (std::ranges::any_of(keys_, [&](int other) { return other % 12 == key % 12; })) return false;
        if (key % 12 == tones_.bass && has_class(tones_.guide, key)) return true;
        if (key % 12 == tones_.bass && tones_.bass != root_) return keys_.empty();
        if (key % 12 == root_) return keys_.empty() || !tones_.has_enough_without_root();
        return tones_.has(key);
    }

    void keep(std::size_t from, int low) {
        const bool has_guides = std::ranges::all_of(tones_.guide, [&](int guide) {
            return std::ranges::any_of(keys_, [&](int key) { return key % 12 == guide; });
        });
        const int lowest = *std::ranges::min_element(keys_);
        const bool is_on_root = lowest % 12 == tones_.bass;
        if (!has_guides) return;
        FrettedChord chord;
        chord.frets.resize(board_.open.size());
        for (std::size_t i = 0; i < kShapeStrings; ++i) chord.frets[from + i] = frets_[i];
        chord.keys = keys_;
        std::ranges::sort(chord.keys);
        int cost = kOffBestFret * std::abs(low - kBestFret) + (is_on_root ? 0 : kRootLeftOut);
        if (!is_on_root && tones_.bass != root_) cost += kBassLeftOut;
        if (!is_on_root && has_class(tones_.colour, lowest)) cost += kColourLowest;
        cost += kColourMissing * static_cast<int>(std::ranges::count_if(tones_.colour, [&](int colour) {
                    return std::ranges::none_of(keys_, [&](int key) { return key % 12 == colour; });
                }));
        cost += kEachFretOver * std::max(0, std::ranges::max(frets_) - low - 3);
        for (std::size_t i = 0; i < kShapeStrings; ++i) {
            const int key = chord.keys[i];
            const auto above = std::span{chord.keys}.subspan(i);
            if (has_class(tones_.colour, key))
                cost += kColourBelow * static_cast<int>(std::ranges::count_if(
                                           above, [&](int other) { return has_class(tones_.guide, other); }));
            if (i > 0 && key - chord.keys[i - 1] == 1) cost += kHalfStepInside;
        }
        out_.emplace_back(std::move(chord), cost);
    }

    ShapeTones tones_;
    int root_;
    const Fretboard& board_;
    std::vector<int> keys_;
    std::vector<int> frets_;
    std::vector<std::pair<FrettedChord, int>> out_;
};

// Those on another note, if there are some.
void keep_others(std::vector<std::pair<FrettedChord, int>>& shapes, int lowest) {
    auto others = shapes;
    std::erase_if(others, [&](const auto& shape) { return shape.first.keys.front() % 12 == lowest % 12; });
    if (!others.empty()) shapes = std::move(others);
}

}  // namespace

std::vector<FrettedChord> comping_shapes(std::span<const ChordSymbol> symbols, const Fretboard& board,
                                         const Voicing& unlike) {
    std::vector<std::vector<std::pair<FrettedChord, int>>> shapes;
    std::vector<std::vector<Placed>> choices;
    for (const ChordSymbol& symbol : symbols) {
        shapes.push_back(ShapesOfChord{symbol, board}.make());
        if (shapes.size() == 1 && !unlike.empty()) keep_others(shapes.back(), unlike.front());
        if (shapes.back().empty()) return {};
        std::vector<Placed>& placed = choices.emplace_back();
        for (const auto& [shape, cost] : shapes.back()) placed.push_back({shape.keys, cost});
    }
    std::vector<FrettedChord> out;
    const std::vector<std::size_t> row = cheapest_row(choices);
    for (std::size_t i = 0; i < row.size(); ++i) out.push_back(shapes[i][row[i]].first);
    return out;
}

}  // namespace shedbook
