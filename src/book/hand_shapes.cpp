#include "hand_shapes.h"

#include <algorithm>
#include <utility>

#include "comping.h"
#include "hand_voicings.h"
#include "shedbook/band/fretted_chords.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/fingering_chart.h"

namespace shedbook {
namespace {

// Shapes without open strings, which can be moved.
constexpr KeySpan kUsualFrets{.low = 1, .high = 12};
constexpr int kFirstLevelOfWideShapes = 5;

std::optional<Fretboard> fretboard_of(const BookPart& part, int level) {
    const Instrument& instrument = *part.instrument;
    const FingeringChart* chart = fingering_chart_of(instrument);
    if (chart == nullptr || chart->by != FingeringChart::By::Fret) return std::nullopt;
    const PitchRange range = sounding_range(instrument, part.range);
    Fretboard out{{},           kUsualFrets,  {range.low.midi(), range.high.midi()},
                  chart->reach, chart->reach, level <= kLastLevelOfShells};
    const bool has_low_strings = instrument.strings.size() >= kStringsWithBasses;
    if (has_low_strings && level < kFirstLevelOfWideShapes) --out.width_below_eight;
    if (part.frets) out.frets = {part.frets->low, part.frets->high};
    for (const WrittenPitch& string : instrument.strings)
        out.open.push_back((string.on_paper() + to_sounding(instrument.transposition)).midi());
    return out;
}

std::string in_words(const FrettedChord& chord) {
    std::vector<std::string> frets;
    for (const std::optional<int>& fret : chord.frets) frets.push_back(fret ? std::to_string(*fret) : "x");
    return join(frets, " ");
}

}  // namespace

std::optional<HandShapes> hand_shapes(const EtudeGround& ground, const BookPart& part,
                                      const CompingRhythm& rhythm, int level) {
    const auto board = fretboard_of(part, level);
    const std::vector<ChordStroke> changes = chord_strokes(ground);
    if (!board || changes.empty()) return std::nullopt;
    const std::vector<ChordSymbol> symbols = symbols_of(changes);
    const std::size_t first_chorus = strokes_of_first_chorus(changes, ground);
    std::vector<FrettedChord> shapes = comping_shapes(std::span{symbols}.first(first_chorus), *board);
    if (shapes.empty()) return std::nullopt;
    const std::vector<FrettedChord> second =
        comping_shapes(std::span{symbols}.subspan(first_chorus), *board, shapes.front());
    shapes.insert(shapes.end(), second.begin(), second.end());
    if (shapes.size() != changes.size()) return std::nullopt;
    HandShapes out;
    out.line.length = ground.length;
    std::size_t change = 0;
    std::optional<std::size_t> shown;
    for (const ChordStroke& stroke : comping_strokes(ground, rhythm)) {
        while (change + 1 < changes.size() && changes[change + 1].at <= stroke.at) ++change;
        add_chord_to(out.line, shapes[change].keys, stroke);
        out.frets.push_back(shown == change ? "" : in_words(shapes[change]));
        shown = change;
    }
    return out;
}

}  // namespace shedbook
