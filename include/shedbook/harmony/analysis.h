// What the chords of a tune mean: for each the local key, its function, one scale to play and the reason.
//
//     Analysis analysis = analyse(chart, timeline);
//     to_string(analysis.readings[1].scale.scale);             // "G Mixolydian"
//     in_words(analysis.readings[1].scale.reason);             // "V7 going home to Cmaj7: ..."
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/chart/chart.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/harmony/reason.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/key.h"
#include "shedbook/theory/scale.h"

namespace shedbook {

enum class Function { Tonic, Subdominant, Dominant, Passing, Modal, Blues };
[[nodiscard]] std::string to_string(Function function);

// How many different scales an analysis may use.
enum class Palette { Plain, Usual, Rich };
template <>
inline constexpr Worded<Palette> kWords<Palette>[] = {
    {Palette::Plain, "plain"}, {Palette::Usual, "usual"}, {Palette::Rich, "rich"}};

// A scale for a chord, with what a player needs to know of it.
struct ScaleChoice {
    Scale scale;
    std::vector<PitchClass> notes;  // spelled for this chord, in scale order
    std::vector<PitchClass> avoid;  // to pass over lightly on long values
    Reason reason;                  // why this one

    // What it is played over: the chord as written, or as it is heard from its bass up.
    [[nodiscard]] const ChordSymbol& chord(const ChordSymbol& written) const {
        return reason.heard ? *reason.heard : written;
    }
};

// The meaning of one chord where it stands.
struct Reading {
    int inst = 0;  // as ChordSpan::inst
    ChordSymbol symbol;
    Key key;              // local key
    std::string numeral;  // "ii7", "V7/ii", "bVImaj7"
    Function function = Function::Tonic;
    std::optional<int> target;              // inst of the chord that this one prepares
    ScaleChoice scale;                      // the one to play
    std::vector<ScaleChoice> alternatives;  // in order of preference
    std::vector<PitchClass> guide_tones;
};

// How sure the home key is. The reasons are the largest that speak for one home against the other; empty if
// there is none.
struct HomeDoubt {
    double probability = 1;        // 0 to 1, that the home which was found is the right one
    std::optional<Key> runner_up;  // the likeliest other one; none if no other was looked at
    Reason for_home, for_runner_up;
};
inline constexpr double kSureEnough = 0.6;  // below this a player should try both

struct Analysis {
    Key home;
    std::string form;               // "blues", "modal", "functional", "" if nothing can be said
    std::vector<Reading> readings;  // one a written chord symbol, no-chords left out: its first time through
    std::vector<std::vector<Reading>> also;  // per reading: other readings in later passes, where they differ
    HomeDoubt doubt;
    std::optional<Key> overruled;  // what the chart names, if its chords are at home elsewhere
};

struct AnalysisOptions {
    Palette palette = Palette::Usual;
    bool key_is_law = false;  // the key that the chart names is its home, whatever its chords say
};

[[nodiscard]] Analysis analyse(const Chart& chart, const Timeline& timeline,
                               const AnalysisOptions& options = {});

// The analysis of the same tune in another key.
[[nodiscard]] Analysis transposed(Analysis analysis, Interval by);

// What a chord over a foreign bass sounds as with no tune around it, read from the bass up: of D/Bb
// Bbmaj7(#5), of F/G G9sus4. Any other chord is itself.
[[nodiscard]] ChordSymbol heard_by_itself(const ChordSymbol& symbol);

// A chord by itself, with no tune around it: the scales that fit, first choice first. Never empty.
[[nodiscard]] std::vector<ScaleChoice> scales_for(const ChordSymbol& symbol);

// Scale notes a half step above a tone of the chord, those exempt that the chord's function makes a colour.
[[nodiscard]] std::vector<PitchClass> notes_to_avoid(const ChordSymbol& symbol, const Scale& scale,
                                                     bool resolves);
[[nodiscard]] std::vector<PitchClass> guide_tones(const ChordSymbol& symbol);

}  // namespace shedbook
