#include "shedbook/band/fretted_chords.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "voicings.h"

namespace shedbook {
namespace {

constexpr std::ptrdiff_t kFourNotes = 4;
// In tenths of a semitone a voice, as voicings.h counts.
constexpr int kRootLeftOut = 12;
constexpr int kBassLeftOut = 300;  // one that the symbol writes: the line is in it
constexpr int kEachFretOver = 8;   // four
constexpr int kHalfStepInside = 18;
constexpr int kColourMissing = 80;
constexpr int kFifthMissing = 15;
constexpr int kFilledUp = 60;      // a note more than the symbol asks for
constexpr int kColourBelow = 6;    // for each guide tone over it
constexpr int kColourLowest = 30;  // it is heard as the root
constexpr int kOffBestFret = 5;    // for each fret
constexpr int kBestFret = 5;       // of the lowest: the middle of the part of the neck that comping lies on
constexpr int kBestFretOfPlain = 2;

bool has_class(const std::vector<int>& classes, int key) {
    return std::ranges::find(classes, key % 12) != classes.end();
}

// What a shape is made of, by pitch class.
struct ShapeTones {
    int bass = 0;
    std::vector<int> guide;           // must be there
    std::vector<int> colour;          // of the band's voicing
    std::ptrdiff_t without_root = 0;  // notes of the band's voicing
    std::vector<int> plain;           // root and fifth, where there are not enough others

    ShapeTones(const ChordSymbol& symbol, bool wants_fifth)
        : bass{symbol.bass.value_or(symbol.root).semitone()} {
        const std::vector<int> tones = comping_tones(symbol);
        const int root = symbol.root.semitone();
        for (std::size_t i = 0; i < tones.size(); ++i) {
            const bool is_fifth = tones[i] == (root + 7) % 12;
            if (i < 2) {
                guide.push_back(tones[i]);
            } else if (tones[i] != root && (wants_fifth || !is_fifth)) {
                colour.push_back(tones[i]);
            }
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
        return std::unique(all.begin(), all.end()) - all.begin() >= kFourNotes;
    }
    [[nodiscard]] bool has_enough_without_root() const { return without_root >= kFourNotes; }
    [[nodiscard]] bool is_needed(int key) const { return has_class(guide, key) || has_class(colour, key); }
};

// The strings of a shape, rising, and whether its bass must lie on the first of them.
struct ShapeStrings {
    std::vector<std::size_t> strings;
    bool is_on_bass = false;
};

bool has_low_strings(const Fretboard& board) {
    return board.open.size() >= kStringsWithBasses;
}

std::vector<ShapeStrings> strings_with_bass() {
    return {{{0, 2, 3}, true}, {{0, 2, 3, 4}, true}, {{1, 2, 3}, true}, {{1, 2, 3, 4}, true}};
}

std::vector<ShapeStrings> strings_side_by_side(const Fretboard& board) {
    constexpr std::size_t kSideBySide = 4;
    std::vector<ShapeStrings> out;
    for (std::size_t from = 0; from + kSideBySide <= board.open.size(); ++from)
        out.push_back({{from, from + 1, from + 2, from + 3}, from == 0 && has_low_strings(board)});
    return out;
}

using CostedShape = std::pair<FrettedChord, int>;

class ShapesOfChord {
  public:
    ShapesOfChord(const ChordSymbol& symbol, const Fretboard& board)
        : tones_{symbol, has_low_strings(board) && !board.is_plain},
          root_{symbol.root.semitone()},
          board_{board} {}

    std::vector<CostedShape> make(const std::vector<ShapeStrings>& all) {
        for (const ShapeStrings& strings : all) {
            strings_ = &strings;
            for (int low = board_.frets.low; low <= board_.frets.high; ++low) {
                keys_.clear();
                frets_.clear();
                extend(low);
            }
        }
        return std::move(out_);
    }

  private:
    // The next string of the shape, within the frets of a hand that begins at `low` and uses that fret.
    void extend(int low) {
        if (keys_.size() == strings_->strings.size()) {
            if (std::ranges::find(frets_, low) != frets_.end()) keep(low);
            return;
        }
        constexpr int kWideFrets = 7;
        const int open = board_.open[strings_->strings[keys_.size()]];
        const int width = low <= kWideFrets ? board_.width_below_eight : board_.width;
        const int last = std::min(low + width - 1, board_.frets.high);
        for (int fret = low; fret <= last; ++fret) {
            const int key = open + fret;
            if (key < board_.sounding.low || key > board_.sounding.high || !may_follow(key)) continue;
            keys_.push_back(key);
            frets_.push_back(fret);
            extend(low);
            keys_.pop_back();
            frets_.pop_back();
        }
    }

