// What a melody costs: its figures beside those aimed at, and the rules that every etude keeps.
#include <algorithm>
#include <array>
#include <cstdlib>
#include <vector>

#include "melody.h"

namespace shedbook {
namespace {

struct Aspect {  // of a line: what is measured together
    PitchMeter::Aspect aspect;
    std::vector<Figure> figures;
};

// The dearest last: few changes are worth measuring so far.
const std::array<Aspect, 5>& aspects() {
    using enum Figure;
    static const std::array<Aspect, 5> kAspects{{
        {PitchMeter::Aspect::Moves,
         {IntervalShape, Semitone,        WholeTone,   Steps,   Thirds,  Fourths, Large, Repeats,
          MaxLeap,       Recover,         RunMean,     RunOne,  RunFour, RunMax,  Up,    UpStep,
          DownStep,      TurnCorrelation, TurnVariety, Arpeggio}},
        {PitchMeter::Aspect::Tones,
         {ToneStrong, ToneWeak, ToneOff, ToneLift, ChangeTone, ChangeGuide, ChangeNear}},
        {PitchMeter::Aspect::Register, {Range, MiddleHalf, Drift, Climax, TopHits, PitchVariety}},
        {PitchMeter::Aspect::Outside, {Outside, Unresolved}},
        {PitchMeter::Aspect::Again, {Again4, AgainExact, AgainTransposed, AgainBar}},
    }};
    return kAspects;
}

}  // namespace

double MelodySearch::outside_cost(std::size_t i) const {
    const MelodyWeights& weights = melody_weights();
    const std::size_t to = resolution(i);
    double out = notes_[i].on % kBeatTicks == 0 ? weights.outside_on_beat : 0;
    if (to > i + 1) out += weights.outside_late;
    if (to > i && !holds(tones_[to], pitches_[to])) out += weights.outside_other;
    if (i > 0 && meter_.goes_on(i - 1) && !in_scale(i - 1, pitches_[i - 1])) out += weights.outside_pair;
    return out;
}

double MelodySearch::style_cost() const {
    const MelodyWeights& weights = melody_weights();
    double out = 0;
    const std::size_t n = pitches_.size();
    int top = 0;
    for (const int pitch : pitches_) top = std::max(top, pitch);
    int phrases_with_top = 0;
    bool has_top = false;
    for (std::size_t i = 0; i < n; ++i) {
        const int pitch = pitches_[i];
        if (holds(avoid_[i], pitch) && (is_long_[i] != 0 || is_strong_[i] != 0)) out += weights.long_avoid;
        if (!in_scale(i, pitch)) out += outside_cost(i);
        if (!holds(tones_[i], pitch)) {
            if (is_plain_[i] != 0) out += weights.plain_chord;
            if (notes_[i].on % kBeatTicks == 0) out += options_.off_tone;
        }
        if (pitch == top && !has_top) {
            has_top = true;
            ++phrases_with_top;
        }
        if (!meter_.goes_on(i)) {
            has_top = false;
            if (!holds(tones_[i], pitch)) out += weights.phrase_end;
            continue;
        }
        const int move = pitches_[i + 1] - pitch;
        out += weights.interval * surprise_[static_cast<std::size_t>(move + kWidest)];
        if (std::abs(move) > 4 && !in_scale(i + 1, pitches_[i + 1])) out += weights.outside_leap;
        if (i + 2 >= n || !meter_.goes_on(i + 1)) continue;
        const int next = pitches_[i + 2] - pitches_[i + 1];
        if (std::abs(move) >= 5 && std::abs(next) >= 5 && (move > 0) == (next > 0)) out += weights.two_leaps;
        if (move == 0 && next == 0) out += weights.three_alike;
        if (i + 3 < n && meter_.goes_on(i + 2) && move == -next && move != 0 &&
            pitches_[i + 3] - pitches_[i + 2] == move)
            out += weights.trill;
    }
    out += weights.top_apart * std::max(0, phrases_with_top - 1);
    for (const Duty& duty : duties_) out += is_told(duty) ? 0 : weights.untold;
    for (const Duty& duty : altered_) out += is_told(duty) ? 0 : weights.unaltered;
    if (options_.handling != nullptr) out += handling_cost();
    return out;
}

// What a teacher asks of a line before it sounds like a player's: the chords on the beats and in the long
// notes, steps between them, leaps among their tones, and every outside note home at once.
double MelodySearch::plain_cost() const {
    const MelodyWeights& weights = melody_weights();
    const std::size_t n = pitches_.size();
    double out = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const bool goes_on = i + 1 < n && meter_.goes_on(i);
        const int move = goes_on ? pitches_[i + 1] - pitches_[i] : 0;
        if (!is_tone(i)) {
            const bool leans = goes_on && move < 0 && move >= -2 && is_tone(i + 1);
            if (is_strong_[i] != 0) out += weights.strong_other * (leans ? 0.5 : 1);
            if (is_long_[i] != 0) out += weights.long_other;
        }
        if (goes_on && std::abs(move) > 4 && !(is_tone(i) && is_tone(i + 1))) out += weights.loose_leap;
        if (in_scale(i, pitches_[i])) continue;
        if (holds(foreign_third_[i], pitches_[i])) out += weights.foreign_third;
        const std::size_t to = resolution(i);
        if (to > 0 && (std::abs(pitches_[to] - pitches_[i]) != 1 || !is_tone(to))) out += weights.strays;
    }
    for (const Duty& duty : duties_) out += is_told_on_a_beat(duty) ? 0 : weights.told_late;
    for (const Duty& duty : thirds_) out += is_told_on_a_beat(duty) ? 0 : weights.no_third;
    for (const Statement& statement : statements_) out += statement_cost(statement);
    out += shape_cost();
    if (n > 1 && std::abs(pitches_[n - 1] - pitches_[n - 2]) > 2) out += weights.end_leap;
    return out;
}

