// The same degrees over every chord.
#include <algorithm>
#include <cstdlib>

#include "degree_over.h"
#include "line_maker.h"
#include "lines.h"
#include "shedbook/base/text.h"
#include "shedbook/drill/pattern.h"
#include "shedbook/etude/spelling.h"

namespace shedbook {
namespace {

constexpr std::size_t kMostInACell = 16;
constexpr int kHighestDegree = 13;
constexpr const char* kHowToWrite =
    "write numbers from 1 to 13, with ' an octave higher, as in \"1 2 3 5 1'\"";

// The cell of a drill (drill/pattern.h), of degrees alone; else what is wrong with it.
std::string read_cell(std::string_view text, DrillCell& out) {
    if (trimmed(text).empty()) return "a cell needs a degree, as in \"1 2 3 5\"";
    PatternFault fault;
    std::optional<DrillCell> cell = parse_cell(text, fault);
    if (!cell) return fault.message + "; " + (fault.has_sign ? fault.hint : kHowToWrite);
    const bool is_plain = std::ranges::all_of(*cell, [](const CellNote& note) {
        return note.kind == CellNote::Kind::Degree && std::abs(note.steps) < kHighestDegree &&
               std::abs(note.octaves) <= 2;
    });
    if (!is_plain) return std::string{"the cell of an etude has degrees alone; "} + kHowToWrite;
    if (cell->size() > kMostInACell) return "a cell has 16 notes at most";
    out = std::move(*cell);
    return {};
}

// Over a half-diminished chord the second degree rubs: the cell goes over the third and the fourth instead
// (1 2 3 5 as 1 3 4 5).
DrillCell over_half_diminished(const DrillCell& cell) {
    const auto is_degree = [](const CellNote& note, int number) { return note.steps == number - 1; };
    DrillCell out = cell;
    for (std::size_t i = 0; i < cell.size(); ++i) {
        if (!is_degree(cell[i], 2)) continue;
        ++out[i].steps;
        const bool has_fourth = std::ranges::any_of(cell, [&](const CellNote& n) { return is_degree(n, 4); });
        if (has_fourth) continue;
        if (i > 0 && is_degree(cell[i - 1], 3)) ++out[i - 1].steps;
        if (i + 1 < cell.size() && is_degree(cell[i + 1], 3)) ++out[i + 1].steps;
    }
    return out;
}

class CellLine : LineMaker {
  public:
    CellLine(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : LineMaker{ground, request, range},
          slots_{ground, std::min(value_, kQuarter), Heed::NearestBeat},
          whole_range_{range} {
        static_cast<void>(read_cell(request.cell, cell_));  // the request's maker has checked it
        sus_cell_ = over_sus(cell_);
        half_diminished_cell_ = over_half_diminished(cell_);
    }

    ConcertLine make() {
        std::size_t first = 0;
        while (first < slots_.all.size()) {
            std::size_t last = first + 1;
            while (last < slots_.all.size() && !slots_.all[last].opens && !slots_.all[last].fresh) ++last;
            chord(first, last);
            first = last;
        }
        come_to_rest();
        return std::move(line_);
    }

  private:
    // Statements over the slots of one chord.
    void chord(std::size_t first, std::size_t last) {
        const Slot& end = slots_.all[last - 1];
        const Position stop = end.at + end.length;
        turns_.clear();
        bar_of_chord_ = -1;
        is_vamp_ = std::count_if(slots_.all.begin() + static_cast<std::ptrdiff_t>(first),
                                 slots_.all.begin() + static_cast<std::ptrdiff_t>(last),
                                 [](const Slot& slot) { return slot.starts_bar; }) >
                   (request_.bars ? 1 : kPlainBars);
        for (std::size_t i = first; i < last;) {
            const std::size_t next = next_statement(i, last);
            const Position to = next < last ? slots_.all[next].at : stop;
            state(i, next, to, i == first);
            i = next;
        }
    }

    // Over a chord of many bars the cell climbs from bar to bar: its first note goes behind its last one, an
    // octave on in the direction of the cell, as far as the range goes; then back, and as far below.
    [[nodiscard]] std::vector<Pitch> turned(std::vector<Pitch> notes, Position at) {
        if (turns_.empty()) {
            turns_ = turns_of(notes);
            base_ = notes;
        }
        const Position bar = bar_at(ground_, at).at;
        if (bar_of_chord_ < 0 || bar != bar_) ++bar_of_chord_;
        bar_ = bar;
        notes = base_;
        const int turns = turns_[static_cast<std::size_t>(bar_of_chord_) % turns_.size()];
        for (int k = 0; k < std::abs(turns); ++k) notes = turned_once(notes, turns > 0 ? 1 : -1);
        return notes;
    }

    [[nodiscard]] static std::vector<Pitch> turned_once(std::vector<Pitch> notes, int way) {
        const bool falls = notes.back() < notes.front();
        const Interval octave = falls ? -kOctave : kOctave;
        if (way > 0) {
            std::rotate(notes.begin(), notes.begin() + 1, notes.end());
            notes.back() = notes.back() + octave;
        } else {
            std::rotate(notes.begin(), notes.end() - 1, notes.end());
            notes.front() = notes.front() - octave;
        }
        return notes;
    }

    // 0 1 2 1 0 -1, if there is room for two turns up and one down.
    [[nodiscard]] std::vector<int> turns_of(const std::vector<Pitch>& notes) const {
        const auto room = [&](int way) {
            int out = 0;
            for (std::vector<Pitch> next = turned_once(notes, way); out < kMostTurns; ++out) {
                if (!std::ranges::all_of(next, [&](Pitch note) { return range_.holds(note); })) break;
                next = turned_once(next, way);
            }
            return out;
        };
        const int up = room(1);
        const int down = room(-1);
        std::vector<int> out;
        for (int k = 0; k <= up; ++k) out.push_back(k);
        for (int k = up - 1; k >= -down; --k) out.push_back(k);
        for (int k = -down + 1; k < 0; ++k) out.push_back(k);
        if (down == 0 && out.size() > 1) out.pop_back();
        return out;
    }

    [[nodiscard]] std::size_t next_statement(std::size_t from, std::size_t last) const {
        std::size_t next = from + cell_.size();
        if (level_.ornament == 0) {
            // Once a chord; of a long one, every two bars.
            for (int bars = 0; next < last; ++next) {
                bars += slots_.all[next].starts_bar ? 1 : 0;
                if (bars == 2 && !slots_.all[next].is_last) break;
            }
        }
        if (level_.ornament == 1) {
            while (next < last && !slots_.all[next].starts_bar) ++next;
        }
        return std::min(next, last);
    }

    // The cell in the slots [from, to); its last note holds to the end of the bar, or (where it comes once a
    // chord) until the next one begins. Where there is no room for all of it, its first note and those that
    // tell the chord.
    void state(std::size_t from, std::size_t to, Position stop, bool opens) {
        const Slot& slot = slots_.all[from];
        const LineSpan& span = slots_.spans[slot.span];
        const bool is_whole = to - from >= cell_.size();
        std::vector<Pitch> notes = pitches(span, to - from);
        if (!notes.empty()) last_ = notes.front();
        if (is_vamp_ && is_whole && notes.size() > 1) notes = turned(std::move(notes), slot.at);
        explain(line_, request_.explain && opens, slot.at, "cell");
        for (std::size_t k = 0; k < notes.size(); ++k) {
            const Slot& own = slots_.all[from + k];
            Position end = own.at + own.length;
            if (k + 1 == notes.size() && may_hold(span, own, notes[k])) {
                const GroundBar& bar = bar_at(ground_, own.at);
                end = level_.ornament == 0 ? stop : std::min(stop, std::max(end, bar.at + bar.length));
            }
            add_long_note(line_, ground_, notes[k], own.at, end - own.at);
        }
    }

    // No note that rubs is held.
    [[nodiscard]] static bool may_hold(const LineSpan& span, const Slot& slot, Pitch note) {
        return holds(restful(span.facts) & slot.clear, note.midi());
    }

    // Over the last chord: the last note of all is one to rest on.
    void come_to_rest() {
        if (line_.notes.empty() || slots_.all.empty()) return;
        LineNote& note = line_.notes.back();
        const LineSpan& span = slots_.spans[slots_.all.back().span];
        const SoundSet ends = span.facts.ends;
        const Position end = slots_.all.back().at + slots_.all.back().length;
        if (!holds(ends, note.pitch.midi()))
            note.pitch = nearest_to(choices(ends, *span.span), note.pitch, -1);
        note.length = std::min(std::max(note.at + note.length, end), end) - note.at;
    }

    [[nodiscard]] const DrillCell& cell_over(const LineSpan& span) const {
        constexpr int kMinorThird = 3;
        constexpr int kFlatFifth = 6;
        constexpr int kFlatNinth = 1;
        if (span.facts.sus_third != 0) return sus_cell_;
        if (!span.span->symbol) return cell_;
        const int root = span.span->symbol->root.semitone();
        const bool is_half_diminished = holds(span.facts.tones, root + kMinorThird) &&
                                        holds(span.facts.tones, root + kFlatFifth) &&
                                        holds(set_of(span.span->notes), root + kFlatNinth);
        return is_half_diminished ? half_diminished_cell_ : cell_;
    }

    // The degrees to play in so many notes.
    [[nodiscard]] DrillCell shortened(const LineSpan& span, std::size_t room) const {
        const DrillCell& cell = cell_over(span);
        if (cell.size() <= room) return cell;
        DrillCell out(cell.begin(), cell.begin() + static_cast<std::ptrdiff_t>(room));
        const auto tells = [&](const CellNote& degree) {
            return holds(span.facts.tell, pitch_of_degree(span, degree, 4).midi());
        };
        if (std::ranges::any_of(out, tells)) return out;
        const auto teller = std::ranges::find_if(cell, tells);
        if (teller != cell.end()) {
            out.back() = *teller;
        } else if (span.is_duty) {
            out.back() = CellNote{.steps = span.facts.sus_third != 0 ? 3 : 2};
        }
        return out;
    }

    [[nodiscard]] Pitch pitch_of_degree(const LineSpan& span, const CellNote& degree, int octave) const {
        const ScaleSpan& chord = *span.span;
        const Pitch strict = Pitch{root_of(chord), octave} + degree_over(chord, span.facts, degree.steps) +
                             degree.octaves * kOctave;
        // As the chord or the scale spells it.
        const auto name = scale_name(chord, strict.midi());
        return name ? pitch_of(*name, strict.midi()) : strict;
    }

    // In the octave near the statement before, and near the middle. The cell moves as a whole: where its
    // range is too narrow for it here it takes more of what the player has, and is folded only where that
    // ends too.
    [[nodiscard]] std::vector<Pitch> pitches(const LineSpan& span, std::size_t room) const {
        const DrillCell degrees = shortened(span, room);
        const Pitch middle = middle_of(range_);
        std::vector<Pitch> best;
        int best_cost = 0;
        for (int octave = -1; octave <= 9; ++octave) {
            std::vector<Pitch> notes;
            int folded = 0;
            int beyond = 0;
            int off = 0;
            for (const CellNote& degree : degrees) {
                Pitch pitch = pitch_of_degree(span, degree, octave);
                while (pitch.midi() > whole_range_.high.midi()) pitch = pitch - kOctave, ++folded;
                while (pitch.midi() < whole_range_.low.midi()) pitch = pitch + kOctave, ++folded;
                if (!whole_range_.holds(pitch)) return {};
                beyond += std::max({0, pitch.midi() - range_.high.midi(), range_.low.midi() - pitch.midi()});
                off += pitch.midi() - middle.midi();
                notes.push_back(pitch);
            }
            off = std::abs(off) / static_cast<int>(notes.size());
            const Pitch near = last_.value_or(middle);
            const int cost = 1000 * folded + 5 * beyond + 2 * std::abs(notes.front().midi() - near.midi()) +
                             kLeapIn * leap_into(notes.front()) + off;
            if (best.empty() || cost < best_cost) {
                best = std::move(notes);
                best_cost = cost;
            }
        }
        return best;
    }

    // How much wider than a third the step from the line so far is, in semitones.
    [[nodiscard]] int leap_into(Pitch note) const {
        constexpr int kThird = 4;
        return line_.notes.empty()
                   ? 0
                   : std::max(0, std::abs(note.midi() - line_.notes.back().pitch.midi()) - kThird);
    }

    static constexpr int kLeapIn = 3;
    static constexpr std::ptrdiff_t kPlainBars = 2;  // of one chord: the cell as it is
    static constexpr int kMostTurns = 8;

    LineSlots slots_;
    PitchRange whole_range_;
    DrillCell cell_;
    DrillCell sus_cell_;              // over sus chords
    DrillCell half_diminished_cell_;  // over a minor third and a flat fifth
    std::optional<Pitch> last_;
    // Of a chord of many bars:
    bool is_vamp_ = false;
    std::vector<Pitch> base_;  // the cell as it comes first
    std::vector<int> turns_;   // by bar
    int bar_of_chord_ = -1;
    Position bar_;
};

}  // namespace

ConcertLine cell_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return CellLine{ground, request, range}.make();
}

std::string fault_of_cell(std::string_view cell) {
    DrillCell unused;
    return read_cell(cell, unused);
}

}  // namespace shedbook
