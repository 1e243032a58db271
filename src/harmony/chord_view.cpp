#include "chord_view.h"

#include <algorithm>

#include "over_bass.h"

namespace shedbook {
namespace {

bool same_harmony(const ChordView& a, const ChordView& b) {
    return a.root == b.root && a.sound == b.sound;
}

// What "alt" stands for: b9 #9 #11 b13, no natural fifth (H31.10; H31.3 leaves open which).
constexpr unsigned kAllAltered = 1U << 1 | 1U << 3 | 1U << 6 | 1U << 8;

}  // namespace

Sound sound_of(unsigned tones) {
    const auto has = [&](int semitones) { return (tones >> semitones & 1U) != 0; };
    if (has(4)) {
        if (has(10)) return Sound::Dominant;
        if (has(11)) return Sound::MajorSeventh;
        return has(8) && !has(7) ? Sound::Augmented : Sound::Major;
    }
    if (has(3)) {
        if (has(6) && !has(7)) return has(10) ? Sound::HalfDiminished : Sound::Diminished;
        if (has(11) || (has(9) && !has(10))) return Sound::MinorTonic;
        return has(10) ? Sound::MinorSeventh : Sound::Minor;
    }
    if (has(5)) return Sound::Suspended;
    if (has(10)) return Sound::Dominant;  // the third left out, as in a bare seventh
    return has(2) || has(9) || has(11) ? Sound::Major : Sound::Open;
}

void link(std::vector<ChordView>& chords) {
    const int count = static_cast<int>(chords.size());
    const auto at = [&](int i) -> ChordView& { return chords[static_cast<std::size_t>(i)]; };
    if (count == 0) return;
    // After the last chord the form begins again.
    int next = -1;
    for (int i = 0; i < count && next < 0; ++i) {
        if (!same_harmony(at(i), at(count - 1))) next = i;
    }
    for (int i = count - 1; i >= 0; --i) {
        if (i < count - 1 && !same_harmony(at(i), at(i + 1))) next = i + 1;
        at(i).next = next;
    }
    int prev = -1;
    for (int i = 0; i < count; ++i) {
        if (i > 0 && !same_harmony(at(i), at(i - 1))) prev = i - 1;
        at(i).prev = prev;
    }
    for (int from = 0; from < count;) {
        int to = from;
        double sum = 0;
        for (; to < count && same_harmony(at(from), at(to)); ++to) sum += at(to).beats;
        for (; from < to; ++from) at(from).stretch = sum;
    }
}

ChordView view_of(const ChordSymbol& written, const ChordSymbol& heard) {
    ChordView view;
    view.root = heard.root.semitone();
    view.bass = written.bass.value_or(written.root).semitone();
    view.is_over_foreign_bass = written.bass && !has_tone(written, above(view.bass, written.root.semitone()));
    view.tones = pitch_set(heard);
    if (heard.kind->id == "altered_seventh") view.tones |= kAllAltered;
    view.sound = sound_of(view.tones);
    return view;
}

ChordViews view_of(const Chart& chart, const Timeline& timeline) {
    // Of each written bar: its place in its section, and how many that has.
    std::vector<std::pair<int, int>> place;
    for (const Section& section : chart.sections) {
        const int count = static_cast<int>(section.bars.size());
        for (int i = 0; i < count; ++i) place.emplace_back(i, count);
    }
    std::vector<ChordSymbol> written;
    for (const ChordSpan& span : timeline.chords) {
        if (span.symbol) written.push_back(*span.symbol);
    }
    ChordViews out;
    out.heard = heard_in_row(written);
    int last_bar = -1;
    for (int i = 0; i < static_cast<int>(timeline.chords.size()); ++i) {
        const ChordSpan& span = timeline.chords[static_cast<std::size_t>(i)];
        if (!span.symbol) continue;
        ChordView view = view_of(*span.symbol, out.heard[out.chords.size()]);
        view.beats = std::max(quarters(span.length), 0.25);
        const bool on_one = span.in_bar == Position{};
        const auto [in_section, section_bars] = place[static_cast<std::size_t>(span.bar)];
        view.bar = span.played_bar;
        view.opens_bar = on_one;
        view.opens_section = on_one && in_section == 0;
        view.section_bars = view.opens_section ? section_bars : 0;
        view.opens_phrase = on_one && in_section % 4 == 0 && span.played_bar != last_bar;
        last_bar = span.played_bar;
        out.chords.push_back(view);
        out.span_of.push_back(i);
    }
    link(out.chords);
    return out;
}

}  // namespace shedbook
