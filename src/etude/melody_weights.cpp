#include "melody_weights.h"

#include <cassert>
#include <cmath>
#include <string>

#include "shedbook/io/data.h"
#include "shedbook/io/embedded.h"

namespace shedbook {
namespace {

double number(const Data& table, const char* key) {
    const Data* value = table.find(key);
    assert(value != nullptr && value->as_number());
    return *value->as_number();
}

MelodyWeights read_weights() {
    Diagnostics diagnostics;
    const SourceText source{"melody_weights.toml", std::string{embedded_template("melody_weights.toml")}};
    const std::optional<Data> data = read_toml(source, diagnostics);
    assert(data && !diagnostics.has_errors());
    MelodyWeights out;
    const Data& figures = *data->find("figures");
    for (int i = 0; i < kFigures; ++i) {
        const auto figure = static_cast<Figure>(i);
        const Data* weight = figures.find(name_of(figure));
        out.figures[static_cast<std::size_t>(i)] = weight == nullptr ? 1 : weight->as_number().value_or(1);
    }
    const Data& rhythm = *data->find("rhythm");
    out.vocabulary = number(rhythm, "vocabulary");
    out.long_note = number(rhythm, "long_note");
    out.short_rest = number(rhythm, "short_rest");
    out.long_rest = number(rhythm, "long_rest");
    out.unmet = number(rhythm, "unmet");
    out.late_start = number(rhythm, "late_start");
    out.lonely_end = number(rhythm, "lonely_end");
    out.untold_bar = number(rhythm, "untold");
    out.crumb = number(rhythm, "crumb");
    out.unstruck = number(rhythm, "unstruck");
    out.clipped = number(rhythm, "clipped");
    out.weak_long = number(rhythm, "weak_long");
    out.torn = number(rhythm, "torn");
    out.thin = number(rhythm, "thin");
    out.tries_a_beat = number(rhythm, "tries");
    const Data& melody = *data->find("melody");
    out.interval = number(melody, "interval");
    out.long_avoid = number(melody, "long_avoid");
    out.two_leaps = number(melody, "two_leaps");
    out.outside_leap = number(melody, "outside_leap");
    out.outside_on_beat = number(melody, "outside_on_beat");
    out.outside_late = number(melody, "outside_late");
    out.outside_other = number(melody, "outside_other");
    out.outside_pair = number(melody, "outside_pair");
    out.trill = number(melody, "trill");
    out.three_alike = number(melody, "three_alike");
    out.phrase_end = number(melody, "phrase_end");
    out.motif = number(melody, "motif");
    out.untold = number(melody, "untold");
    out.unaltered = number(melody, "unaltered");
    out.plain_chord = number(melody, "plain_chord");
    out.top_apart = number(melody, "top_apart");
    out.stale = number(melody, "stale");
    out.strong_other = number(melody, "strong_other");
    out.long_other = number(melody, "long_other");
    out.told_late = number(melody, "told_late");
    out.strays = number(melody, "strays");
    out.foreign_third = number(melody, "foreign_third");
    out.loose_leap = number(melody, "loose_leap");
    out.end_leap = number(melody, "end_leap");
    out.leap_goes_on = number(melody, "leap_goes_on");
    out.hard_leap = number(melody, "hard_leap");
    out.struck_again = number(melody, "struck_again");
    out.left_tense = number(melody, "left_tense");
    out.begins_off = number(melody, "begins_off");
    out.no_third = number(melody, "no_third");
    out.unstated = number(melody, "unstated");
    out.stated_late = number(melody, "stated_late");
    out.denied = number(melody, "denied");
    out.tries_a_note = number(melody, "tries");
    return out;
}

}  // namespace

const MelodyWeights& melody_weights() {
    static const MelodyWeights kWeights = read_weights();
    return kWeights;
}

double cost_of_miss(double deviations) {
    const double far = std::abs(deviations);
    return far < 1.5 ? far * far : 3 * far - 2.25;
}

}  // namespace shedbook
