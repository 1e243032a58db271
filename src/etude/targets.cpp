// A chord tone on each change, and a way that leads to it (common practice: approach notes, enclosures, runs
// and arpeggios into a target).
#include <algorithm>
#include <array>

#include "line_maker.h"
#include "line_tools.h"
#include "lines.h"

namespace shedbook {
namespace {

enum class Lead { Step, HalfStep, Enclosure, Run, Arpeggio };

struct LeadRow {
    Lead lead;
    const char* name;
    int from_ornament;
    int weight;   // how often, below the highest ornament
    int highest;  // and at it
};
constexpr std::array<LeadRow, 5> kLeads{{
    {Lead::Step, "approach", 1, 2, 1},
    {Lead::HalfStep, "approach", 2, 3, 1},
    {Lead::Enclosure, "enclosure", 3, 4, 4},
    {Lead::Run, "scale run", 4, 4, 5},
    {Lead::Arpeggio, "arpeggio", 5, 4, 5},
}};

class TargetLine : LineMaker {
  public:
    using LineMaker::LineMaker;

    ConcertLine make() {
        line_.length = ground_.length;
        std::optional<Pitch> target;
        for (std::size_t i = 0; i < ground_.spans.size(); ++i) {
            const ScaleSpan& span = ground_.spans[i];
            if (span.notes.empty()) {
                target.reset();
                continue;
            }
            const std::vector<Pitch> tones = tones_of(span);
            if (!target) target = nearest_to(tones, middle_of(range_), 1);
            const ScaleSpan* next = i + 1 < ground_.spans.size() ? &ground_.spans[i + 1] : nullptr;
            std::optional<Pitch> goal;
            if (next != nullptr && !next->notes.empty()) goal = goal_of(*next, *target);
            play(span, *target, goal);
            target = goal;
        }
        return std::move(line_);
    }

  private:
    std::vector<Pitch> tones_of(const ScaleSpan& span) const {
        std::vector<Pitch> out = in_range(span.guide, range_);
        return out.empty() ? in_range(plain_tones(span), range_) : out;
    }

    // A guide tone mostly, the root or fifth now and then; not the note that sounds already, if there is
    // another.
    Pitch goal_of(const ScaleSpan& next, Pitch from) {
        const bool guides = dice_.chance(0.75);
        const std::vector<Pitch> all = guides ? tones_of(next) : in_range(plain_tones(next), range_);
        const int middle = middle_of(range_).midi();
        // Now near, now a leap towards the middle of the range.
        const int drift = dice_.chance(0.6) ? 0 : (from.midi() > middle ? -1 : 1) * (3 + dice_.below(5));
        const int midi = std::clamp(from.midi() + drift, range_.low.midi(), range_.high.midi());
        std::vector<Pitch> others;
        for (const Pitch tone : all) {
            if (tone.midi() != from.midi()) others.push_back(tone);
        }
        return nearest_to(others.empty() ? all : others, Pitch{simplest_name(midi % 12), midi / 12 - 1}, 1);
    }

    void play(const ScaleSpan& span, Pitch target, std::optional<Pitch> goal) {
        const char* name = "";
        std::vector<Pitch> way;
        if (goal) {
            // The target keeps an eighth at least.
            const auto room = static_cast<int>((span.length / kEighth).floor()) - 1;
            way = lead_to(span, *goal, std::min(room, 4), name);
        }
        const Duration tail = kEighth * Rational{static_cast<std::int64_t>(way.size())};
        Position at = span.at + (span.length - tail);
        if (request_.explain && span.symbol) {
            const std::string degree = degree_name(target.name() - span.symbol->root);
            line_.texts.push_back({span.at, "target: " + degree});
        }
        add_long_note(line_, ground_, target, span.at, at - span.at);
        if (!way.empty()) explain(line_, request_.explain, at, name);
        for (const Pitch note : way) {
            add_note(line_, note, at, kEighth);
            at += kEighth;
        }
    }

    std::vector<Pitch> lead_to(const ScaleSpan& span, Pitch goal, int room, const char*& name) {
        if (room < 1) return {};
        const bool highest = level_.ornament == 6;
        int sum = 0;
        for (const LeadRow& row : kLeads)
            sum += level_.ornament >= row.from_ornament ? (highest ? row.highest : row.weight) : 0;
        int place = dice_.below(sum);
        for (const LeadRow& row : kLeads) {
            if (level_.ornament < row.from_ornament) continue;
            place -= highest ? row.highest : row.weight;
            if (place >= 0) continue;
            std::vector<Pitch> way = notes_of(row.lead, span, goal, highest ? room : std::min(room, 3));
            if (static_cast<int>(way.size()) > room || way.empty()) break;
            name = row.name;
            return way;
        }
        // No room for that: a step.
        name = "approach";
        return notes_of(Lead::Step, span, goal, 1);
    }

    std::vector<Pitch> notes_of(Lead lead, const ScaleSpan& span, Pitch goal, int room) {
        const std::vector<Pitch> scale = in_range(span.notes, range_);
        const int side = dice_.chance(0.5) ? 1 : -1;
        const Pitch half_below = goal - kMinorSecond;
        const bool has_below = range_.holds(half_below);
        const std::optional<Pitch> above = close_to(scale, goal, 1);
        switch (lead) {
            case Lead::Step:
                return along(scale, goal, side, 1);
            case Lead::HalfStep:
                if (has_below) return {half_below};
                return along(scale, goal, 1, 1);
            case Lead::Enclosure:
                if (!has_below || !above) return {};
                if (side > 0) return {*above, half_below};
                return {half_below, *above};
            case Lead::Run:
                return along(scale, goal, side, std::max(2, room));
            case Lead::Arpeggio:
                return along(in_range(plain_tones(span), range_), goal, side, std::max(2, room));
        }
        return {};
    }

    // The scale note next to the goal, two half steps away at most; else the whole step.
    [[nodiscard]] std::optional<Pitch> close_to(const std::vector<Pitch>& scale, Pitch goal, int side) const {
        const std::optional<Pitch> next = next_of(scale, goal, side);
        if (next && std::abs(next->midi() - goal.midi()) <= 2) return next;
        const Pitch whole = goal + side * kMajorSecond;
        if (range_.holds(whole)) return whole;
        return std::nullopt;
    }

    // So many of the notes, in order, up or down to the goal; from the other side where they run out. A scale
    // note that comes last is a step away.
    [[nodiscard]] std::vector<Pitch> along(const std::vector<Pitch>& notes, Pitch goal, int side,
                                           int count) const {
        for (const int from : {side, -side}) {
            std::vector<Pitch> out;
            Pitch at = goal;
            for (int k = 0; k < count; ++k) {
                const std::optional<Pitch> next = next_of(notes, at, from);
                if (!next || std::abs(next->midi() - at.midi()) > 5) break;
                out.push_back(at = *next);
            }
            if (static_cast<int>(out.size()) < count) continue;
            if (count == 1 && std::abs(out[0].midi() - goal.midi()) > 2) continue;
            std::ranges::reverse(out);
            return out;
        }
        return {};
    }
};

}  // namespace

ConcertLine target_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return TargetLine{ground, request, range}.make();
}

}  // namespace shedbook
