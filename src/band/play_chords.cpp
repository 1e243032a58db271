#include <algorithm>
#include <cstdlib>

#include "bass_beats.h"
#include "chord_strokes.h"
#include "voicings.h"

namespace shedbook {
namespace {

constexpr KeySpan kChords{kBandChordsLowest, kBandChordsHighest};
constexpr std::size_t kGuides = 2;
// How much later a swung stroke sounds than it is written: then a triplet of the line sounds with it.
constexpr Duration kSwung{Rational{1, 24}};
// In tenths of a semitone, as voicings.h counts: a voice on the line's key, or a half step beside it.
constexpr int kOnLine = 24;
constexpr int kBesideLine = 8;
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

}  // namespace

std::vector<BandNote> play_chords(const RhythmSection& band) {
    std::vector<CompingStroke> strokes = chord_strokes(band, form_places(band));
    if (band.ending)
        std::erase_if(strokes, [&](const CompingStroke& stroke) { return stroke.at >= band.ending->at; });
    std::vector<std::vector<Placed>> choices;
    choices.reserve(strokes.size() + 1);
    for (const CompingStroke& stroke : strokes)
        choices.push_back(choices_for(tones_of(band, stroke.chord), line_keys(band.line, stroke)));
    if (band.ending) {
        strokes.push_back({band.ending->at, band.ending->length, 0, Touch::Weight});
        choices.push_back(
            choices_for(comping_tones(band.ending->symbol), line_keys(band.line, strokes.back())));
    }
    const std::vector<Voicing> played = lead_voices(choices);
    std::vector<BandNote> out;
    std::size_t struck = 0;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        const CompingStroke& stroke = strokes[i];
        // The same chord in a distant place, only because the line is where it was: better not at all.
        const bool is_ending = band.ending && i + 1 == strokes.size();
        const bool goes_on = i > 0 && stroke.chord == strokes[struck].chord && !is_ending;
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
