#include "hand_voicings.h"

#include <algorithm>

#include "shedbook/band/hands.h"
#include "shedbook/etude/spelling.h"

namespace shedbook {
namespace {

constexpr int kHandWidth = 17;  // semitones: a chord of three notes has another position in them
constexpr int kUsualWidth = kCompingHighest - kCompingLowest;
constexpr int kNarrowestHand = 11;                   // semitones: each note once
constexpr KeySpan kLeftHand{.low = 40, .high = 55};  // E2 to G3

// Two ledger lines below the staff.
int lowest_on_staff(const Instrument& instrument) {
    const int place = middle_line(instrument.clef) - 8;
    const Pitch written{PitchClass::of(static_cast<Step>(place % 7)), place / 7};
    return (written + to_sounding(instrument.transposition)).midi();
}

// As near to where the band comps as staff and range have it.
std::optional<KeySpan> right_hand_in(const Instrument& instrument, const PitchRange& range) {
    int low = std::max({kCompingLowest, range.low.midi(), lowest_on_staff(instrument)});
    const int high = std::min(low + kHandWidth, range.high.midi());
    low = std::max(range.low.midi(), std::min(low, high - kUsualWidth));
    if (high - low < kNarrowestHand) return std::nullopt;
    return KeySpan{low, high};
}

using ChordsOfHand = std::vector<Voicing> (*)(std::span<const HandChord>, KeySpan, const Voicing&);

std::vector<Voicing> in_two_positions(ChordsOfHand chords, const std::vector<HandChord>& all_chords,
                                      std::size_t first_chorus, KeySpan within) {
    const std::span all{all_chords};
    std::vector<Voicing> out = chords(all.first(first_chorus), within, {});
    if (first_chorus == all_chords.size()) return out;
    const std::vector<Voicing> second =
        chords(all.subspan(first_chorus), within, out.empty() ? Voicing{} : out.front());
    out.insert(out.end(), second.begin(), second.end());
    return out;
}

// The ninth that goes with a chord: a major one, over a dominant also a minor one, but none to be avoided.
std::optional<PitchClass> ninth_of(const ScaleSpan& span) {
    constexpr int kMajor = 2;
    constexpr int kMinor = 1;
    const bool is_dominant = family(*span.symbol) == ChordFamily::Dominant;
    for (const int wanted : {kMajor, kMinor}) {
        if (wanted == kMinor && !is_dominant) continue;
        for (const PitchClass note : span.notes) {
            const int over_root = (note.semitone() - span.symbol->root.semitone() + 12) % 12;
            const bool is_avoided = std::ranges::find(span.avoid, note) != span.avoid.end();
            if (over_root == wanted && !is_avoided) return note;
        }
    }
    return std::nullopt;
}

// A dominant whose symbol asks for more than third and seventh.
bool names_tension(const ChordSymbol& symbol) {
    return family(symbol) == ChordFamily::Dominant &&
           (!symbol.alterations.empty() || symbol.kind->id == "altered_seventh");
}

std::vector<HandChord> chords_for_hand(const std::vector<ChordStroke>& strokes) {
    std::vector<HandChord> out;
    out.reserve(strokes.size());
    for (const ChordStroke& stroke : strokes) out.push_back({*stroke.span->symbol, ninth_of(*stroke.span)});
    return out;
}

ConcertLine line_of_chords(const std::vector<Voicing>& chords, const std::vector<ChordStroke>& strokes,
                           Duration length) {
    ConcertLine out;
    out.length = length;
    for (std::size_t i = 0; i < strokes.size(); ++i) add_chord_to(out, chords[i], strokes[i]);
    return out;
}

}  // namespace

std::vector<ChordStroke> chord_strokes(const EtudeGround& ground) {
    std::vector<ChordStroke> out;
    for (const ScaleSpan& span : ground.spans) {
        if (!span.symbol) continue;
        const Position end = span.at + span.length;
        Position from = span.at;
        for (const GroundBar& bar : ground.bars) {
            // What comes less than a beat before the bar line is tied over it.
            const bool is_pushed = bar.at - from < bar.meter.beat_length();
            if (bar.at <= from || bar.at >= end || is_pushed) continue;
            out.push_back({&span, from, bar.at - from});
            from = bar.at;
        }
        out.push_back({&span, from, end - from});
    }
    return out;
}

std::vector<ChordSymbol> symbols_of(const std::vector<ChordStroke>& strokes) {
    std::vector<ChordSymbol> out;
    out.reserve(strokes.size());
    for (const ChordStroke& stroke : strokes) out.push_back(*stroke.span->symbol);
    return out;
}

std::size_t strokes_of_first_chorus(const std::vector<ChordStroke>& strokes, const EtudeGround& ground) {
    const Position second = Position{} + ground.length * Rational{1, ground.choruses};
    return static_cast<std::size_t>(
        std::ranges::count_if(strokes, [&](const ChordStroke& stroke) { return stroke.at < second; }));
}

void add_chord_to(ConcertLine& line, const std::vector<int>& keys, const ChordStroke& stroke) {
    const auto spelled = [&](int key) {
        const auto name = scale_name(*stroke.span, key);
        return pitch_of(name ? *name : simplest_name(key % 12, stroke.span->symbol->root), key);
    };
    for (auto key = keys.rbegin(); key != keys.rend(); ++key) {
        if (key == keys.rbegin()) {
            line.notes.push_back({spelled(*key), stroke.at, stroke.length});
        } else {
            line.below.push_back({line.notes.size() - 1, spelled(*key)});
        }
    }
}

std::optional<HandVoicings> hand_voicings(const EtudeGround& ground, const Instrument& instrument,
                                          const PitchRange& range, int level,
                                          const std::vector<ChordStroke>& right) {
    const auto hand = right_hand_in(instrument, range);
    const std::vector<ChordStroke> strokes = chord_strokes(ground);
    if (!hand || strokes.empty()) return std::nullopt;
    const std::vector<HandChord> all = chords_for_hand(strokes);
    const bool has_tension =
        level == kLastLevelOfShells &&
        std::ranges::any_of(all, [](const HandChord& chord) { return names_tension(chord.symbol); });
    const ChordsOfHand chords =
        level <= kLastLevelOfShells && !has_tension ? guide_tone_chords : rootless_chords;
    const std::vector<Voicing> voiced =
        in_two_positions(chords, all, strokes_of_first_chorus(strokes, ground), *hand);
    std::vector<Voicing> struck;
    std::size_t at = 0;
    for (const ChordStroke& stroke : right) {
        while (at + 1 < strokes.size() && strokes[at + 1].at <= stroke.at) ++at;
        struck.push_back(voiced[at]);
    }
    HandVoicings out;
    out.right = line_of_chords(struck, right, ground.length);
    if (instrument.clef.sign != 'F')
        out.left = line_of_chords(bass_notes(all, kLeftHand), strokes, ground.length);
    return out;
}

}  // namespace shedbook
