#include "judged.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace shedbook {
namespace {

// Whether a home is one that the chart is known to have.
bool is_right(const KnownChart& chart, Tonality home) {
    const bool minor = home.ground == Ground::Minor;
    const bool mode_fits = !chart.home || minor == (chart.home->ground == Ground::Minor);
    return home.tonic == chart.home_tonic && mode_fits;
}

// A hopeless chart cannot pull a fit far.
double surprise(const KeyReading& reading, const KnownChart& chart) {
    constexpr double kLeast = 0.02;
    double right = 0;
    for (int key = 0; key < kKeys; ++key) {
        if (is_right(chart, tonality(key))) right += reading.belief[static_cast<std::size_t>(key)];
    }
    return -std::log(kLeast + (1 - kLeast) * right);
}

template <class Right, class Of>
Share share_of(const BySong& songs, Right right, Of of) {
    double sum_right = 0;
    double sum_of = 0;
    double count = 0;
    for (const auto& [song, tally] : songs) {
        sum_right += right(song, tally);
        sum_of += of(tally);
        if (of(tally) > 0) ++count;
    }
    Share out{100 * sum_right / sum_of, 0};
    double squares = 0;
    for (const auto& [song, tally] : songs) {
        const double off = right(song, tally) - out.value / 100 * of(tally);
        squares += off * off;
    }
    out.error = 100 * std::sqrt(squares * count / (count - 1)) / sum_of;
    return out;
}

}  // namespace

int fold_of(const std::string& song, unsigned seed) {
    // FNV-1a (Fowler, Noll, Vo), then mixed once more, as its low bits alone would pair neighbours.
    std::uint32_t hash = 2166136261U ^ (seed * 2654435761U);
    for (const char c : song) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    hash ^= hash >> 15U;
    hash *= 2246822519U;
    hash ^= hash >> 13U;
    return static_cast<int>(hash % kFolds);
}

void Tally::add(const Tally& other) {
    home_of_solos += other.home_of_solos;
    solos += other.solos;
    home_of_songs += other.home_of_songs;
    songs += other.songs;
    local_time += other.local_time;
    time += other.time;
    surprise_of_solos += other.surprise_of_solos;
    surprise_of_songs += other.surprise_of_songs;
}

double Tally::loss() const {
    return surprise_of_solos / std::max(solos, 1.0) + surprise_of_songs / std::max(songs, 1.0) +
           (1 - local_time / std::max(time, 1.0));
}

Tally judge(const KnownChart& chart, const KeyModel& model) {
    const KeyReading reading = find_keys(chart.chords, std::nullopt, Said::Hint, model);
    Tally out;
    const double right = is_right(chart, reading.home) ? 1 : 0;
    if (chart.home) {
        out.solos = 1;
        out.home_of_solos = right;
        out.surprise_of_solos = surprise(reading, chart);
        return out;
    }
    out.songs = 1;
    out.home_of_songs = right;
    out.surprise_of_songs = surprise(reading, chart);
    for (std::size_t i = 0; i < chart.chords.size(); ++i) {
        out.time += chart.chords[i].beats;
        if (reading.keys[i].tonic == chart.tonics[i]) out.local_time += chart.chords[i].beats;
    }
    return out;
}

Share share(const BySong& songs, const Figure& figure) {
    return share_of(
        songs, [&](const std::string&, const Tally& tally) { return tally.*figure.right; },
        [&](const Tally& tally) { return tally.*figure.of; });
}

Share gain(const BySong& songs, const BySong& before, const Figure& figure) {
    return share_of(
        songs,
        [&](const std::string& song, const Tally& tally) {
            return tally.*figure.right - before.at(song).*figure.right;
        },
        [&](const Tally& tally) { return tally.*figure.of; });
}

}  // namespace shedbook
