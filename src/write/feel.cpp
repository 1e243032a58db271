#include "feel.h"

#include <algorithm>
#include <array>

#include "shedbook/base/enum_table.h"

namespace shedbook {
namespace {

// Below these a swinging tune is a ballad, and a bass plays half notes rather than quarters. Common practice,
// no source.
constexpr double kBalladBelow = 72;
constexpr double kTwoFeelBelow = 84;

BandStyle style_asked(const std::string& words, Feel asked) {
    const BandStyle named = style_named(words).value_or(BandStyle::Swing);
    switch (asked) {
        case Feel::AsMarked:
            return named;
        case Feel::Swing:
            return eighths_of(named) == Eighths::Swing ? named : BandStyle::Swing;
        case Feel::Straight:
            return eighths_of(named) == Eighths::Straight ? named : BandStyle::Straight;
        case Feel::TwelveEight:
            break;
    }
    return BandStyle::Shuffle;
}

Feel feel_of(Eighths eighths) {
    switch (eighths) {
        case Eighths::Swing:
            return Feel::Swing;
        case Eighths::Straight:
            return Feel::Straight;
        case Eighths::OnTriplets:
            break;
    }
    return Feel::TwelveEight;
}

BandStyle style_in(BandStyle style, const Meter& meter, Played as, double quarters_per_minute) {
    if (meter.is_compound()) return BandStyle::SixEight;
    const bool swings = eighths_of(style) == Eighths::Swing;
    const bool in_three = meter.beats == 3 && meter.unit <= 4;
    if (swings && in_three && style != BandStyle::Ballad) return BandStyle::Waltz;
    if (style == BandStyle::Waltz || style == BandStyle::SixEight) return BandStyle::Swing;
    if (style == BandStyle::Swing && as == Played::Tune && quarters_per_minute < kBalladBelow)
        return BandStyle::Ballad;
    return style;
}

struct Loudness {
    int plain;
    std::array<int, 4> by_place;  // more or less, where PlaceInBar says
    int soft;
    int weight;
};
// The ride of a swing drummer and the bass lean on two and four, a waltz, a samba or a rock beat on its own
// figure. Common practice, no source.
constexpr std::array<Loudness, 3> kLoudness{{
    {64, {2, 0, 2, 4}, -10, 12},
    {84, {2, 0, 5, -6}, -26, 6},
    {66, {0, 0, 0, -6}, -26, 16},
}};
static_assert(has_a_row_each<BandPart>(kLoudness));

}  // namespace

Manner manner_of(const std::string& words, Feel asked, const Meter& meter, Played as,
                 double quarters_per_minute) {
    const BandStyle style = style_asked(words, asked);
    return {style_in(style, meter, as, quarters_per_minute),
            asked == Feel::AsMarked ? feel_of(eighths_of(style)) : asked, pulse_named(words)};
}

bool is_slow(BandStyle style, double quarters_per_minute) {
    const bool may_walk =
        style == BandStyle::Swing || style == BandStyle::Ballad || style == BandStyle::Shuffle;
    return may_walk && quarters_per_minute < kTwoFeelBelow;
}

int velocity_of(BandPart part, PlaceInBar place, Touch touch, BandStyle style, int full) {
    const Loudness& row = kLoudness[row_index(part)];
    constexpr int kBrushes = -8;
    // Chords and drums get a little louder from chorus to chorus, the bass is the floor. Common practice, no
    // source.
    constexpr int kByChorus = 4;
    constexpr int kUsual = 2;
    int out = row.plain + row.by_place[row_index(place)];
    if (touch == Touch::Soft) out += row.soft;
    if (touch == Touch::Weight) out += row.weight;
    if (part != BandPart::Bass) out += kByChorus * (full - kUsual);
    if (has_brushes(style) && part != BandPart::Bass) out += kBrushes;
    return std::clamp(out, 1, 127);
}

// Rhythm sections differ by a few milliseconds from beat to beat, the bass with the ride cymbal or a little
// before it, soloists and chords behind it on the beat and together with it off the beat: A. Friberg and
// A. Sundström, Swing ratios and ensemble timing in jazz performance, Music Perception 19 (2002); M.
// Butterfield, Participatory discrepancies and the perception of beats in jazz, Music Perception 27 (2010).
// From memory; these figures are ours and well within theirs. The ride is the clock.
int delay_of(BandPart part, PlaceInBar place, BandStyle style) {
    if (eighths_of(style) == Eighths::Straight) return part == BandPart::Chords ? 3 : 0;
    switch (part) {
        case BandPart::Chords:
            return place == PlaceInBar::OffBeat ? 4 : 12;
        case BandPart::Bass:
            return place == PlaceInBar::OffBeat ? 0 : -5;
        case BandPart::Drums:
            break;
    }
    return 0;
}

}  // namespace shedbook