int MelodySearch::unstated_in(const Statement& statement) const {
    SoundSet heard = 0;
    for (std::size_t i = statement.first; i < statement.last; ++i) heard |= sound(pitches_[i]);
    return unstated(statement.says, heard, statement.last - statement.first);
}

bool MelodySearch::passes_by_half_steps(std::size_t i) const {
    return i > 0 && i + 1 < pitches_.size() && std::abs(pitches_[i] - pitches_[i - 1]) == 1 &&
           std::abs(pitches_[i + 1] - pitches_[i]) == 1;
}

// A chord has two of its tones, and those that tell it from its like; one of them early; and nothing on a
// beat that its symbol says otherwise, off the beat only on the way by half steps.
double MelodySearch::statement_cost(const Statement& statement) const {
    const MelodyWeights& weights = melody_weights();
    double out = weights.unstated * unstated_in(statement);
    constexpr double kOffBeat = 0.5;
    bool is_early = false;
    for (std::size_t i = statement.first; i < statement.last; ++i) {
        is_early = is_early || (notes_[i].on < statement.start + 2 * kBeatTicks &&
                                holds(statement.says.tones, pitches_[i]));
        if (notes_[i].on < statement.start || !holds(statement.says.denies, pitches_[i])) continue;
        const bool tells = statement.is_short || notes_[i].on % kBeatTicks == 0;
        if (tells || !passes_by_half_steps(i)) out += tells ? weights.denied : kOffBeat * weights.denied;
    }
    return is_early ? out : out + weights.stated_late;
}

// How a line leaps, and what it does behind a leap and behind a note that wants to go on.
double MelodySearch::shape_cost() const {
    constexpr int kStep = 2;
    constexpr int kFourth = 5;
    constexpr int kOctaveLeap = 12;
    const MelodyWeights& weights = melody_weights();
    double out = 0;
    for (std::size_t i = 0; i + 1 < pitches_.size(); ++i) {
        const bool begins = i == 0 || !meter_.goes_on(i - 1);
        if (begins && holds(avoid_[i], pitches_[i])) out += weights.begins_off;
        const int move = pitches_[i + 1] - pitches_[i];
        const int by = std::abs(move);
        // The third of a dominant, and what is altered in it, lead into the next chord, over a rest as well.
        if (heard_[i] != heard_[i + 1] && by > kStep && holds(tense_[i], pitches_[i]))
            out += weights.left_tense;
        // Nor by an augmented second from one to the other.
        if (by == kStep + 1 && heard_[i] == heard_[i + 1] && holds(tense_[i], pitches_[i]) &&
            holds(tense_[i + 1], pitches_[i + 1]))
            out += weights.left_tense;
        const bool is_hard = by == 6 || by == 10 || by == 11 || by >= kOctaveLeap;
        if (!meter_.goes_on(i)) {
            if (by > kOctaveLeap) out += weights.hard_leap;
            continue;
        }
        if (is_hard) out += weights.hard_leap;
        if (by == 0) out += weights.struck_again;
        if (by > kStep && holds(tense_[i], pitches_[i]) && !(is_tone(i) && is_tone(i + 1)))
            out += weights.left_tense;
        if (by <= kFourth || i + 2 >= pitches_.size() || !meter_.goes_on(i + 1)) continue;
        const int next = pitches_[i + 2] - pitches_[i + 1];
        if (next * move >= 0 || std::abs(next) > kStep) out += weights.leap_goes_on;
    }
    return out;
}

double MelodySearch::motif_cost() const {
    constexpr int kMost = 2;  // a step that is another altogether
    const double weight = melody_weights().motif * (1 + options_.plain);
    double out = 0;
    for (std::size_t k = 1; k < motif_.size(); ++k) {
        if (motif_[k].first != motif_[k - 1].first + 1 || motif_[k].again != motif_[k - 1].again + 1)
            continue;
        const int first = pitches_[motif_[k].first] - pitches_[motif_[k - 1].first];
        const int again = pitches_[motif_[k].again] - pitches_[motif_[k - 1].again];
        out += weight * std::min(kMost, std::max(0, std::abs(first - again) - 1));
    }
    return out;
}

double MelodySearch::cost(double most) {
    double out = style_cost() + motif_cost();
    if (options_.plain > 0) out += options_.plain * plain_cost();
    Figures figures;
    for (const Aspect& aspect : aspects()) {
        if (out > most) return out;
        meter_.measure(aspect.aspect, pitches_, figures);
        for (const Figure figure : aspect.figures) {
            if (!figures.has(figure)) continue;
            const double by = figures[figure] - aims_[figure];
            const auto k = static_cast<std::size_t>(figure);
            out += options_.figures * melody_weights().figures[k] * cost_of_miss(by / window_.deviation[k]);
        }
    }
    return out + melody_weights().stale * meter_.stale_turns();
}

}  // namespace shedbook
