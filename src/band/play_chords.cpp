#include <algorithm>
#include <cstdlib>
#include <iterator>
#include <numeric>

#include "bass_beats.h"
#include "chord_strokes.h"
#include "ending.h"
#include "voicings.h"

namespace shedbook {
namespace {

constexpr KeySpan kChords{kBandChordsLowest, kBandChordsHighest};
constexpr std::size_t kGuides = 2;
// How much later a swung stroke sounds than it is written: then a triplet of the line sounds with it.
constexpr Duration kSwung{Rational{1, 24}};
// In tenths of a semitone, as voicings.h counts: a voice on the line's key, or a half step beside it.
constexpr int kOnLine = 24;
constexpr int kBesideLine = 18;
constexpr int kOverLine = 3;  // so that the line is on top
constexpr int kFar = 30;      // a voice, on average

// The keys of the line that sound with a stroke, and those of them that sound when it is struck.
struct LineKeys {
    std::vector<int> all;
    std::vector<int> at_once;
};
LineKeys line_keys(std::span<const BandNote> line, const CompingStroke& stroke) {
    LineKeys out;
    const auto after = std::ranges::lower_bound(line, stroke.at + stroke.length, {}, &BandNote::at);
    // No note of a line is longer than this many before it.
    constexpr std::ptrdiff_t kFarBack = 64;
    const auto from = after - line.begin() > kFarBack ? after - kFarBack : line.begin();
    for (auto note = from; note != after; ++note) {
        if (note->at + note->length <= stroke.at) continue;
        out.all.push_back(note->key);
        if (note->at - stroke.at <= kSwung) out.at_once.push_back(note->key);
    }
    return out;
}

bool holds_guide(const Voicing& voicing, const std::vector<int>& tones, int key) {
    const auto guides = tones.begin() + static_cast<std::ptrdiff_t>(std::min(kGuides, tones.size()));
    return std::find(tones.begin(), guides, key % 12) != guides &&
           std::ranges::find(voicing, key) != voicing.end();
}

// A seventh or sixth chord takes its ninth, the root's stand-in, where the chords around have that note; a
// half-diminished one its eleventh, as its ninth is flat in most keys. Common practice, no source.
std::vector<int> tones_of(const RhythmSection& band, std::size_t chord) {
    const ChordSymbol& symbol = *band.chords[chord].symbol;
    std::vector<int> out = comping_tones(symbol);
    constexpr std::size_t kWithRoom = 3;
    const int root = symbol.root.semitone();
    const int more = (root + (family(symbol) == ChordFamily::HalfDiminished ? 5 : 2)) % 12;
    const bool has_root = std::ranges::find(out, root) != out.end();
    if (band.style == BandStyle::Pop || out.size() != kWithRoom || has_root) return out;
    if (bass_tones(band.chords, chord)[static_cast<std::size_t>(more)] == BassTone::Scale)
        out.push_back(more);
    return out;
}

std::vector<Placed> choices_for(const std::vector<int>& tones, const LineKeys& line) {
    std::vector<Placed> all = placed_voicings(tones, kChords);
    for (Placed& placed : all) {
        for (const int key : line.all) {
            for (const int voice : placed.voicing) {
                if (voice == key) placed.cost += kOnLine;
                if (std::abs(voice - key) == 1) placed.cost += kBesideLine;
                if (voice > key) placed.cost += kOverLine;
            }
        }
    }
    std::vector<Placed> clear;
    for (const Placed& placed : all) {
        const bool is_on_line = std::ranges::any_of(
            line.at_once, [&](int key) { return holds_guide(placed.voicing, tones, key); });
        if (!is_on_line) clear.push_back(placed);
    }
    return clear.empty() ? all : clear;
}

// A chord that lasts longer than two bars goes on in other places of the keyboard, up and down again, now
// with its ninth, now with its root.
constexpr std::int64_t kLong = 2;
constexpr Rational kPlaceLasts{3, 2};        // bars, and then to the next stroke
constexpr int kPlaces[]{0, 3, 6, 3, 0, -3};  // semitones from the middle
constexpr int kOffPlace = 9;                 // for each semitone

struct StrokePlace {
    bool is_long = false;  // of a long chord
    bool moves = false;    // begins another place
    int middle = 0;        // of its voices
};

class LongChords {
  public:
    LongChords(const RhythmSection& band, const std::vector<CompingStroke>& strokes)
        : band_{band}, strokes_{strokes}, out_(strokes.size()) {}

