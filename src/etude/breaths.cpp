#include "breaths.h"

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <utility>

#include "chord_facts.h"
#include "line_slots.h"
#include "line_tools.h"
#include "shedbook/drill/speeds.h"
#include "shedbook/etude/spelling.h"

namespace shedbook {
namespace {

constexpr double kNoPlace = std::numeric_limits<double>::infinity();

// Behind which note, and how unwelcome it is there.
struct Breath {
    std::size_t behind = 0;
    double cost = 0;
};

double parts_of(Duration length, Duration of) {
    const Rational parts = length / of;
    return static_cast<double>(parts.num()) / static_cast<double>(parts.den());
}

class Breaths {
  public:
    Breaths(ConcertLine& line, const EtudeGround& ground, const BreathRules& rules)
        : line_{line}, ground_{ground}, rules_{rules} {
        std::size_t section = 0;
        for (std::size_t b = 0; b < ground.bars.size(); ++b) {
            const bool begins_anew = b % bars_of_chorus(ground) == 0;
            if (rules.is_passage ? begins_anew : ground.bars[b].section.has_value()) section = b;
            in_section_.push_back(b - section);
        }
    }

    void add() {
        std::size_t first = 0;
        for (std::size_t i = 0; i < line_.notes.size(); ++i) {
            if (i + 1 < line_.notes.size() && line_.notes[i + 1].at - end_of(i) < kEighth) continue;
            choose(first, i);
            first = i + 1;
        }
        // From the end, so that the places of the others stay.
        std::ranges::sort(chosen_);
        for (auto behind = chosen_.rbegin(); behind != chosen_.rend(); ++behind) take(*behind);
    }

  private:
    [[nodiscard]] Position end_of(std::size_t i) const { return line_.notes[i].at + line_.notes[i].length; }

    // The cheapest places in a stretch without rests, notes [first, last].
    void choose(std::size_t first, std::size_t last) {
        if (first == last || end_of(last) - line_.notes[first].at <= rules_.longest) return;
        struct Step {
            double cost = 0;
            std::size_t from = 0;
        };
        std::vector<Breath> places{{first, 0}};
        for (std::size_t i = first; i < last; ++i) {
            if (const double cost = cost_behind(i); cost < kNoPlace) places.push_back({i, cost});
        }
        places.push_back({last, 0});
        std::vector<Step> steps(places.size());
        for (std::size_t p = 1; p < places.size(); ++p) {
            steps[p].cost = kNoPlace;
            for (std::size_t q = 0; q < p; ++q) {
                const Position since = q == 0 ? line_.notes[first].at : line_.notes[places[q].behind + 1].at;
                const double cost =
                    steps[q].cost + places[p].cost + cost_of_stretch(end_of(places[p].behind) - since);
                if (cost < steps[p].cost) steps[p] = {cost, q};
            }
        }
        for (std::size_t p = steps.back().from; p > 0; p = steps[p].from) chosen_.push_back(places[p].behind);
    }

    [[nodiscard]] double cost_of_stretch(Duration length) const {
        const double breaths = parts_of(length, rules_.longest);
        const double too_long = breaths > 1 ? 5 + 20 * (breaths - 1) : 0;
        return 1 + too_long + (breaths < 1.0 / 3 ? 3 : 0);
    }

    [[nodiscard]] double cost_behind(std::size_t i) const {
        const LineNote& note = line_.notes[i];
        const LineNote& next = line_.notes[i + 1];
        const GroundBar& bar = bar_at(ground_, next.at);
        if (!((next.at - bar.at) / kEighth).is_whole() || leads_on(i)) return kNoPlace;
        const bool is_short = note.length < kQuarter;
        const bool starts_bar = next.at == bar.at;
        // Within a bar, a short note ends a phrase on the beat; one that gives way to a rest does so before
        // it.
        const Position on_beat = rules_.makes_rests ? next.at : note.at;
        const bool is_on_beat = ((on_beat - bar.at) / bar.meter.beat_length()).is_whole();
        if (is_short && !starts_bar && !is_on_beat) return kNoPlace;
        // Nobody breathes between two eighths that follow each other: there it takes a rest.
        if (!rules_.makes_rests && is_short && next.length < kQuarter) return kNoPlace;
        double out = note.length >= kHalf ? 0 : is_short ? 2.5 : 1;
        out += cost_of_place(bar, next.at, is_short);
        const ScaleSpan& before = span_at(ground_, note.at);
        const ScaleSpan& behind = span_at(ground_, next.at);
        out += cost_of_change(before, behind);
        // An unbroken line has no pickups: inside a bar of one chord a rest tears it.
        if (rules_.makes_rests && &before == &behind && !starts_bar) out += 2;
        if (!rules_.makes_rests) return out + (is_tone(note) ? 0 : 1);
        if (!leaves_told(i)) return kNoPlace;
        // The line comes to rest on the note that stays.
        constexpr double kLeftHanging = 4;
        return out + (is_tone(line_.notes[first_gone(i) - 1]) ? 0 : kLeftHanging);
    }

