// What it costs to hear each chord in each key: how far it lies from the key, and what speaks for the key
// where its tonic stands.
#pragma once

#include <vector>

#include "key_model.h"

namespace shedbook {

class Hearing {
  public:
    Hearing(const std::vector<ChordView>& chords, const KeyModel& model)
        : chords_{chords}, scores_{model.scores}, places_{model.places} {}

    // By its place in the key, or as a chord that leads to one of the key; for each unit of its length.
    [[nodiscard]] double place(int i, Tonality key) const;
    // What it speaks for the key by where it stands and what led to it, whatever its length.
    [[nodiscard]] double gain(int i, Tonality key) const;

  private:
    [[nodiscard]] const ChordView& at(int i) const { return chords_[static_cast<std::size_t>(i)]; }
    [[nodiscard]] int degree(int i, Tonality key) const { return above(at(i).root, key.tonic); }
    [[nodiscard]] bool belongs(int i, Tonality key) const {
        return is_of_key(key.ground, at(i).sound, degree(i, key));
    }
    [[nodiscard]] double leading(int i, Tonality key) const;
    [[nodiscard]] bool reaches_key(int i, Tonality key) const;
    [[nodiscard]] bool rests(const ChordView& chord) const;
    [[nodiscard]] double arrival(int i, Tonality key) const;
    [[nodiscard]] double cadence(int before, Tonality key) const;
    [[nodiscard]] double preparation(int before, Tonality key) const;

    const std::vector<ChordView>& chords_;
    const KeyScores& scores_;
    const PlaceCosts& places_;
};

}  // namespace shedbook
