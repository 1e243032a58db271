// Thirds and sevenths joined: one a chord, the nearest in reach (R. Hutchinson, Music Theory for the
// 21st-Century Classroom, 31.7: guide tones are 3 and 7; in cycles of fifths they move by step or stay). The
// line falls with the cycle and takes a leap up now and then, so that it stays in the middle of the range.
#include <algorithm>
#include <bit>
#include <cstdlib>
#include <functional>

#include "line_maker.h"
#include "lines.h"

namespace shedbook {
namespace {

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

// A chord, or two bars of one that lasts longer.
struct GuideStretch {
    Position at;
    Duration length;
    std::size_t span = 0;
    bool opens = false;
    bool fresh = false;
    bool begins_phrase = false;  // eight bars
    bool is_last = false;
};

class GuideLine : LineMaker {
  public:
    GuideLine(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : LineMaker{ground, request, range}, slots_{ground, kQuarter} {
        above_ = 3 + dice_.below(4);
        lay_out();
    }

    ConcertLine make() {
        choose();
        for (std::size_t i = 0; i < stretches_.size(); ++i) play(i);
        return std::move(line_);
    }

  private:
    void lay_out() {
        constexpr int kLongest = 2;  // bars
        constexpr int kPhrase = 8;   // bars
        int bars = 0;
        int all_bars = -1;
        for (const Slot& slot : slots_.all) {
            if (slot.starts_bar) {
                ++bars;
                ++all_bars;
            }
            // The guide tones of a sus chord are none to end on: it gets one more note.
            const ChordFacts& facts = slots_.spans[slot.span].facts;
            const bool ends_elsewhere = slot.is_last && (facts.tell & facts.ends) == 0;
            const bool again = (slot.starts_bar && bars >= kLongest && !slot.is_last) || ends_elsewhere;
            if (slot.opens || slot.fresh || again) {
                const bool begins = slot.starts_bar && all_bars % kPhrase == 0;
                stretches_.push_back({slot.at, {}, slot.span, slot.opens, slot.fresh, begins, false});
                bars = 0;
            }
            stretches_.back().length = slot.at + slot.length - stretches_.back().at;
        }
        if (!stretches_.empty()) stretches_.back().is_last = true;
    }

    // A chorus more begins on the other guide tone of its first chord.
    void choose() {
        starts_ = starts_of_choruses();
        std::vector<LinePlace> places = lay_places();
        if (is_plain() && (ground_.choruses > 1 || request_.from_third)) begin_on_third(places.front());
        chosen_ = cheapest(places);
        std::size_t last = 0;
        for (const std::size_t start : starts_) {
            // Over a whole form the voices would drift apart: there only the first chord decides.
            const bool is_parted =
                is_plain() && request_.bars ? part_all(last, start, places) : part_first(last, start, places);
            if (!is_parted) continue;
            chosen_ = cheapest(places);
            last = start;
        }
    }

    // False where the first chord has one guide tone.
    [[nodiscard]] bool part_first(std::size_t first, std::size_t start,
                                  std::vector<LinePlace>& places) const {
        std::vector<Pitch>& choices = places[start].choices;
        const auto is_known = [&](Pitch pitch) { return (pitch.midi() - chosen_[first].midi()) % 12 == 0; };
        if (std::ranges::all_of(choices, is_known)) return false;
        std::erase_if(choices, is_known);
        std::erase_if(places[first].choices, std::not_fn(is_known));
        return true;
    }

    // What the chorus from `first` has stays; the next one, from `start`, has the other guide tone of each
    // chord.
    [[nodiscard]] bool part_all(std::size_t first, std::size_t start, std::vector<LinePlace>& places) const {
        for (std::size_t k = 0; first + k < start; ++k) {
            const Pitch known = chosen_[first + k];
            places[first + k].choices = {known};
            if (start + k >= places.size()) break;
            std::vector<Pitch>& choices = places[start + k].choices;
            const auto is_known = [&](Pitch pitch) { return (pitch.midi() - known.midi()) % 12 == 0; };
            if (!std::ranges::all_of(choices, is_known)) std::erase_if(choices, is_known);
        }
        return true;
    }

    // The bare voices, third and seventh or sixth, that lie nearest each other.
    [[nodiscard]] bool is_plain() const { return request_.level == 1; }
    [[nodiscard]] static bool has_third(const LineSpan& span) {
        return (span.facts.guide & thirds(span)) != 0;
    }
    static SoundSet thirds(const LineSpan& span) {
        const int root = span.span->symbol ? span.span->symbol->root.semitone() : 0;
        return sound(root + 3) | sound(root + 4);
    }
    void begin_on_third(LinePlace& place) const {
        const LineSpan& span = slots_.spans[stretches_.front().span];
        const auto is_other = [&](Pitch pitch) { return !holds(thirds(span), pitch.midi()); };
        // A narrow range may have none.
        if (!std::ranges::all_of(place.choices, is_other)) std::erase_if(place.choices, is_other);
    }

    // The first stretches of all choruses but the first.
    [[nodiscard]] std::vector<std::size_t> starts_of_choruses() const {
        const auto choruses = static_cast<std::size_t>(ground_.choruses);
        const std::size_t bars = bars_of_chorus(ground_);
        std::vector<std::size_t> out;
        for (std::size_t chorus = 1; chorus < choruses; ++chorus) {
            const Position at = ground_.bars[chorus * bars].at;
            const auto found = std::ranges::lower_bound(stretches_, at, {}, &GuideStretch::at);
            if (found != stretches_.end())
                out.push_back(static_cast<std::size_t>(found - stretches_.begin()));
        }
        return out;
    }

    [[nodiscard]] bool begins_chorus(std::size_t stretch) const {
        return std::ranges::find(starts_, stretch) != starts_.end();
    }

    [[nodiscard]] std::vector<LinePlace> lay_places() {
        std::vector<LinePlace> places;
        for (const GuideStretch& stretch : stretches_) {
            const LineSpan& span = slots_.spans[stretch.span];
            SoundSet guides = span.facts.tell == 0 ? span.facts.tones : span.told();
            // Two voices on a unit have both.
            if (is_plain() && has_third(span) && (request_.bars || span.third == 0))
                guides = span.facts.guide;
            // On bars of a tune a voice goes to its own end.
            const bool goes_on = is_plain() && request_.bars && has_third(span);
            if (stretch.is_last && !goes_on)
                guides = (guides & span.facts.ends) != 0 ? guides & span.facts.ends : span.facts.ends;
            places.push_back({choices(guides, *span.span), 0, stretch.opens, false, stretch.fresh});
            guides_.push_back(guides);
            // A triad has one: another of its tones stands for the second voice. And a voice may step to
            // another where all comes to rest: the seventh of a backdoor's dominant to the fifth of I.
            const bool is_free = stretch.is_last || begins_chorus(places.size()) || std::popcount(guides) < 2;
            if (!request_.bars || !is_plain() || !is_free) continue;
            std::vector<Pitch>& all = places.back().choices;
            for (const Pitch other : in_range(span.span->chord, range_)) {
                if (!holds(guides, other.midi())) all.push_back(other);
            }
            std::ranges::sort(all);
        }
        return places;
    }

    // What it costs a bare voice that it steps to no guide tone, or by an augmented second; and that it
    // stays: four times the same note shows no change.
    [[nodiscard]] double off_guide(const LineMove& move) const {
        constexpr double kOther = 1.6;
        constexpr double kOtherAtFirst = 6;
        constexpr double kLeap = 2;
        constexpr double kStays = 1.5;
        if (!is_plain() || !request_.bars) return 0;
        const bool is_guide = holds(guides_[move.place], move.to.midi());
        const bool begins = !move.from || begins_chorus(move.place);
        if (begins) return is_guide ? 0 : kOtherAtFirst;
        return (is_guide ? 0 : kOther) + (std::abs(move.by()) > 2 ? kLeap : 0) +
               (move.by() == 0 ? kStays : 0);
    }

    [[nodiscard]] std::vector<Pitch> cheapest(const std::vector<LinePlace>& places) {
        const double centre = (range_.low.midi() + range_.high.midi()) / 2.0;
        return cheapest_line(places, -1, [&](const LineMove& move) {
            constexpr double kRoom = 6;  // half steps around the middle
            const double off = std::abs(move.to.midi() - centre);
            const double away = off > kRoom ? (off - kRoom) * 2 : 0;
            if (!move.from)
                return MoveCost{away + std::abs(move.to.midi() - centre - above_) / 2 + off_guide(move)};
            const GuideStretch& stretch = stretches_[move.place];
            double by = std::abs(move.by());
            // Again in the same chord: its other guide tone. A new phrase may begin elsewhere.
            if (!stretch.opens && by == 0) by = 4;
            if (stretch.begins_phrase) by /= 3;
            // Each time through is a voice of its own.
            if (is_plain() && begins_chorus(move.place)) by = 0;
            return MoveCost{away + by + off_guide(move) +
                            (is_plain() ? 0 : awkward(move, stretches_[move.place - 1].length)) +
                            (move.by() > 0 && by <= 2 ? 0.1 : 0)};
        });
    }

    void play(std::size_t i) {
        const GuideStretch& stretch = stretches_[i];
        const LineSpan& span = slots_.spans[stretch.span];
        const Pitch guide = chosen_[i];
        const bool more = i + 1 < stretches_.size() && !stretches_[i + 1].fresh;
        const Duration note = value_in(bar_at(ground_, stretch.at).meter, std::min(value_, kQuarter));
        // At least half of the chord belongs to its guide tone.
        const auto room = static_cast<int>((stretch.length * Rational{1, 2} / note).floor());
        const int count = more ? std::min(level_.ornament, room) : 0;
        std::vector<Pitch> scale = in_range(span.span->notes, range_);
        std::erase_if(scale, [&](Pitch step) { return holds(span.facts.sus_third, step.midi()); });
        const std::vector<Pitch> steps =
            count > 0 ? steps_to(scale, guide, chosen_[i + 1], count) : std::vector<Pitch>{};
        const Duration tail = note * Rational{static_cast<std::int64_t>(steps.size())};
        Position at = stretch.at + (stretch.length - tail);
        explain(line_, request_.explain, stretch.at, "guide tone");
        head(guide, stretch.at, at - stretch.at);
        if (!steps.empty()) explain(line_, request_.explain, at, "steps");
        for (const Pitch step : steps) {
            add_note(line_, step, at, note);
            at += note;
        }
    }

    // In rhythm, the guide tone is struck twice: long and short by turns.
    void head(Pitch guide, Position at, Duration length) {
        if (level_.note == kQuarter || length < kHalf)
            return add_long_note(line_, ground_, guide, at, length);
        const Meter& meter = bar_at(ground_, at).meter;
        const Duration beat = meter.is_compound() ? meter.beat_length() : kQuarter;
        const Duration first = dice_.chance(0.5) ? beat + (meter.is_compound() ? Duration{} : kEighth) : beat;
        add_note(line_, guide, at, first);
        add_long_note(line_, ground_, guide, at + first, length - first);
    }

    LineSlots slots_;
    std::vector<GuideStretch> stretches_;
    std::vector<SoundSet> guides_;  // of each stretch
    std::vector<Pitch> chosen_;
    std::vector<std::size_t> starts_;  // of the choruses but the first
    double above_ =
        0;  // the middle of the range, where the line begins: in cycles of fifths guide tones fall
};

}  // namespace

ConcertLine guide_tone_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return GuideLine{ground, request, range}.make();
}

}  // namespace shedbook
