// A phrase on the bars of a unit: which figure on which chord, and where it lies.
#include <algorithm>
#include <cstdlib>
#include <utility>

#include "degree_over.h"
#include "line_tools.h"
#include "phrase_craft.h"
#include "shedbook/etude/phrase.h"

namespace shedbook {
namespace {

// A chord of the unit, or several in a row that one figure is played on (G7sus4 G7).
struct Stretch {
    std::span<const ScaleSpan> spans;
    [[nodiscard]] Position at() const { return spans.front().at; }
    [[nodiscard]] Duration length() const { return spans.back().at + spans.back().length - spans.front().at; }
    [[nodiscard]] int root() const { return root_of(spans.front()).semitone(); }
};

std::vector<Stretch> stretches_of(std::span<const ScaleSpan> chords, bool joins_roots) {
    std::vector<Stretch> out;
    for (std::size_t i = 0; i < chords.size(); ++i) {
        const bool goes_on =
            joins_roots && !out.empty() && out.back().root() == root_of(chords[i]).semitone();
        if (goes_on) {
            out.back().spans = {out.back().spans.data(), out.back().spans.size() + 1};
        } else {
            out.push_back({chords.subspan(i, 1)});
        }
    }
    return out;
}

// The chord of the phrase for each stretch of the unit, counted from its end; too few: the first stretches
// have none.
std::vector<const PhraseChord*> chords_for(const Phrase& phrase, std::size_t stretches) {
    std::vector<const PhraseChord*> out;
    const std::size_t cycle = phrase.chords.size() - 1;
    for (std::size_t back = 0; back < stretches; ++back) {
        if (back >= phrase.chords.size() && !phrase.again) break;
        const std::size_t at = back == 0 ? cycle : cycle - 1 - (back - 1) % cycle;
        out.push_back(&phrase.chords[at]);
    }
    std::ranges::reverse(out);
    return out;
}

// How far up it goes from one chord of a phrase to the next. Where the figures begin again it goes as into
// the last one.
std::optional<int> way_between(const Phrase& phrase, const PhraseChord& from, const PhraseChord& to) {
    if (from.families.empty() || to.families.empty()) return std::nullopt;
    const bool is_in_order = &from + 1 == &to;
    const PhraseChord& before = is_in_order ? from : *(&phrase.chords.back() - 1);
    const PhraseChord& behind = is_in_order ? to : phrase.chords.back();
    return (behind.over_first - before.over_first + 12) % 12;
}

bool suits(const PhraseChord& chord, const Stretch& stretch) {
    return chord.families.empty() || std::ranges::all_of(stretch.spans, [&](const ScaleSpan& span) {
               return std::ranges::find(chord.families, family(*span.symbol)) != chord.families.end();
           });
}

bool suit(const Phrase& phrase, std::span<const PhraseChord* const> chords, std::span<const Stretch> unit) {
    for (std::size_t i = 0; i < unit.size(); ++i) {
        if (!suits(*chords[i], unit[i])) return false;
        if (i == 0) continue;
        const auto way = way_between(phrase, *chords[i - 1], *chords[i]);
        if (way && (unit[i].root() - unit[i - 1].root() + 12) % 12 != *way) return false;
    }
    return true;
}

// A figure as it is played: all lengths so many times as long, after a rest.
struct Played {
    const PhraseFigure* figure = nullptr;
    int times = 1;
    Duration rest;
};

// One of the chord's own length, or one of half of it at half the speed. On the last chord there may be time
// left, on the first the phrase may enter later.
std::optional<Played> figure_for(const PhraseChord& chord, Duration length, bool is_first, bool is_last) {
    const PhraseFigure* longest = nullptr;
    for (const PhraseFigure& figure : chord.figures) {
        if (figure.length == length) return Played{&figure, 1, {}};
        if (figure.length < length && (longest == nullptr || longest->length < figure.length))
            longest = &figure;
    }
    if (longest == nullptr) return std::nullopt;
    if (is_last) return Played{longest, 1, {}};
    if (longest->length * Rational{2} == length) return Played{longest, 2, {}};
    if (is_first) return Played{longest, 1, length - longest->length};
    return std::nullopt;
}

class PhraseLine {
  public:
    PhraseLine(const Phrase& phrase, const EtudeGround& ground) : phrase_{phrase}, ground_{ground} {
        line_.length = ground.length;
    }

