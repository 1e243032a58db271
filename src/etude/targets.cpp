// A chord tone on each change, and a way that leads to it (common practice: approach notes, enclosures, runs
// and arpeggios into a target).
#include <algorithm>
#include <array>
#include <cstdlib>

#include "line_maker.h"
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

// A chord, or a bar of one that lasts longer.
struct TargetStretch {
    Position at;
    Duration length;
    std::size_t span = 0;
    bool opens = false;
    bool fresh = false;
    bool is_last = false;
};

class TargetLine : LineMaker {
  public:
    TargetLine(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : LineMaker{ground, request, range}, slots_{ground, kEighth} {
        for (const Slot& slot : slots_.all) {
            // The last chord is one target, unless it is long.
            const ChordFacts& facts = slots_.spans[slot.span].facts;
            const bool ends_elsewhere = slot.is_last && (facts.tell & facts.ends) == 0;
            const bool again = (slot.starts_bar && !slot.is_last) || ends_elsewhere;
            if (slot.opens || slot.fresh || again)
                stretches_.push_back({slot.at, {}, slot.span, slot.opens, slot.fresh, false});
            stretches_.back().length = slot.at + slot.length - stretches_.back().at;
        }
        if (!stretches_.empty()) stretches_.back().is_last = true;
    }

    ConcertLine make() {
        choose();
        for (std::size_t i = 0; i < stretches_.size(); ++i) {
            const bool more = i + 1 < stretches_.size() && !stretches_[i + 1].fresh;
            play(stretches_[i], targets_[i], more ? std::optional{targets_[i + 1]} : std::nullopt);
        }
        return std::move(line_);
    }

  private:
    // A tone that tells the chord where it begins, any tone where it goes on; never the note that sounds
    // already, if there is another. Now near, now a leap towards the middle of the range.
    void choose() {
        std::vector<LinePlace> places;
        std::vector<int> wished;
        const int middle = middle_of(range_).midi();
        const int room = std::max(1, (range_.high.midi() - range_.low.midi()) / 2);
        for (const TargetStretch& stretch : stretches_) {
            const LineSpan& span = slots_.spans[stretch.span];
            const bool is_rare = span.is_duty && !dice_.chance(0.97);
            const bool tells = stretch.opens && (span.is_duty || request_.bars) && !is_rare;
            SoundSet tones = tells && span.told() != 0 ? span.told() : span.facts.tones;
            // On bars of a tune what is marked is a third or a seventh, as the pages say.
            if (tells && request_.bars && (tones & span.facts.guide) != 0) tones = guide_of(span, stretch);
            if (stretch.is_last)
                tones = (tones & span.facts.ends) != 0 ? tones & span.facts.ends : span.facts.ends;
            places.push_back({choices(tones, *span.span), span.is_duty ? span.told() : 0, stretch.opens,
                              false, stretch.fresh});
            wished.push_back(middle - room / 2 + dice_.below(room));
        }
        for (std::size_t i = 0; i < places.size(); ++i)
            places[i].closes = i + 1 == places.size() || stretches_[i + 1].opens;
        targets_ = cheapest_line(places, 1, [&](const LineMove& move) {
            const double off = std::abs(move.to.midi() - wished[move.place]) / 6.0;
            if (!move.from) return MoveCost{off};
            const int by = std::abs(move.by());
            const double lies_badly = awkward(move, stretches_[move.place - 1].length);
            return MoveCost{off + lies_badly + (by == 0 ? 5 : 0) + by / 5.0 + (by > 9 ? by : 0)};
        });
    }

    // Third and seventh; of a chord that has both in common with the one before (C7, C#dim7), what it brings.
    [[nodiscard]] SoundSet guide_of(const LineSpan& span, const TargetStretch& stretch) const {
        if (stretch.span == 0 || stretch.fresh) return span.facts.guide;
        const SoundSet before = slots_.spans[stretch.span - 1].facts.tones;
        const SoundSet brought = span.facts.tones & ~before;
        return (span.facts.guide & ~before) == 0 && brought != 0 ? brought : span.facts.guide;
    }

    void play(const TargetStretch& stretch, Pitch target, std::optional<Pitch> goal) {
        const LineSpan& span = slots_.spans[stretch.span];
        const char* name = "";
        std::vector<Pitch> way;
        if (goal) {
            // The target keeps an eighth at least.
            const auto room = static_cast<int>((stretch.length / kEighth).floor()) - 1;
            way = lead_to(*span.span, span.facts, *goal, std::min(room, 4), name);
        }
        const Duration tail = kEighth * Rational{static_cast<std::int64_t>(way.size())};
        Position at = stretch.at + (stretch.length - tail);
        if (request_.explain && span.span->symbol) {
            const std::string degree = degree_name(target.name() - span.span->symbol->root);
            line_.texts.push_back({stretch.at, "target: " + degree});
        }
        const std::size_t first = line_.notes.size();
        add_long_note(line_, ground_, target, stretch.at, at - stretch.at);
        // Marked, so that all see what is aimed at.
        if (request_.bars && stretch.opens && first < line_.notes.size())
            line_.notes[first].articulation = Articulation::Accent;
        if (!way.empty()) explain(line_, request_.explain, at, name);
        for (const Pitch note : way) {
            add_note(line_, note, at, kEighth);
            at += kEighth;
        }
    }

    std::vector<Pitch> lead_to(const ScaleSpan& span, const ChordFacts& facts, Pitch goal, int room,
                               const char*& name) {
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
            std::vector<Pitch> way =
                notes_of(row.lead, span, facts, goal, highest ? room : std::min(room, 3));
            if (static_cast<int>(way.size()) > room || way.empty()) break;
            name = row.name;
            return way;
        }
        // No room for that: a step.
        name = "approach";
        return notes_of(Lead::Step, span, facts, goal, 1);
    }

    std::vector<Pitch> notes_of(Lead lead, const ScaleSpan& span, const ChordFacts& facts, Pitch goal,
                                int room) {
        std::vector<Pitch> scale = in_range(span.notes, range_);
        std::erase_if(scale, [&](Pitch note) { return holds(facts.sus_third, note.midi()); });
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
                // The first of the two is on the beat: up to level 3 that is the scale note.
                if (side > 0 || request_.level <= kOnBeatInScale) return {*above, half_below};
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
        if (request_.level <= kOnBeatInScale) return std::nullopt;
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

    static constexpr int kOnBeatInScale = 3;  // levels
    LineSlots slots_;
    std::vector<TargetStretch> stretches_;
    std::vector<Pitch> targets_;
};

}  // namespace

ConcertLine target_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return TargetLine{ground, request, range}.make();
}

}  // namespace shedbook
