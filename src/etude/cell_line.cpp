// The same degrees over every chord.
#include <algorithm>
#include <cstdlib>

#include "line_maker.h"
#include "line_tools.h"
#include "lines.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr std::size_t kMostInACell = 16;
constexpr int kHighestDegree = 13;

struct CellDegree {
    int number = 1;   // from 1
    int octaves = 0;  // up or down
};

std::string read_cell(std::string_view text, std::vector<CellDegree>& out) {
    for (const std::string_view word : split(text, ' ')) {
        if (word.empty()) continue;
        CellDegree degree{0, 0};
        std::size_t k = 0;
        for (; k < word.size() && word[k] >= '0' && word[k] <= '9' && degree.number < 100; ++k)
            degree.number = 10 * degree.number + (word[k] - '0');
        for (; k < word.size() && (word[k] == '\'' || word[k] == ','); ++k)
            degree.octaves += word[k] == '\'' ? 1 : -1;
        const std::string typed{word};
        if (word[0] == 'b' || word[0] == '#')
            return "'" + typed + "': degrees are those of each chord's own scale, so write 3, not b3";
        if (k != word.size() || degree.number < 1 || degree.number > kHighestDegree ||
            std::abs(degree.octaves) > 2)
            return "'" + typed +
                   "' is no degree; write numbers from 1 to 13, with ' an octave higher, as in \"1 2 3 5 "
                   "1'\"";
        out.push_back(degree);
    }
    if (out.empty()) return "a cell needs a degree, as in \"1 2 3 5\"";
    if (out.size() > kMostInACell) return "a cell has 16 notes at most";
    return {};
}

class CellLine : LineMaker {
  public:
    CellLine(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : LineMaker{ground, request, range} {
        static_cast<void>(read_cell(request.cell, cell_));  // the request's maker has checked it
    }

    ConcertLine make() {
        line_.length = ground_.length;
        for (const ScaleSpan& span : ground_.spans) {
            if (span.notes.empty()) continue;
            const Duration length = level_.note * Rational{static_cast<std::int64_t>(cell_.size())};
            Position at = span.at;
            const Position end = span.at + span.length;
            while (at < end) {
                const Position next = next_statement(at, length, end);
                state(span, at, next);
                at = next;
            }
        }
        return std::move(line_);
    }

  private:
    [[nodiscard]] Position next_statement(Position at, Duration length, Position end) const {
        if (level_.ornament == 0) return end;
        Position next = at + length;
        if (level_.ornament == 1) {
            const GroundBar* bar = &bar_at(ground_, at);
            next = bar->at + bar->length;
            while (next < at + length && next < end) {
                bar = &bar_at(ground_, next);
                next = bar->at + bar->length;
            }
        }
        return std::min(next, end);
    }

    // The cell from here; its last note holds to the end of the bar, or until the next one begins.
    void state(const ScaleSpan& span, Position at, Position stop) {
        const std::vector<Pitch> notes = pitches(span);
        if (notes.empty()) return;
        explain(line_, request_.explain && at == span.at, at, "cell");
        for (std::size_t k = 0; k < notes.size() && at < stop; ++k) {
            Position end = at + level_.note;
            if (k + 1 == notes.size()) {
                const GroundBar& bar = bar_at(ground_, at);
                end = std::max(end, bar.at + bar.length);
            }
            end = std::min(end, stop);
            add_note(line_, notes[k], at, end - at);
            at = end;
        }
        last_ = line_.notes.back().pitch;
    }

    // The degree by its letter over the root, so that 3 is the third of every scale; by counting where the
    // scale has no such letter.
    [[nodiscard]] Interval above_root(const ScaleSpan& span, int number) const {
        const PitchClass root = span.symbol ? span.symbol->root : span.notes.front();
        const int letter = (number - 1) % 7;
        const int octaves = (number - 1) / 7;
        for (const std::vector<PitchClass>* notes : {&span.chord, &span.notes}) {
            for (const PitchClass note : *notes) {
                if ((note - root).steps() == letter) return (note - root) + octaves * kOctave;
            }
        }
        const PitchClass counted = span.notes[static_cast<std::size_t>(letter) % span.notes.size()];
        return (counted - root) + octaves * kOctave;
    }

    [[nodiscard]] std::vector<Pitch> pitches(const ScaleSpan& span) const {
        const PitchClass root = span.symbol ? span.symbol->root : span.notes.front();
        std::vector<Pitch> best;
        int best_cost = 0;
        for (int octave = -1; octave <= 9; ++octave) {
            std::vector<Pitch> notes;
            int outside = 0;
            for (const CellDegree& degree : cell_) {
                Pitch pitch =
                    Pitch{root, octave} + above_root(span, degree.number) + degree.octaves * kOctave;
                // A cell too wide for the range is folded into it.
                while (pitch.midi() > range_.high.midi()) pitch = pitch - kOctave, ++outside;
                while (pitch.midi() < range_.low.midi()) pitch = pitch + kOctave, ++outside;
                if (!range_.holds(pitch)) return {};
                notes.push_back(pitch);
            }
            const Pitch near = last_.value_or(middle_of(range_));
            const int cost = 100 * outside + std::abs(notes.front().midi() - near.midi());
            if (best.empty() || cost < best_cost) {
                best = std::move(notes);
                best_cost = cost;
            }
        }
        return best;
    }

    std::vector<CellDegree> cell_;
    std::optional<Pitch> last_;
};

}  // namespace

ConcertLine cell_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return CellLine{ground, request, range}.make();
}

std::string fault_of_cell(std::string_view cell) {
    std::vector<CellDegree> unused;
    return read_cell(cell, unused);
}

}  // namespace shedbook