    // The beginning of a section or of four bars rather than any bar line; a pickup belongs to its bar.
    [[nodiscard]] double cost_of_place(const GroundBar& bar, Position at, bool is_short) const {
        auto which = static_cast<std::size_t>(&bar - ground_.bars.data());
        double out = 0;
        if (at != bar.at) {
            const bool is_pickup = !is_short && bar.at + bar.length - at <= bar.length * Rational{1, 2};
            if (!is_pickup || which + 1 == ground_.bars.size()) return is_short ? 6 : 4;
            ++which;
            out = 0.5;
        }
        const std::size_t in_section = in_section_[which];
        return out + (in_section % 4 == 0 ? 0 : in_section % 2 == 0 ? 1 : 2);
    }

    // A dominant and the chord a fifth or a half step below are one thought; so are ii and V, less so.
    [[nodiscard]] static double cost_of_change(const ScaleSpan& from, const ScaleSpan& to) {
        constexpr int kFifthDown = 5;  // half steps up, in the octave
        constexpr int kHalfStepDown = 11;
        if (!from.symbol || !to.symbol) return 0;
        const int up = (to.symbol->root.semitone() - from.symbol->root.semitone() + 12) % 12;
        const bool falls = up == kFifthDown || up == kHalfStepDown;
        if (!falls) return 0;
        return family(*from.symbol) == ChordFamily::Dominant ? 3 : 2;
    }

    // The third of a dominant, a half step below what it goes to.
    [[nodiscard]] bool is_leading_tone(std::size_t i) const {
        constexpr int kThirdOfDominant = 4;
        const LineNote& note = line_.notes[i];
        const ScaleSpan& span = span_at(ground_, note.at);
        return span.symbol && family(*span.symbol) == ChordFamily::Dominant &&
               sound(span.symbol->root.semitone() + kThirdOfDominant) == sound(note.pitch.midi()) &&
               line_.notes[i + 1].pitch.midi() - note.pitch.midi() == 1;
    }

    // An approach note, a leading tone, a part of an enclosure, or a short note before a longer one.
    [[nodiscard]] bool leads_on(std::size_t i) const {
        const LineNote& note = line_.notes[i];
        const LineNote& next = line_.notes[i + 1];
        if (is_outside(note) || is_leading_tone(i)) return true;
        if (note.length >= kQuarter) return false;
        const bool is_after_outside = i > 0 && is_outside(line_.notes[i - 1]) &&
                                      std::abs(line_.notes[i - 1].pitch.midi() - next.pitch.midi()) <= 2;
        return next.length > note.length || is_outside(next) || is_after_outside;
    }

    [[nodiscard]] bool is_outside(const LineNote& note) const {
        return !scale_name(span_at(ground_, note.at), note.pitch.midi());
    }
    [[nodiscard]] bool is_tone(const LineNote& note) const {
        return holds(tones_at(note.at), note.pitch.midi());
    }
    [[nodiscard]] SoundSet tones_at(Position at) const {
        const ScaleSpan& span = span_at(ground_, at);
        return span.symbol ? facts_of(*span.symbol).tones : set_of(span.chord);
    }

