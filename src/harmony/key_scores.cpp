#include "key_scores.h"

#include <string_view>

namespace shedbook {
namespace {

// Rows: sounds in their order. Columns: I bII II bIII III IV #IV V bVI VI bVII VII. Common practice: 0 the
// tonic chord and what cannot be mistaken, 1-2 chords of the key, 3-5 borrowed and applied ones, 6-9 strange
// ones.
using Nearness = std::array<std::string_view, kSounds>;
constexpr std::array<Nearness, kGrounds> kNearness{{
    {
        "065561815637",  // major
        "057571855858",  // major seventh
        "253643705345",  // dominant
        "581724758176",  // minor
        "570614648166",  // minor seventh
        "684863778488",  // m6, m(maj7)
        "774848488582",  // half-diminished
        "546467474667",  // diminished
        "467575747677",  // augmented
        "283753817448",  // suspended
        "274452716346",  // open
    },
    {
        "646164821818",
        "748185871848",
        "544573803627",
        "065781837858",
        "073681728657",
        "084881858878",
        "780877757386",
        "555575755663",
        "577375737775",
        "284583817738",
        "064573828648",
    },
    {
        "175272816627",
        "368571855858",
        "053632603344",
        "481625648276",
        "381615658276",
        "684863778488",
        "774848488582",
        "446367174667",
        "367575747677",
        "383652817528",
        "174352826436",
    },
}};

}  // namespace

PlaceCosts place_costs(const KeyScores& scores) {
    PlaceCosts out{};
    for (std::size_t ground = 0; ground < kGrounds; ++ground) {
        for (std::size_t sound = 0; sound < kSounds; ++sound) {
            for (std::size_t degree = 0; degree < 12; ++degree) {
                const int level = nearness(static_cast<Ground>(ground), static_cast<Sound>(sound),
                                           static_cast<int>(degree));
                out[ground][sound][degree] = scores.level[static_cast<std::size_t>(level)];
            }
        }
    }
    return out;
}

bool is_of_key(Ground ground, Sound sound, int degree) {
    return nearness(ground, sound, degree) <= 2;
}

int nearness(Ground ground, Sound sound, int degree) {
    const std::string_view row = kNearness[static_cast<std::size_t>(ground)][static_cast<std::size_t>(sound)];
    return row[static_cast<std::size_t>(degree)] - '0';
}

}  // namespace shedbook
