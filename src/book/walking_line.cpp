#include "walking_line.h"

#include <algorithm>
#include <utility>

#include "shedbook/etude/spelling.h"

namespace shedbook {
namespace {

constexpr int kOctaveOfKeys = 12;

// Splits the last chord where its last bar begins, so that its bass sounds there again; gives the place from
// which the line rests.
Position part_last_bar(std::vector<BandChord>& chords, const std::vector<BandBar>& bars) {
    while (!chords.empty() && !chords.back().symbol) chords.pop_back();
    if (chords.empty()) return {};
    const Position end = chords.back().at + chords.back().length;
    const auto bar = std::ranges::find_if(
        bars, [&](const BandBar& each) { return each.at < end && each.at + each.length >= end; });
    if (bar == bars.end() || bar->at <= chords.back().at) return chords.back().at;
    BandChord rest = chords.back();
    rest.at = bar->at;
    rest.length = end - bar->at;
    chords.back().length = bar->at - chords.back().at;
    chords.push_back(std::move(rest));
    return bar->at;
}

// How many notes of a second chorus are not those of the first; 0 where there is none.
std::size_t notes_that_differ(const std::vector<BandNote>& notes, const EtudeGround& ground) {
    if (ground.choruses != 2) return 0;
    const Duration chorus = ground.length * Rational{1, 2};
    return static_cast<std::size_t>(std::ranges::count_if(notes, [&](const BandNote& note) {
        const auto again = std::ranges::find(notes, note.at + chorus, &BandNote::at);
        return again != notes.end() && again->key != note.key;
    }));
}

// Of some ways that are as good the one whose second chorus is least like the first.
std::vector<BandNote> varied_bass(const std::vector<BandChord>& chords, const EtudeGround& ground,
                                  BassFeel feel, unsigned seed, KeySpan within) {
    constexpr unsigned kWays = 12;
    const std::vector<BandBar> bars = band_bars(ground);
    std::vector<BandNote> best = bass_line(chords, bars, feel, seed, within);
    for (unsigned way = 1; ground.choruses == 2 && way < kWays; ++way) {
        std::vector<BandNote> other = bass_line(chords, bars, feel, seed + way, within);
        if (notes_that_differ(other, ground) > notes_that_differ(best, ground)) best = std::move(other);
    }
    return best;
}

}  // namespace

std::vector<BandChord> band_chords(const EtudeGround& ground) {
    std::vector<BandChord> out;
    for (const ScaleSpan& span : ground.spans) {
        BandChord chord{span.at, span.length, span.symbol};
        for (const PitchClass note : span.notes) chord.scale |= 1U << static_cast<unsigned>(note.semitone());
        out.push_back(std::move(chord));
    }
    return out;
}

std::vector<BandBar> band_bars(const EtudeGround& ground) {
    std::vector<BandBar> out;
    for (const GroundBar& bar : ground.bars) out.push_back({bar.at, bar.length, bar.meter});
    return out;
}

std::optional<ConcertLine> walking_line(const EtudeGround& ground, const PitchRange& range, BassFeel feel,
                                        unsigned seed) {
    const KeySpan within{std::max(range.low.midi(), kBassLowest), std::min(range.high.midi(), kBassHighest)};
    if (within.high - within.low < kOctaveOfKeys) return std::nullopt;
    std::vector<BandChord> chords = band_chords(ground);
    const Position rest = part_last_bar(chords, band_bars(ground));
    if (chords.empty()) return std::nullopt;
    std::vector<BandNote> notes = varied_bass(chords, ground, feel, seed, within);
    std::erase_if(notes, [&](const BandNote& note) { return note.at > rest; });
    notes.back().length = chords.back().length;
    ConcertLine out;
    out.length = ground.length;
    // From the end: what passes is spelled by what comes after it.
    for (auto note = notes.rbegin(); note != notes.rend(); ++note) {
        const auto name = scale_name(span_at(ground, note->at), note->key);
        const Pitch pitch = name                ? pitch_of(*name, note->key)
                            : out.notes.empty() ? pitch_of(simplest_name(note->key % 12), note->key)
                                                : leading_to(out.notes.back().pitch, note->key);
        out.notes.push_back({pitch, note->at, note->length});
    }
    std::ranges::reverse(out.notes);
    return out;
}

}  // namespace shedbook
