#include "difficulty.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/harmony/units.h"

namespace shedbook {
namespace {

// Weights and bounds: our rule, common practice, no source.
constexpr double kPaceWeight = 12.5;     // for a new chord a second
constexpr double kNewNoteWeight = 2.5;   // for a note that was not in the scale before
constexpr double kAccidentalWeight = 2;  // for a scale note outside the signature
constexpr double kAwkwardWeight = 1;     // and more for E#, B#, Cb, Fb and double accidentals
constexpr double kLostWeight = 1;        // for a chord tone that did not sound before
constexpr std::size_t kMostTones = 4;
constexpr int kUsualTempo = 120;
constexpr double kMost = 100;

enum class Cause { Pace, NewNotes, Accidentals, Lost, Scale, Leap };
constexpr std::array<double, 6> kMostOf{25, 25, 20, 10, 10, 10};
using Causes = std::array<double, 6>;

double& of(Causes& causes, Cause cause) {
    return causes[static_cast<std::size_t>(cause)];
}

// By the family that the notes of a scale belong to. The first row that names it.
struct ScaleCost {
    const char* ids;  // with blanks between
    double points;
};
constexpr ScaleCost kScaleCosts[]{
    {" altered ", 8},
    {" melodic_minor dorian_b2 lydian_augmented lydian_dominant mixolydian_b6 locrian_natural_2 ", 4},
    {" harmonic_minor locrian_natural_6 ionian_sharp_5 dorian_sharp_4 phrygian_dominant lydian_sharp_2 "
     "ultra_locrian harmonic_major dorian_b5 phrygian_b4 lydian_b3 mixolydian_b2 lydian_augmented_sharp_2 "
     "locrian_bb7 ",
     6},
    {" half_whole_diminished whole_half_diminished whole_tone augmented ", 10},
};

double cost_of_leap(int from, int to) {
    // By half steps up: the fifth and the fourth are what roots do by themselves.
    static constexpr std::array<double, 12> kCosts{0, 2, 1, 3, 3, 0, 4, 0, 3, 3, 1, 2};
    return kCosts[static_cast<std::size_t>((to - from + 12) % 12)];
}

unsigned set_of_scale(const Scale& scale) {
    unsigned out = 0;
    for (const int note : sounding_notes(scale)) out |= 1U << static_cast<unsigned>(note);
    return out;
}

int count_bits(unsigned set) {
    int out = 0;
    for (; set != 0; set &= set - 1) ++out;
    return out;
}

class Costs {
  public:
    Costs(const Chart& chart, const Analysis& analysis) : bars_{written_bars(chart)} {
        const Key key = chart.key.value_or(analysis.home);
        signature_ = signature(key);
        key_notes_ = 0;
        // The signature's seven notes, from a fifth below its major tonic to five fifths above.
        for (int f = signature_ - 1; f <= signature_ + 5; ++f)
            key_notes_ |= 1U << static_cast<unsigned>(PitchClass::from_fifths(f).semitone());
        tempo_ = chart.tempo.value_or(kUsualTempo);
        causes_.resize(bars_.size());
        begun_.resize(bars_.size(), 0);
        sounding_.resize(bars_.size(), nullptr);
    }

    void add(const std::vector<UnitChord>& row) {
        const UnitChord* before = nullptr;
        for (const UnitChord& chord : row) {
            const auto bar = static_cast<std::size_t>(chord.first_bar);
            for (int b = chord.first_bar; b <= chord.last_bar; ++b)
                sounding_[static_cast<std::size_t>(b)] = chord.readings.front();
            if (seen_.emplace(chord.readings.front()->inst, true).second) begin(bar, chord, before);
            before = &chord;
        }
    }

    std::vector<BarCost> finish() {
        std::vector<BarCost> out;
        for (std::size_t bar = 0; bar < bars_.size(); ++bar) out.push_back(finish(bar));
        return out;
    }

  private:
    void begin(std::size_t bar, const UnitChord& chord, const UnitChord* before) {
        Causes& causes = causes_[bar];
        const Reading& reading = *chord.readings.front();
        ++begun_[bar];
        const unsigned notes = set_of_scale(reading.scale.scale);
        const unsigned old =
            before != nullptr ? set_of_scale(before->readings.front()->scale.scale) : key_notes_;
        of(causes, Cause::NewNotes) += kNewNoteWeight * count_bits(notes & ~old);
        of(causes, Cause::Accidentals) += accidentals_of(reading);
        of(causes, Cause::Scale) = std::max(of(causes, Cause::Scale), points_of_scale(reading.scale.scale));
        if (before == nullptr) return;
        of(causes, Cause::Lost) += kLostWeight * lost(before->symbol(), reading.symbol);
        of(causes, Cause::Leap) += cost_of_leap(before->root, chord.root);
    }

    [[nodiscard]] double accidentals_of(const Reading& reading) const {
        double out = 0;
        for (const PitchClass note : reading.scale.notes) {
            const bool is_inside = note.fifths() >= signature_ - 1 && note.fifths() <= signature_ + 5;
            if (is_inside) continue;
            const bool is_awkward = std::abs(note.alter()) > 1 || note == PitchClass::of(Step::E, 1) ||
                                    note == PitchClass::of(Step::B, 1) ||
                                    note == PitchClass::of(Step::C, -1) ||
                                    note == PitchClass::of(Step::F, -1);
            out += kAccidentalWeight + (is_awkward ? kAwkwardWeight : 0);
        }
        return out;
    }

