// How well keys were found: shares right over songs, with their standard errors, and the folds of songs that
// honest figures need.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "known_charts.h"

namespace shedbook {

inline constexpr int kFolds = 5;
// All versions of a song are in one fold, on every machine; each seed deals the songs anew.
[[nodiscard]] int fold_of(const std::string& song, unsigned seed);

// Sums over charts. Solos have a home key, songs a home tonic and a tonic at every chord.
struct Tally {
    double home_of_solos = 0, solos = 0;
    double home_of_songs = 0, songs = 0;
    double local_time = 0, time = 0;
    // Of the share of belief in the right home, minus the logarithm.
    double surprise_of_solos = 0, surprise_of_songs = 0;

    void add(const Tally& other);
    // What a fit makes small: surprise is smooth where right and wrong are not.
    [[nodiscard]] double loss() const;
};
[[nodiscard]] Tally judge(const KnownChart& chart, const KeyModel& model);

using BySong = std::map<std::string, Tally>;

// One figure of a tally.
struct Figure {
    const char* name;
    double Tally::*right;
    double Tally::*of;
};
inline constexpr Figure kFigures[]{{"home key of solos", &Tally::home_of_solos, &Tally::solos},
                                   {"home tonic of songs", &Tally::home_of_songs, &Tally::songs},
                                   {"local tonic of songs", &Tally::local_time, &Tally::time}};

// Per cent, with one standard error over songs (of a ratio of sums).
struct Share {
    double value = 0;
    double error = 0;
};
[[nodiscard]] Share share(const BySong& songs, const Figure& figure);
// What `songs` has more than `before`, song by song.
[[nodiscard]] Share gain(const BySong& songs, const BySong& before, const Figure& figure);

}  // namespace shedbook
