// What must be true of any bass line and any comping, counted on chords from anywhere. The figures are the
// project's own rules; that roots stand on changes, that chord tones and steps into the next root fill the
// bar, and that the third and seventh name a chord is common practice, no source.
#pragma once

#include <algorithm>
#include <cstdlib>
#include <span>
#include <vector>

#include "shedbook/band/accompaniment.h"

namespace shedbook {

struct BassCount {
    int notes = 0;
    int outside_range = 0;
    int wide_leaps = 0;  // over an octave
    int changes = 0;
    int changes_missed = 0;    // no bass, or another note
    int strangers = 0;         // neither a chord tone nor a step from the next note
    int bar_ends = 0;          // last notes of bars, but for roots of changes, with a chord in the next bar
    int bar_ends_by_step = 0;  // within a half or whole step of the next root
};

inline int bass_class(const ChordSymbol& symbol) {
    return symbol.bass.value_or(symbol.root).semitone();
}

inline const BandChord* chord_at(std::span<const BandChord> chords, Position at) {
    const auto after = std::ranges::upper_bound(chords, at, {}, &BandChord::at);
    if (after == chords.begin()) return nullptr;
    const BandChord& chord = *(after - 1);
    return at < chord.at + chord.length ? &chord : nullptr;
}

inline BassCount count_bass(std::span<const BandNote> bass, std::span<const BandChord> chords,
                            std::span<const BandBar> bars) {
    BassCount out;
    out.notes = static_cast<int>(bass.size());
    for (std::size_t i = 0; i < bass.size(); ++i) {
        const int key = bass[i].key;
        out.outside_range += key < 28 || key > 50 ? 1 : 0;
        const bool has_next = i + 1 < bass.size();
        const int step = has_next ? std::abs(bass[i + 1].key - key) : 0;
        out.wide_leaps += step > 12 ? 1 : 0;
        const BandChord* chord = chord_at(chords, bass[i].at);
        if (chord == nullptr || !chord->symbol) {
            ++out.strangers;
            continue;
        }
        const bool is_tone = has_tone(*chord->symbol, key - chord->symbol->root.semitone() + 12) ||
                             key % 12 == bass_class(*chord->symbol);
        if (!is_tone && step != 1 && step != 2) ++out.strangers;
    }
    for (const BandChord& chord : chords) {
        if (!chord.symbol || chord.length <= Duration{}) continue;
        ++out.changes;
        const auto note = std::ranges::find(bass, chord.at, &BandNote::at);
        if (note == bass.end() || note->key % 12 != bass_class(*chord.symbol)) ++out.changes_missed;
    }
    for (std::size_t i = 0; i + 1 < bars.size(); ++i) {
        const BandChord* next = chord_at(chords, bars[i + 1].at);
        const auto after = std::ranges::lower_bound(bass, bars[i + 1].at, {}, &BandNote::at);
        if (next == nullptr || !next->symbol || after == bass.begin() || (after - 1)->at < bars[i].at)
            continue;
        const BandChord* last = chord_at(chords, (after - 1)->at);
        if (last == nullptr || last->at == (after - 1)->at) continue;
        ++out.bar_ends;
        const int away = ((after - 1)->key - bass_class(*next->symbol) + 120) % 12;
        if (away == 1 || away == 2 || away == 10 || away == 11) ++out.bar_ends_by_step;
    }
    return out;
}

struct CompingCount {
    int chords = 0;
    int outside_range = 0;
    int guide_tones_missed = 0;
    int strangers = 0;       // notes that the symbol does not have
    int silent_changes = 0;  // chords that are never heard
    int moves = 0;           // from one chord to another
    double movement = 0;     // semitones a voice, summed over the moves
};

inline std::vector<std::vector<BandNote>> by_onset(std::span<const BandNote> notes) {
    std::vector<std::vector<BandNote>> out;
    for (const BandNote& note : notes) {
        if (out.empty() || out.back().front().at != note.at) out.emplace_back();
        out.back().push_back(note);
    }
    return out;
}

inline bool names_chord(const ChordTone& tone) {
    return tone.role == ChordRole::Third || tone.role == ChordRole::Seventh;
}

// An eighth before a chord it is struck early.
inline const BandChord* chord_struck(std::span<const BandChord> chords, Position at) {
    const BandChord* now = chord_at(chords, at);
    const BandChord* soon = chord_at(chords, at + kEighth);
    const bool is_early = now != nullptr && soon != nullptr && soon != now && soon->symbol && at > now->at;
    return is_early ? soon : now;
}

// Semitones a voice; where one chord has a voice more, the one that serves best is left out.
inline double movement(std::vector<int> a, std::vector<int> b) {
    if (a.size() > b.size()) std::swap(a, b);
    if (a.size() + 1 < b.size()) b.resize(a.size());
    double best = 1000;
    for (std::size_t out = 0; out < b.size(); ++out) {
        double sum = 0;
        for (std::size_t v = 0; v < a.size(); ++v) {
            const std::size_t to = a.size() < b.size() && v >= out ? v + 1 : v;
            sum += std::abs(a[v] - b[to]);
        }
        best = std::min(best, sum / static_cast<double>(a.size()));
    }
    return best;
}

inline CompingCount count_comping(std::span<const BandNote> notes, std::span<const BandChord> chords) {
    CompingCount out;
    const std::vector<std::vector<BandNote>> hits = by_onset(notes);
    for (std::size_t i = 0; i < hits.size(); ++i) {
        ++out.chords;
        unsigned heard = 0;
        const BandChord* chord = chord_struck(chords, hits[i].front().at);
        if (chord == nullptr || !chord->symbol) {
            ++out.strangers;
            continue;
        }
        const int root = chord->symbol->root.semitone();
        // An altered dominant's tensions are the player's choice, and so is a ninth; a half-diminished chord
        // has an eleventh instead.
        const bool is_altered = chord->symbol->kind->id == "altered_seventh";
        const int chosen = family(*chord->symbol) == ChordFamily::HalfDiminished ? 5 : 2;
        for (const BandNote& note : hits[i]) {
            out.outside_range += note.key < 50 || note.key > 73 ? 1 : 0;
            heard |= 1U << static_cast<unsigned>((note.key - root + 12) % 12);
            out.strangers += !is_altered && (note.key - root + 12) % 12 != chosen &&
                                     !has_tone(*chord->symbol, note.key - root + 12)
                                 ? 1
                                 : 0;
        }
        for (const ChordTone& tone : tones(*chord->symbol)) {
            const auto bit = static_cast<unsigned>(tone.above_root.semitones() % 12);
            out.guide_tones_missed += names_chord(tone) && (heard >> bit & 1U) == 0 ? 1 : 0;
        }
        if (i == 0) continue;
        std::vector<int> now;
        std::vector<int> before;
        for (const BandNote& note : hits[i]) now.push_back(note.key);
        for (const BandNote& note : hits[i - 1]) before.push_back(note.key);
        if (now == before) continue;
        ++out.moves;
        out.movement += movement(now, before);
    }
    for (const BandChord& chord : chords) {
        if (!chord.symbol || chord.length <= Duration{}) continue;
        const bool heard = std::ranges::any_of(hits, [&](const std::vector<BandNote>& hit) {
            return hit.front().at >= chord.at - kEighth && hit.front().at < chord.at + chord.length;
        });
        out.silent_changes += heard ? 0 : 1;
    }
    return out;
}

}  // namespace shedbook
