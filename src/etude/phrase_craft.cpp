#include "phrase_craft.h"

#include <algorithm>
#include <cstdlib>

#include "chord_facts.h"
#include "line_tools.h"

namespace shedbook {
namespace {

constexpr int kFirstLevelWithColours = 4;

class Judge {
  public:
    Judge(const ConcertLine& line, std::span<const ScaleSpan> chords, const EtudeGround& ground)
        : notes_{line.notes}, chords_{chords}, ground_{ground} {
        for (const ScaleSpan& chord : chords) facts_.push_back(facts_of(*chord.symbol));
    }

    [[nodiscard]] bool ends_well(int level) const {
        const LineNote& note = notes_.back();
        const ChordFacts& facts = facts_.back();
        const int over = (note.pitch.midi() - chords_.back().symbol->root.semitone()) % 12;
        const bool is_colour = over == 2 || over == 9;
        const bool rests =
            holds(facts.ends, note.pitch.midi()) || (level >= kFirstLevelWithColours && is_colour &&
                                                     holds(facts.inside & ~facts.rubs, note.pitch.midi()));
        return rests && note.at >= chords_.back().at && note.length >= kQuarter;
    }

    // Chords of two beats or more; the first only where the phrase has begun.
    [[nodiscard]] bool tells(std::size_t chord) const {
        const Position from = chords_[chord].at;
        const Position to = from + chords_[chord].length;
        const bool has_begun = notes_.front().at < to;
        if (chords_[chord].length < kHalf || facts_[chord].tell == 0 || !has_begun) return true;
        return std::ranges::any_of(notes_, [&](const LineNote& note) {
            const Position end = note.at + note.length;
            const bool counts = note.at + kEighth >= from || end - from >= kEighth;
            return note.at < to && end > from && counts && holds(facts_[chord].tell, note.pitch.midi());
        });
    }

    // A note outside its chord's scales goes on by step, around the note behind the next one, or is of the
    // next chord, an eighth ahead; one held over a change suits both chords; none leans for a beat.
    [[nodiscard]] bool leads(std::size_t i) const {
        const LineNote& note = notes_[i];
        const std::size_t chord = chord_at(note.at);
        const std::size_t end_chord = chord_at(note.at + note.length);
        const bool is_ahead = end_chord != chord && note.at + kEighth >= chords_[end_chord].at &&
                              holds(facts_[end_chord].inside, note.pitch.midi());
        const bool is_inside = holds(facts_[chord].inside & ~facts_[chord].sus_third, note.pitch.midi());
        if (!is_inside && !is_ahead && !goes_by_step(i) && !encloses(i)) return false;
        for (std::size_t c = chord + 1; c < chords_.size() && chords_[c].at < note.at + note.length; ++c) {
            const bool is_short = note.at + note.length - chords_[c].at < kEighth;
            if (!is_short && !holds(restful(facts_[c]), note.pitch.midi())) return false;
        }
        const GroundBar& bar = bar_at(ground_, note.at);
        const bool on_beat = ((note.at - bar.at) / kQuarter).is_whole();
        const bool is_heavy = on_beat && note.length >= kQuarter;
        return !is_heavy || holds(restful(facts_[chord]), note.pitch.midi());
    }

  private:
    [[nodiscard]] std::size_t chord_at(Position at) const {
        std::size_t out = 0;
        while (out + 1 < chords_.size() && chords_[out + 1].at <= at) ++out;
        return out;
    }
    [[nodiscard]] bool goes_by_step(std::size_t i) const {
        if (i + 1 == notes_.size()) return false;
        const int step = std::abs(notes_[i + 1].pitch.midi() - notes_[i].pitch.midi());
        return step == 1 || step == 2;
    }
    [[nodiscard]] bool encloses(std::size_t i) const {
        if (i + 2 >= notes_.size()) return false;
        const int target = notes_[i + 2].pitch.midi();
        const int here = notes_[i].pitch.midi() - target;
        const int other = notes_[i + 1].pitch.midi() - target;
        return here * other < 0 && std::abs(here) <= 2 && std::abs(other) <= 2;
    }

    const std::vector<LineNote>& notes_;
    std::span<const ScaleSpan> chords_;
    const EtudeGround& ground_;
    std::vector<ChordFacts> facts_;
};

}  // namespace

bool is_sound(const ConcertLine& line, std::span<const ScaleSpan> chords, const EtudeGround& ground,
              int level) {
    if (line.notes.empty()) return false;
    const Judge judge{line, chords, ground};
    if (!judge.ends_well(level)) return false;
    for (std::size_t c = 0; c < chords.size(); ++c) {
        if (!judge.tells(c)) return false;
    }
    for (std::size_t i = 0; i < line.notes.size(); ++i) {
        if (!judge.leads(i)) return false;
    }
    return true;
}

}  // namespace shedbook
