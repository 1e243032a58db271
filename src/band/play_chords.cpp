#include <algorithm>
#include <cstdlib>

#include "chord_strokes.h"
#include "voicings.h"

namespace shedbook {
namespace {

constexpr KeySpan kChords{kBandChordsLowest, kBandChordsHighest};
constexpr std::size_t kGuides = 2;
// In tenths of a semitone, as voicings.h counts: a voice on the line's key, or a half step beside it.
constexpr int kOnLine = 40;
constexpr int kBesideLine = 12;

// The keys of the line that sound with a stroke.
std::vector<int> line_keys(std::span<const BandNote> line, const ChordStroke& stroke) {
    std::vector<int> out;
    const auto after = std::ranges::lower_bound(line, stroke.at + stroke.length, {}, &BandNote::at);
    // No note of a line is longer than this many before it.
    constexpr std::ptrdiff_t kFarBack = 64;
    const auto from = after - line.begin() > kFarBack ? after - kFarBack : line.begin();
    for (auto note = from; note != after; ++note) {
        if (note->at + note->length > stroke.at) out.push_back(note->key);
    }
    return out;
}

bool holds_guide(const Voicing& voicing, const std::vector<int>& tones, int key) {
    const auto guides = tones.begin() + static_cast<std::ptrdiff_t>(std::min(kGuides, tones.size()));
    return std::find(tones.begin(), guides, key % 12) != guides &&
           std::ranges::find(voicing, key) != voicing.end();
}

std::vector<Placed> choices_for(const ChordSymbol& symbol, const std::vector<int>& line) {
    const std::vector<int> tones = comping_tones(symbol);
    std::vector<Placed> all = placed_voicings(tones, kChords);
    for (Placed& placed : all) {
        for (const int key : line) {
            for (const int voice : placed.voicing) {
                if (voice == key) placed.cost += kOnLine;
                if (std::abs(voice - key) == 1) placed.cost += kBesideLine;
            }
        }
    }
    std::vector<Placed> clear;
    for (const Placed& placed : all) {
        const bool is_on_line =
            std::ranges::any_of(line, [&](int key) { return holds_guide(placed.voicing, tones, key); });
        if (!is_on_line) clear.push_back(placed);
    }
    return clear.empty() ? all : clear;
}

}  // namespace

std::vector<BandNote> play_chords(const RhythmSection& band) {
    std::vector<ChordStroke> strokes = chord_strokes(band, form_places(band));
    if (band.ending)
        std::erase_if(strokes, [&](const ChordStroke& stroke) { return stroke.at >= band.ending->at; });
    std::vector<std::vector<Placed>> choices;
    for (const ChordStroke& stroke : strokes)
        choices.push_back(choices_for(*band.chords[stroke.chord].symbol, line_keys(band.line, stroke)));
    if (band.ending) {
        strokes.push_back({band.ending->at, band.ending->length, 0, Touch::Weight});
        choices.push_back(choices_for(band.ending->symbol, line_keys(band.line, strokes.back())));
    }
    const std::vector<Voicing> played = lead_voices(choices);
    std::vector<BandNote> out;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        const ChordStroke& stroke = strokes[i];
        const bool has_next = i + 1 < strokes.size();
        const Duration length =
            has_next ? std::min(stroke.length, strokes[i + 1].at - stroke.at) : stroke.length;
        for (const int key : played[i]) out.push_back({stroke.at, length, key, stroke.touch});
    }
    return out;
}

}  // namespace shedbook