    // The first note that gives way to a rest behind note i.
    [[nodiscard]] std::size_t first_gone(std::size_t i) const {
        const Position stop = end_of(i) - kEighth;
        std::size_t out = i + 1;
        while (out > 0 && line_.notes[out - 1].at >= stop) --out;
        // Of three or four notes to the beat the first one alone is left: a short note and then a rest would
        // read backwards.
        const auto is_on_eighth = [&](Position at) {
            return ((at - bar_at(ground_, at).at) / kEighth).is_whole();
        };
        while (out > 1 && out <= i && !is_on_eighth(line_.notes[out - 1].at)) --out;
        return out;
    }

    // Whether every chord is still told without the notes that give way.
    [[nodiscard]] bool leaves_told(std::size_t i) const {
        const std::size_t gone = first_gone(i);
        if (gone == 0) return false;
        for (std::size_t k = gone; k <= i; ++k) {
            const ScaleSpan& span = span_at(ground_, line_.notes[k].at);
            const Position end = span.at + span.length;
            const SoundSet tell = span.symbol ? facts_of(*span.symbol).tell : 0;
            const Duration beat = bar_at(ground_, span.at).meter.beat_length();
            if (tell == 0 || span.length < least_told(beat)) continue;
            bool is_told = false;
            const auto from = std::ranges::lower_bound(line_.notes, span.at, {}, &LineNote::at);
            for (auto note = from; note != line_.notes.end() && note->at < end; ++note) {
                const auto index = static_cast<std::size_t>(note - line_.notes.begin());
                is_told = is_told || ((index < gone || index > i) && holds(tell, note->pitch.midi()));
            }
            if (!is_told) return false;
        }
        return true;
    }

    // The last beat behind its beginning, up to which it is held.
    [[nodiscard]] Position last_beat_in(const LineNote& note) const {
        const Position end = note.at + note.length;
        const GroundBar& bar = bar_at(ground_, end - kEighth);
        const Duration beat = bar.meter.unit == 2 ? kQuarter : bar.meter.beat_length();
        Position out = bar.at;
        while (out + beat < end) out += beat;
        return out > note.at ? out : end - kEighth;
    }

    void take(std::size_t i) {
        LineNote& own = line_.notes[i];
        const bool is_long = own.length >= kHalf;
        if (!rules_.makes_rests || (own.length >= kQuarter && !is_long)) {
            line_.breaths.push_back(end_of(i));
            std::ranges::sort(line_.breaths);
            return;
        }
        if (is_long) {
            own.length = last_beat_in(own) - own.at;
            return;
        }
        const Position stop = end_of(i) - kEighth;
        const std::size_t gone = first_gone(i);
        if (gone == 0) return;
        LineNote& last = line_.notes[gone - 1];
        if (gone <= i || last.at + last.length > stop) last.length = stop - last.at;
        line_.notes.erase(line_.notes.begin() + static_cast<std::ptrdiff_t>(gone),
                          line_.notes.begin() + static_cast<std::ptrdiff_t>(i + 1));
    }

    ConcertLine& line_;
    const EtudeGround& ground_;
    const BreathRules& rules_;
    std::vector<std::size_t> in_section_;  // the place of each bar
    std::vector<std::size_t> chosen_;
};

}  // namespace

Duration on_one_breath(const ConcertLine& line, const EtudeGround& ground, const EtudeRequest& request) {
    constexpr int kSeconds = 8;
    constexpr int kUsualTempo = 120;
    constexpr int kFewestBars = 2;
    constexpr int kMostBars = 4;
    const Meter& meter = ground.bars.front().meter;
    const Speeds& speeds = request.handling.speeds != nullptr ? *request.handling.speeds : speeds_of("");
    const int slowest =
        box_tempos(line, meter, speeds, request.level, request.tempo.value_or(kUsualTempo), {kSlowestBox})
            .front();
    const Duration time = meter.beat_length() * Rational{kSeconds * slowest, 60};
    return std::clamp(time, meter.bar_length() * Rational{kFewestBars},
                      meter.bar_length() * Rational{kMostBars});
}

void add_breaths(ConcertLine& line, const EtudeGround& ground, const BreathRules& rules) {
    if (line.notes.empty() || ground.bars.empty()) return;
    Breaths{line, ground, rules}.add();
}

}  // namespace shedbook