    std::vector<StrokePlace> places() {
        for (std::size_t from = 0; from < strokes_.size();) {
            std::size_t to = from + 1;
            while (to < strokes_.size() && is_same(from, to)) ++to;
            place(from, to);
            from = to;
        }
        return std::move(out_);
    }

  private:
    [[nodiscard]] const BandChord& chord(std::size_t stroke) const {
        return band_.chords[strokes_[stroke].chord];
    }
    [[nodiscard]] bool is_same(std::size_t a, std::size_t b) const {
        return comping_tones(*chord(a).symbol) == comping_tones(*chord(b).symbol);
    }
    [[nodiscard]] Duration bar_at(Position at) const {
        const auto after = std::ranges::upper_bound(band_.bars, at, {}, &BandBar::at);
        return (after == band_.bars.begin() ? *after : *(after - 1)).meter.bar_length();
    }

    void place(std::size_t from, std::size_t to) {
        const Duration bar = bar_at(strokes_[from].at);
        const BandChord& last = chord(to - 1);
        if (last.at + last.length - strokes_[from].at <= bar * Rational{kLong}) return;
        Position begun = strokes_[from].at;
        std::size_t which = 0;
        for (std::size_t i = from; i < to; ++i) {
            const bool moves = strokes_[i].at - begun >= bar * kPlaceLasts;
            if (moves) {
                begun = strokes_[i].at;
                ++which;
            }
            out_[i] = {true, moves, (kChords.low + kChords.high) / 2 + kPlaces[which % std::size(kPlaces)]};
        }
    }

    const RhythmSection& band_;
    const std::vector<CompingStroke>& strokes_;
    std::vector<StrokePlace> out_;
};

std::vector<Placed> choices_at(const RhythmSection& band, const CompingStroke& stroke,
                               const StrokePlace& place) {
    constexpr std::size_t kMost = 4;
    const LineKeys line = line_keys(band.line, stroke);
    std::vector<int> tones = tones_of(band, stroke.chord);
    std::vector<Placed> out = choices_for(tones, line);
    if (!place.is_long) return out;
    const int root = band.chords[stroke.chord].symbol->root.semitone();
    if (std::ranges::find(tones, root) == tones.end()) {
        tones.resize(std::min(tones.size(), kMost - 1));
        tones.push_back(root);
        for (Placed& placed : choices_for(tones, line)) {
            if (placed.voicing.size() == tones.size()) out.push_back(std::move(placed));
        }
    }
    for (Placed& placed : out) {
        const int sum = std::accumulate(placed.voicing.begin(), placed.voicing.end(), 0);
        const auto voices = static_cast<int>(placed.voicing.size());
        placed.cost += kOffPlace * std::abs(sum - voices * place.middle) / voices;
    }
    return out;
}

}  // namespace

std::vector<BandNote> play_chords(const RhythmSection& band) {
    std::vector<CompingStroke> strokes = chord_strokes(band, form_places(band));
    if (band.ending)
        std::erase_if(strokes, [&](const CompingStroke& stroke) { return stroke.at >= band.ending->at; });
    std::vector<std::vector<Placed>> choices;
    choices.reserve(strokes.size() + 1);
    const std::vector<StrokePlace> places = LongChords{band, strokes}.places();
    std::vector<std::size_t> moving;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        choices.push_back(choices_at(band, strokes[i], places[i]));
        if (places[i].moves) moving.push_back(i);
    }
    const std::size_t ending = strokes.size();
    for (const EndingStroke& stroke : ending_strokes(band)) {
        strokes.push_back({stroke.at, stroke.length, 0, Touch::Weight});
        choices.push_back(
            choices_for(comping_tones(band.ending->symbol), line_keys(band.line, strokes.back())));
    }
    const std::vector<Voicing> played = lead_voices(choices, moving);
    std::vector<BandNote> out;
    std::size_t struck = 0;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        const CompingStroke& stroke = strokes[i];
        // The same chord in a distant place, only because the line is where it was: better not at all.
        const bool moves = std::ranges::binary_search(moving, i);
        const bool goes_on = i > 0 && stroke.chord == strokes[struck].chord && i < ending && !moves;
        if (goes_on && movement_cost(played[struck], played[i]) > kFar) continue;
        struck = i;
        const bool has_next = i + 1 < strokes.size();
        const Duration length =
            has_next ? std::min(stroke.length, strokes[i + 1].at - stroke.at) : stroke.length;
        for (const int key : played[i]) out.push_back({stroke.at, length, key, stroke.touch});
    }
    return out;
}

}  // namespace shedbook