    static double lost(const ChordSymbol& before, const ChordSymbol& now) {
        unsigned sounded = 0;
        for (const PitchClass note : chord_notes(before))
            sounded |= 1U << static_cast<unsigned>(note.semitone());
        double out = 0;
        std::size_t counted = 0;
        for (const PitchClass note : chord_notes(now)) {
            if (counted++ == kMostTones) break;
            if ((sounded >> static_cast<unsigned>(note.semitone()) & 1U) == 0) ++out;
        }
        return out;
    }

    BarCost finish(std::size_t bar) {
        Causes causes = causes_[bar];
        const WrittenBar& written = bars_[bar];
        const Rational beats = written.length / written.meter.beat_length();
        if (begun_[bar] > 0 && beats > Rational{0}) {
            of(causes, Cause::Pace) = kPaceWeight * begun_[bar] * tempo_ / 60.0 *
                                      static_cast<double>(beats.den()) / static_cast<double>(beats.num());
        } else if (sounding_[bar] != nullptr) {
            // What goes on asks for half as much.
            of(causes, Cause::Accidentals) = accidentals_of(*sounding_[bar]) / 2;
            of(causes, Cause::Scale) = points_of_scale(sounding_[bar]->scale.scale) / 2;
        }
        BarCost out;
        for (std::size_t i = 0; i < causes.size(); ++i) {
            causes[i] = std::min(causes[i], kMostOf[i]);
            out.points += causes[i];
        }
        out.points = std::min(out.points, kMost);
        out.why = why(bar, causes);
        return out;
    }

    static std::string counted(int count, const char* one, const char* many) {
        static constexpr std::array<const char*, 9> kWords{"no",   "one", "two",   "three", "four",
                                                           "five", "six", "seven", "eight"};
        const auto at = static_cast<std::size_t>(std::max(0, count));
        return (at < kWords.size() ? kWords[at] : std::to_string(count)) + std::string{" "} +
               (count == 1 ? one : many);
    }

    // A count of what a player can find; of more than that what it means.
    static std::string counted_or(std::int64_t count, std::pair<const char*, const char*> words,
                                  const char* many) {
        constexpr int kFew = 3;
        return count <= kFew ? counted(static_cast<int>(count), words.first, words.second) : many;
    }

    [[nodiscard]] std::string in_words(std::size_t bar, Cause cause, const Causes& causes) const {
        const double points = causes[static_cast<std::size_t>(cause)];
        switch (cause) {
            case Cause::Pace:
                return counted(begun_[bar], "new chord", "chords in the bar");
            case Cause::NewNotes:
                return counted_or(std::lround(points / kNewNoteWeight),
                                  {"new note in its scale", "new notes in its scale"},
                                  "scales that share few notes");
            case Cause::Accidentals:
                return counted_or(std::lround(points / kAccidentalWeight),
                                  {"accidental in its scale", "accidentals in its scales"},
                                  "many accidentals");
            case Cause::Lost:
                return counted_or(std::lround(points),
                                  {"chord tone not heard before", "chord tones not heard before"},
                                  "chords that share few notes");
            case Cause::Scale:
                return sounding_[bar] != nullptr ? "a rarer scale, " + to_string(sounding_[bar]->scale.scale)
                                                 : "a rarer scale";
            case Cause::Leap:
                return "roots that leap";
        }
        return {};
    }

    [[nodiscard]] std::string why(std::size_t bar, const Causes& causes) const {
        constexpr std::size_t kNamed = 2;
        std::vector<Cause> order{Cause::Pace, Cause::NewNotes, Cause::Accidentals,
                                 Cause::Lost, Cause::Scale,    Cause::Leap};
        std::ranges::stable_sort(order, std::ranges::greater{},
                                 [&](Cause cause) { return causes[static_cast<std::size_t>(cause)]; });
        std::vector<std::string> out;
        for (const Cause cause : order) {
            if (out.size() == kNamed || causes[static_cast<std::size_t>(cause)] <= 0) break;
            out.push_back(in_words(bar, cause, causes));
        }
        if (out.empty()) return sounding_[bar] != nullptr ? "the chord goes on" : "no chord";
        return join(out, ", ");
    }

    std::vector<WrittenBar> bars_;
    int signature_ = 0;
    unsigned key_notes_ = 0;
    double tempo_ = kUsualTempo;
    std::vector<Causes> causes_;
    std::vector<int> begun_;                // new chords of each bar
    std::vector<const Reading*> sounding_;  // the last chord of each bar
    std::map<int, bool> seen_;              // chords of rows that share bars count once
};

}  // namespace

double points_of_scale(const Scale& scale) {
    const std::string id = " " + std::string{scale.type->id} + " ";
    for (const ScaleCost& row : kScaleCosts) {
        if (std::string_view{row.ids}.find(id) != std::string_view::npos) return row.points;
    }
    return 0;
}

std::vector<BarCost> bar_costs(const Chart& chart, const Analysis& analysis, const UnitRows& rows) {
    Costs costs{chart, analysis};
    for (const std::vector<UnitChord>& row : rows.rows) costs.add(row);
    return costs.finish();
}

}  // namespace shedbook
