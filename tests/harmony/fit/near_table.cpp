#include "near_table.h"

namespace shedbook {
namespace {

// Degrees in half steps over the tonic, as bits.
template <class... Degrees>
constexpr unsigned on(Degrees... degrees) {
    return (0U | ... | (1U << degrees));
}

// The notes that make each sound, in half steps over the root; what a symbol adds does not count.
constexpr std::array<unsigned, kSounds> kNotes{on(0, 4, 7),     on(0, 4, 7, 11), on(0, 4, 10),    on(0, 3, 7),
                                               on(0, 3, 7, 10), on(0, 3, 7),     on(0, 3, 6, 10), on(0, 3, 6),
                                               on(0, 4, 8),     on(0, 5, 7),     on(0, 7)};

// Notes of the keys, and notes that come and go in them: the blue third and seventh, the raised sixth and
// seventh of minor.
constexpr std::array<unsigned, kGrounds> kScale{on(0, 2, 4, 5, 7, 9, 11), on(0, 2, 3, 5, 7, 8, 10),
                                                on(0, 2, 3, 4, 5, 7, 9, 10)};
constexpr std::array<unsigned, kGrounds> kColour{on(3, 10), on(9, 11), on(6, 11)};

bool has(unsigned set, int degree) {
    return (set >> static_cast<unsigned>(degree) & 1U) != 0;
}

double place_cost(const NearNumbers& numbers, Ground ground, Sound sound, int degree) {
    const auto g = static_cast<std::size_t>(ground);
    const unsigned notes = kNotes[static_cast<std::size_t>(sound)];
    const bool in_minor = ground == Ground::Minor;
    const bool is_main = degree == 5 || degree == 7;
    // The leading note belongs to V and VII of a minor key.
    const unsigned own = kScale[g] | (in_minor && (degree == 7 || degree == 11) ? on(11) : 0U);
    double cost = degree == 0 ? 0 : numbers.other * (is_main ? numbers.main_share : 1);
    for (int note = 0; note < 12; ++note) {
        const int over = modulo12(degree + note);
        if (!has(notes, note) || has(own, over)) continue;
        if (degree == 0 && note == 10) {
            cost += numbers.seventh_on_one;
        } else {
            cost += has(kColour[g], over) ? numbers.colour_note : numbers.foreign_note;
        }
    }
    if (!has(own, degree)) cost += numbers.foreign_root;
    const int third = has(notes, 3) ? 3 : has(notes, 4) ? 4 : -1;
    if (degree == 0 && third == (in_minor ? 4 : 3)) cost += numbers.wrong_third;
    if (has(notes, 6) || has(notes, 8)) cost += numbers.unstable;
    if (third < 0) cost += numbers.no_third;
    const bool blues_chord = degree == 0 || is_main;
    if (ground == Ground::Blues && blues_chord && sound != Sound::Dominant) cost += numbers.smooth_on_blues;
    return cost;
}

}  // namespace

PlaceCosts place_costs(const NearNumbers& numbers) {
    PlaceCosts out{};
    for (std::size_t ground = 0; ground < kGrounds; ++ground) {
        for (std::size_t sound = 0; sound < kSounds; ++sound) {
            for (int degree = 0; degree < 12; ++degree) {
                out[ground][sound][static_cast<std::size_t>(degree)] =
                    place_cost(numbers, static_cast<Ground>(ground), static_cast<Sound>(sound), degree);
            }
        }
    }
    return out;
}

}  // namespace shedbook
