// Thirds and sevenths joined: one a chord, the nearest in reach (R. Hutchinson, Music Theory for the
// 21st-Century Classroom, 31.7: guide tones are 3 and 7; in cycles of fifths they move by step or stay).
#include <algorithm>

#include "line_maker.h"
#include "line_tools.h"
#include "lines.h"

namespace shedbook {
namespace {

// What stands for guide tones where a chord has none: any of its tones.
std::vector<Pitch> guides_of(const ScaleSpan& span, PitchRange range) {
    std::vector<Pitch> out = in_range(span.guide, range);
    return out.empty() ? in_range(plain_tones(span), range) : out;
}

// Scale steps that come to the target from the side where the line is, the first of them first.
std::vector<Pitch> steps_to(const std::vector<Pitch>& scale, Pitch from, Pitch target, int count) {
    int side = from.midi() > target.midi() ? 1 : -1;
    if (!next_of(scale, target, side)) side = -side;
    std::vector<Pitch> out;
    Pitch at = target;
    for (int k = 0; k < count; ++k) {
        const std::optional<Pitch> next = next_of(scale, at, side);
        if (!next) break;
        out.push_back(at = *next);
    }
    std::ranges::reverse(out);
    return out;
}

class GuideLine : LineMaker {
  public:
    using LineMaker::LineMaker;

    ConcertLine make() {
        line_.length = ground_.length;
        choose();
        for (std::size_t i = 0; i < ground_.spans.size(); ++i) {
            if (chosen_[i]) play(i);
        }
        return std::move(line_);
    }

  private:
    void choose() {
        std::optional<Pitch> last;
        for (const ScaleSpan& span : ground_.spans) {
            chosen_.emplace_back();
            if (span.notes.empty()) continue;
            const std::vector<Pitch> guides = guides_of(span, range_);
            if (guides.empty()) continue;
            // From high up: in cycles of fifths guide tones fall.
            if (!last) last = range_.high - (dice_.chance(0.5) ? kMajorSecond : kPerfectFifth);
            last = chosen_.back() = nearest_to(guides, *last, -1);
        }
    }

    void play(std::size_t i) {
        const ScaleSpan& span = ground_.spans[i];
        const Pitch guide = *chosen_[i];
        const bool more = i + 1 < chosen_.size() && chosen_[i + 1];
        // At least half of the chord belongs to its guide tone.
        const auto room = static_cast<int>((span.length * Rational{1, 2} / level_.note).floor());
        const int count = more ? std::min(level_.ornament, room) : 0;
        const std::vector<Pitch> steps =
            count > 0 ? steps_to(in_range(span.notes, range_), guide, *chosen_[i + 1], count)
                      : std::vector<Pitch>{};
        const Duration tail = level_.note * Rational{static_cast<std::int64_t>(steps.size())};
        Position at = span.at + (span.length - tail);
        explain(line_, request_.explain, span.at, "guide tone");
        head(guide, span.at, at - span.at);
        if (!steps.empty()) explain(line_, request_.explain, at, "steps");
        for (const Pitch step : steps) {
            add_note(line_, step, at, level_.note);
            at += level_.note;
        }
    }

    // In rhythm, the guide tone is struck twice: long and short by turns.
    void head(Pitch guide, Position at, Duration length) {
        if (level_.note == kQuarter || length < kHalf)
            return add_long_note(line_, ground_, guide, at, length);
        const Duration first = dice_.chance(0.5) ? kQuarter + kEighth : kEighth;
        add_note(line_, guide, at, first);
        add_long_note(line_, ground_, guide, at + first, length - first);
    }

    std::vector<std::optional<Pitch>> chosen_;
};

}  // namespace

ConcertLine guide_tone_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return GuideLine{ground, request, range}.make();
}

}  // namespace shedbook