    // False where a chord has no figure.
    bool play(std::span<const PhraseChord* const> chords, std::span<const Stretch> unit) {
        for (std::size_t i = 0; i < unit.size(); ++i) {
            const auto played = figure_for(*chords[i], unit[i].length(), i == 0, i + 1 == unit.size());
            if (!played || !is_on_beat(unit[i].at())) return false;
            play(*played, unit[i]);
        }
        return !line_.notes.empty();
    }

    // In the octave in which its middle lies nearest the middle of the range.
    std::optional<ConcertLine> in_range(PitchRange range) const {
        const auto [low, high] =
            std::ranges::minmax(line_.notes, {}, [](const LineNote& note) { return note.pitch.midi(); });
        const int twice_middle = low.pitch.midi() + high.pitch.midi();
        std::optional<int> best;
        const auto off = [&](int octaves) {
            return std::abs(twice_middle + 24 * octaves - range.low.midi() - range.high.midi());
        };
        for (int octaves = -6; octaves <= 6; ++octaves) {
            const Interval by = octaves * kOctave;
            if (!range.holds(low.pitch + by) || !range.holds(high.pitch + by)) continue;
            if (!best || off(octaves) < off(*best)) best = octaves;
        }
        if (!best) return std::nullopt;
        return transposed(line_, *best * kOctave);
    }

    [[nodiscard]] const ConcertLine& line() const { return line_; }

  private:
    [[nodiscard]] bool is_on_beat(Position at) const {
        const GroundBar& bar = bar_at(ground_, at);
        return !bar.meter.is_compound() && ((at - bar.at) / kQuarter).is_whole();
    }

    void play(const Played& played, const Stretch& stretch) {
        Position at = stretch.at() + played.rest;
        Interval up;  // from the fourth octave, for all of the figure
        bool has_begun = false;
        for (const PhraseNote& note : played.figure->notes) {
            const Duration length = note.length * Rational{played.times};
            if (note.kind == PhraseNote::Kind::Hold && !line_.notes.empty() &&
                line_.notes.back().at + line_.notes.back().length == at) {
                line_.notes.back().length += length;
            }
            if (note.kind == PhraseNote::Kind::Degree) {
                const ScaleSpan& span = span_at(stretch, at);
                if (!has_begun) up = entry(played.figure->entry, pitch_of_note(note, span));
                has_begun = true;
                add_note(line_, pitch_of_note(note, span) + up, at, length);
            }
            at += length;
        }
    }

    static const ScaleSpan& span_at(const Stretch& stretch, Position at) {
        const ScaleSpan* out = stretch.spans.data();
        for (const ScaleSpan& span : stretch.spans) {
            if (span.at <= at) out = &span;
        }
        return *out;
    }

    // In the octave over C4. Over a sus chord the third is its fourth.
    static Pitch pitch_of_note(const PhraseNote& note, const ScaleSpan& span) {
        constexpr int kThird = 2;
        constexpr int kMiddle = 4;
        const ChordFacts facts = facts_of(*span.symbol);
        const bool is_sus = facts.sus_third != 0 && note.steps == kThird && !note.alter;
        const int steps = is_sus ? kThird + 1 : note.steps;
        const Interval above =
            note.alter ? make_degree(steps + 1, *note.alter) : degree_over(span, facts, steps);
        const Pitch strict = Pitch{root_of(span), kMiddle} + above + note.octaves * kOctave;
        if (std::abs(strict.alter()) < 2) return strict;
        const bool is_own = std::ranges::find(span.chord, strict.name()) != span.chord.end();
        return is_own ? strict : without_double_accidental(strict);
    }

