#include "hand_shapes.h"

#include <algorithm>
#include <utility>

#include "hand_voicings.h"
#include "shedbook/band/fretted_chords.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/fingering_chart.h"

namespace shedbook {
namespace {

// Shapes without open strings, which can be moved.
constexpr KeySpan kUsualFrets{.low = 1, .high = 12};

std::optional<Fretboard> fretboard_of(const BookPart& part) {
    const Instrument& instrument = *part.instrument;
    const FingeringChart* chart = fingering_chart_of(instrument);
    if (chart == nullptr || chart->by != FingeringChart::By::Fret) return std::nullopt;
    const PitchRange range = sounding_range(instrument, part.range);
    Fretboard out{{}, kUsualFrets, {range.low.midi(), range.high.midi()}, chart->reach};
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

std::optional<HandShapes> hand_shapes(const EtudeGround& ground, const BookPart& part) {
    const auto board = fretboard_of(part);
    const std::vector<ChordStroke> strokes = chord_strokes(ground);
    if (!board || strokes.empty()) return std::nullopt;
    const std::vector<ChordSymbol> symbols = symbols_of(strokes);
    const std::size_t first_chorus = strokes_of_first_chorus(strokes, ground);
    std::vector<FrettedChord> shapes = comping_shapes(std::span{symbols}.first(first_chorus), *board);
    if (shapes.empty()) return std::nullopt;
    const std::vector<FrettedChord> second =
        comping_shapes(std::span{symbols}.subspan(first_chorus), *board, shapes.front().keys);
    shapes.insert(shapes.end(), second.begin(), second.end());
    if (shapes.size() != strokes.size()) return std::nullopt;
    HandShapes out;
    out.line.length = ground.length;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        add_chord_to(out.line, shapes[i].keys, strokes[i]);
        out.frets.push_back(in_words(shapes[i]));
    }
    return out;
}

}  // namespace shedbook