    // Each note once, of chords that have four; the bass only below the others.
    [[nodiscard]] bool may_follow(int key) const {
        if (keys_.empty() && strings_->is_on_bass) return key % 12 == tones_.bass;
        if (!tones_.has_four()) return tones_.has(key) || (keys_.empty() && key % 12 == tones_.bass);
        if (std::ranges::any_of(keys_, [&](int other) { return other % 12 == key % 12; })) return false;
        if (key % 12 == tones_.bass && has_class(tones_.guide, key)) return true;
        if (key % 12 == tones_.bass && tones_.bass != root_) return keys_.empty();
        if (key % 12 == root_) return keys_.empty() || !tones_.has_enough_without_root();
        return tones_.has(key);
    }

    void keep(int low) {
        const bool has_guides = std::ranges::all_of(tones_.guide, [&](int guide) {
            return std::ranges::any_of(keys_, [&](int key) { return key % 12 == guide; });
        });
        if (!has_guides) return;
        FrettedChord chord;
        chord.frets.resize(board_.open.size());
        for (std::size_t i = 0; i < keys_.size(); ++i) chord.frets[strings_->strings[i]] = frets_[i];
        chord.keys = keys_;
        std::ranges::sort(chord.keys);
        const int best = board_.is_plain && strings_->is_on_bass ? kBestFretOfPlain : kBestFret;
        const int cost = kOffBestFret * std::abs(low - best) + cost_of(chord.keys) +
                         kEachFretOver * std::max(0, std::ranges::max(frets_) - low - 3);
        out_.emplace_back(std::move(chord), cost);
    }

    [[nodiscard]] int cost_of(const Voicing& keys) const {
        const int lowest = keys.front();
        int cost = 0;
        if (lowest % 12 != tones_.bass) {
            cost += kRootLeftOut;
            if (tones_.bass != root_) cost += kBassLeftOut;
            if (has_class(tones_.colour, lowest)) cost += kColourLowest;
        }
        for (const int colour : tones_.colour) {
            const auto is_it = [&](int key) { return key % 12 == colour; };
            if (std::ranges::none_of(keys, is_it))
                cost += colour == (root_ + 7) % 12 ? kFifthMissing : kColourMissing;
        }
        for (std::size_t i = 0; i < keys.size(); ++i) {
            const auto above = std::span{keys}.subspan(i);
            if (has_class(tones_.colour, keys[i]))
                cost += kColourBelow * static_cast<int>(std::ranges::count_if(
                                           above, [&](int other) { return has_class(tones_.guide, other); }));
            if (i > 0 && keys[i] - keys[i - 1] == 1) cost += kHalfStepInside;
            if (board_.is_plain && i > 0 && !tones_.is_needed(keys[i])) cost += kFilledUp;
        }
        return cost;
    }

    ShapeTones tones_;
    int root_;
    const Fretboard& board_;
    const ShapeStrings* strings_ = nullptr;
    std::vector<int> keys_;
    std::vector<int> frets_;
    std::vector<CostedShape> out_;
};

std::vector<CostedShape> shapes_of(const ChordSymbol& symbol, const Fretboard& board) {
    if (has_low_strings(board)) {
        Fretboard wide = board;
        wide.width_below_eight = board.width;
        for (const Fretboard& tried : {board, wide}) {
            auto out = ShapesOfChord{symbol, tried}.make(strings_with_bass());
            if (!out.empty()) return out;
        }
    }
    return ShapesOfChord{symbol, board}.make(strings_side_by_side(board));
}

std::size_t lowest_string(const FrettedChord& shape) {
    return static_cast<std::size_t>(
        std::ranges::find_if(shape.frets, [](const auto& fret) { return fret.has_value(); }) -
        shape.frets.begin());
}

// Those that lie elsewhere, if there are some.
void keep_others(std::vector<CostedShape>& shapes, const FrettedChord& unlike, const Fretboard& board) {
    auto others = shapes;
    std::erase_if(others, [&](const CostedShape& shape) {
        return has_low_strings(board) ? lowest_string(shape.first) == lowest_string(unlike)
                                      : shape.first.keys.front() % 12 == unlike.keys.front() % 12;
    });
    if (!others.empty()) shapes = std::move(others);
}

}  // namespace

std::vector<FrettedChord> comping_shapes(std::span<const ChordSymbol> symbols, const Fretboard& board,
                                         const FrettedChord& unlike) {
    std::vector<std::vector<CostedShape>> shapes;
    std::vector<std::vector<Placed>> choices;
    for (const ChordSymbol& symbol : symbols) {
        shapes.push_back(shapes_of(symbol, board));
        if (shapes.size() == 1 && !unlike.frets.empty()) keep_others(shapes.back(), unlike, board);
        if (shapes.back().empty()) return {};
        std::vector<Placed>& placed = choices.emplace_back();
        // What moves little is what lies over the bass.
        const std::ptrdiff_t over = has_low_strings(board) ? 1 : 0;
        for (const auto& [shape, cost] : shapes.back())
            placed.push_back({{shape.keys.begin() + over, shape.keys.end()}, cost});
    }
    std::vector<FrettedChord> out;
    const std::vector<std::size_t> row = cheapest_row(choices);
    for (std::size_t i = 0; i < row.size(); ++i) out.push_back(shapes[i][row[i]].first);
    return out;
}

}  // namespace shedbook