    // How far the figure moves so that its first note lies as it should against the one before.
    [[nodiscard]] Interval entry(PhraseFigure::Entry way, Pitch first) const {
        if (line_.notes.empty()) return kUnison;
        const int from = line_.notes.back().pitch.midi();
        const int apart = ((first.midi() - from) % 12 + 12) % 12;  // half steps up
        constexpr int kTritone = 6;
        const bool is_above =
            way == PhraseFigure::Entry::Above || (way == PhraseFigure::Entry::Nearest && apart < kTritone);
        const int goal = from + apart - (is_above || apart == 0 ? 0 : 12);
        return (goal - first.midi()) / 12 * kOctave;
    }

    const Phrase& phrase_;
    const EtudeGround& ground_;
    ConcertLine line_;
};

std::optional<ConcertLine> line_on(const Phrase& phrase, std::span<const Stretch> unit,
                                   std::span<const ScaleSpan> chords, const EtudeGround& ground,
                                   PitchRange range) {
    const std::vector<const PhraseChord*> own = chords_for(phrase, unit.size());
    // It may enter late, if half of the unit is left for it.
    const std::span<const Stretch> covered = unit.last(own.size());
    const Position end = covered.back().at() + covered.back().length();
    if (phrase.chords.size() > unit.size() ||
        (end - covered.front().at()) * Rational{2} < end - unit.front().at())
        return std::nullopt;
    if (!suit(phrase, own, covered)) return std::nullopt;
    PhraseLine maker{phrase, ground};
    if (!maker.play(own, covered)) return std::nullopt;
    const std::span<const ScaleSpan> told{covered.front().spans.data(), chords.data() + chords.size()};
    if (!is_sound(maker.line(), told, ground, phrase.level)) return std::nullopt;
    return maker.in_range(range);
}

}  // namespace

std::vector<ScaleSpan> chords_of_unit(const EtudeGround& ground, const std::vector<int>& chords) {
    std::vector<ScaleSpan> out;
    const Position end = Position{} + ground.length * Rational{1, ground.choruses};
    for (const ScaleSpan& span : ground.spans) {
        if (span.at >= end) break;
        if (span.inst < 0 || !span.symbol || std::ranges::find(chords, span.inst) == chords.end()) continue;
        const bool goes_on =
            !out.empty() && out.back().symbol == span.symbol && out.back().at + out.back().length == span.at;
        if (!goes_on) out.push_back(span);
        if (!goes_on) out.back().length = {};
        out.back().length += std::min(span.at + span.length, end) - span.at;
    }
    return out;
}

std::optional<ConcertLine> phrase_line(const Phrase& phrase, std::span<const ScaleSpan> chords,
                                       const EtudeGround& ground, PitchRange range) {
    if (chords.empty()) return std::nullopt;
    for (const bool joins_roots : {false, true}) {
        const std::vector<Stretch> unit = stretches_of(chords, joins_roots);
        if (auto line = line_on(phrase, unit, chords, ground, range)) return line;
    }
    return std::nullopt;
}

void arrive(ConcertLine& line, std::span<const ScaleSpan> chords, const EtudeGround& ground,
            PitchRange range) {
    if (chords.empty() || line.notes.empty()) return;
    const Position end = chords.back().at + chords.back().length;
    const Position passes = Position{} + ground.length * Rational{1, ground.choruses};
    for (const ScaleSpan& span : ground.spans) {
        if (span.at < end || span.at >= passes) continue;
        if (!span.symbol) return;
        const Duration length = std::min(span.length, passes - span.at);
        const ChordFacts facts = facts_of(*span.symbol);
        // What leads on is told by a guide tone, the last chord is one to rest on.
        const bool is_last = span.at + length >= passes;
        const SoundSet wanted = is_last || facts.guide == 0 ? facts.ends : facts.guide;
        std::vector<Pitch> notes = in_range(span.chord, range);
        std::erase_if(notes, [&](Pitch pitch) { return !holds(wanted, pitch.midi()); });
        if (notes.empty()) return;
        add_long_note(line, ground, nearest_to(notes, line.notes.back().pitch, -1), span.at, length);
    }
}

}  // namespace shedbook
