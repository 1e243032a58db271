#include "shedbook/harmony/analysis.h"

namespace shedbook {
namespace {

void move_by(std::vector<PitchClass>& notes, Interval by) {
    for (PitchClass& note : notes) note = note + by;
}

void move_by(Reason& reason, Interval by) {
    reason.key.tonic = reason.key.tonic + by;
    reason.root = reason.root + by;
    if (reason.goal) reason.goal = transposed(*reason.goal, by);
    if (reason.next) reason.next = transposed(*reason.next, by);
    if (reason.heard) reason.heard = transposed(*reason.heard, by);
    if (reason.bass) reason.bass = *reason.bass + by;
    for (Reason::Sung& sung : reason.melody) sung.note = sung.note + by;
    move_by(reason.lacking, by);
}

void move_by(ScaleChoice& choice, Interval by) {
    choice.scale.tonic = choice.scale.tonic + by;
    move_by(choice.notes, by);
    move_by(choice.avoid, by);
    move_by(choice.reason, by);
}

void move_by(Reading& reading, Interval by) {
    reading.symbol = transposed(reading.symbol, by);
    reading.key.tonic = reading.key.tonic + by;
    move_by(reading.scale, by);
    for (ScaleChoice& other : reading.alternatives) move_by(other, by);
    move_by(reading.guide_tones, by);
}

}  // namespace

Analysis transposed(Analysis analysis, Interval by) {
    const auto move_key = [by](std::optional<Key>& key) {
        if (key) key->tonic = key->tonic + by;
    };
    analysis.home.tonic = analysis.home.tonic + by;
    move_key(analysis.doubt.runner_up);
    move_by(analysis.doubt.for_home, by);
    move_by(analysis.doubt.for_runner_up, by);
    move_key(analysis.overruled);
    for (Reading& reading : analysis.readings) move_by(reading, by);
    for (std::vector<Reading>& others : analysis.also) {
        for (Reading& reading : others) move_by(reading, by);
    }
    return analysis;
}

}  // namespace shedbook
