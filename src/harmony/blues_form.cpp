#include "blues_form.h"

namespace shedbook {

bool has_blues_form(const std::vector<ChordView>& chords, int tonic) {
    constexpr double kMostOfIt = 0.75;
    return blues_form(chords, tonic) >= kMostOfIt;
}

double blues_form(const std::vector<ChordView>& chords, int tonic) {
    const int bars = chords.empty() ? 0 : chords.back().bar + 1;
    // The last bar may hold no symbol of its own.
    const int choruses = (bars + 2) / 12;
    if (choruses == 0 || bars > 12 * choruses) return 0;
    // Root in half steps over the tonic, by bar; the last chord begun in or before it.
    const auto starts_with = [&](std::size_t& i, int bar) {
        while (i + 1 < chords.size() && chords[i + 1].bar <= bar - (chords[i + 1].opens_bar ? 0 : 1)) ++i;
        return above(chords[i].root, tonic);
    };
    double sum = 0;
    std::size_t i = 0;
    for (int chorus = 0; chorus < choruses; ++chorus) {
        const auto root = [&](int bar) { return starts_with(i, 12 * chorus + bar - 1); };
        sum += root(1) == 0 ? 1 : 0;
        sum += root(5) == 5 ? 1 : 0;
        sum += root(7) == 0 ? 1 : 0;
        const int ninth = root(9);
        const int tenth = root(10);
        sum += ninth == 7 || tenth == 7 || tenth == 1 ? 1 : 0;
    }
    return sum / (4 * choruses);
}

}  // namespace shedbook
