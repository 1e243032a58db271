#include "band_tracks.h"

#include <algorithm>
#include <cmath>

#include "shedbook/band/beats.h"
#include "shedbook/write/midi.h"

namespace shedbook {
namespace {

constexpr int kChordChannel = 1;
constexpr int kBassChannel = 2;
constexpr int kDrumChannel = 9;

// General MIDI, programs from 0 and drum keys. Kits are Roland's numbers, which sound fonts have kept; where
// a font has no brushes a synthesizer takes its usual kit.
constexpr int kPiano = 0;
constexpr int kAcousticBass = 32;
constexpr int kUsualKit = 0;
constexpr int kBrushKit = 40;
constexpr int kHighWoodBlock = 76;
constexpr int kLowWoodBlock = 77;
constexpr int kClosedHiHat = 42;

struct DrumKey {
    Drum drum;
    int key;
};
constexpr DrumKey kDrumKeys[] = {
    {Drum::Kick, 36},      {Drum::Snare, 38}, {Drum::SideStick, 37}, {Drum::Sweep, 40},   {Drum::HiHat, 42},
    {Drum::HiHatFoot, 44}, {Drum::Ride, 51},  {Drum::Crash, 49},     {Drum::HighTom, 48}, {Drum::LowTom, 45}};
static_assert(has_a_row_each<Drum>(kDrumKeys, &DrumKey::drum));

// Channel volumes.
constexpr int kChordVolume = 110;
constexpr int kBassVolume = 98;
constexpr int kDrumVolume = 108;

// Places from left to right: the band as one hears it from the front.
constexpr TrackSetup kChordTrack{"Chords", "Piano", kChordChannel, kPiano, 46};
constexpr TrackSetup kBassTrack{"Bass", "Double Bass", kBassChannel, kAcousticBass, 70};
constexpr TrackSetup kDrumTrack{"Drums", "Drums", kDrumChannel, kUsualKit, 80};

constexpr int kLoudestVolume = 127;

// No two strokes of a player are alike: a little more or less from one to the next, and the highest note of a
// chord above the others. How much is common practice, no source.
constexpr int kUneven = 3;
constexpr int kTopVoice = 3;

constexpr int kClickVelocity = 60;
constexpr std::int64_t kStroke = kMidiTicksPerQuarter / 8;

int stress_velocity(Stress stress) {
    return stress == Stress::Downbeat ? 64 : stress == Stress::Beat ? 54 : 34;
}

}  // namespace

std::int64_t ticks_of(Duration length) {
    return (length.whole_notes * Rational{std::int64_t{4} * kMidiTicksPerQuarter} + Rational{1, 2}).floor();
}

int volume_at(int usual, double decibels_more) {
    return std::clamp(static_cast<int>(std::lround(usual * std::pow(10, decibels_more / 40))), 1,
                      kLoudestVolume);
}

double most_louder(int usual) {
    return 40 * std::log10(static_cast<double>(kLoudestVolume) / usual);
}

double volume_as_set(int usual, double decibels_more) {
    return 40 * std::log10(static_cast<double>(volume_at(usual, decibels_more)) / usual);
}

void begin_track(MidiTrack& track, const TrackSetup& setup) {
    track.name(setup.name);
    track.instrument(setup.instrument);
    track.program(0, setup.channel, setup.program);
    track.control(0, setup.channel, kPan, setup.pan);
}

BandTracks::BandTracks(const SoundOptions& options) : options_{options} {
    begin_track(chords_, kChordTrack);
    begin_track(bass_, kBassTrack);
    begin_track(drums_, kDrumTrack);
    clicks_.name("Clicks");
}

void BandTracks::count_off(std::int64_t at, const Meter& meter, bool in_triplets) {
    for (const CountInClick& each : count_in(meter, in_triplets)) {
        const std::int64_t from = at + ticks_of(each.at - Position{});
        const int key = each.stress == Stress::Downbeat ? kHighWoodBlock : kLowWoodBlock;
        clicks_.note(from, from + kStroke, kDrumChannel, key, stress_velocity(each.stress));
    }
}

void BandTracks::play(const Performance& piece, const RhythmSection& band, const Clock& clock) {
    piece_ = &piece;
    clock_ = &clock;
    style_ = band.style;
    choruses_ = band.choruses;
    for (std::size_t i = 0; i < hands_.size(); ++i) hands_[i].seed(band.seed + static_cast<unsigned>(i));
    if (options_.chords) play_notes(chords_, kChordChannel, BandPart::Chords, play_chords(band));
    if (options_.bass) play_notes(bass_, kBassChannel, BandPart::Bass, play_bass(band));
    if (options_.drums) play_drums_of(band);
    click();
}

void BandTracks::set_volumes(double decibels_more) {
    chords_.first_control(kChordChannel, kChannelVolume, volume_at(kChordVolume, decibels_more));
    bass_.first_control(kBassChannel, kChannelVolume, volume_at(kBassVolume, decibels_more));
    drums_.first_control(kDrumChannel, kChannelVolume, volume_at(kDrumVolume, decibels_more));
}

void BandTracks::settle() {
    for (MidiTrack* track : tracks()) track->settle();
}

void BandTracks::stop(std::int64_t at) {
    chords_.control(at, kChordChannel, kAllSoundOff, 0);
    bass_.control(at, kBassChannel, kAllSoundOff, 0);
    drums_.control(at, kDrumChannel, kAllSoundOff, 0);
}

void BandTracks::play_notes(MidiTrack& track, int channel, BandPart part,
                            const std::vector<BandNote>& notes) {
    int uneven = 0;
    for (std::size_t i = 0; i < notes.size(); ++i) {
        const BandNote& note = notes[i];
        if (i == 0 || notes[i - 1].at != note.at) uneven = unevenness(part);
        if (is_silent(note.at) || is_held(note.at)) continue;
        const bool is_top = part == BandPart::Chords && (i + 1 == notes.size() || notes[i + 1].at != note.at);
        const std::int64_t from = clock_->of_band(note.at) + delay(note.at, part);
        const Position end = end_of_hold(note.at, note.at + note.length);
        const std::int64_t to = clock_->of_band(end) + delay(end, part) - kNoteGap;
        const int weight = velocity(part, note.at, note.touch);
        track.note(from, std::max(from + 1, to), channel, note.key,
                   std::clamp(weight + uneven + (is_top ? kTopVoice : 0), 1, 127));
    }
}

void BandTracks::play_drums_of(const RhythmSection& band) {
    const std::int64_t from = clock_->of_band(Position{});
    drums_.program(from, kDrumChannel, has_brushes(style_) ? kBrushKit : kUsualKit);
    for (const DrumNote& note : play_drums(band)) {
        const int uneven = unevenness(BandPart::Drums);
        if (is_silent(note.at) || is_held(note.at)) continue;
        const std::int64_t at = clock_->of_band(note.at) + delay(note.at, BandPart::Drums);
        drums_.note(at, at + kStroke, kDrumChannel, kDrumKeys[row_index(note.drum)].key,
                    velocity(BandPart::Drums, note.at, note.touch) + uneven);
    }
}

void BandTracks::click() {
    const Clicks clicks = options_.clicks.value_or(options_.drums ? Clicks::None : Clicks::TwoAndFour);
    for (const BandBar& bar : piece_->bars) {
        if (is_silent(bar.at)) continue;
        for (const Position place : placed_in(bar, click_places(bar.meter, clicks))) {
            const std::int64_t at = clock_->of_band(place);
            clicks_.note(at, at + kStroke, kDrumChannel, kClosedHiHat, kClickVelocity);
        }
    }
}

// The last few of every so many bars are the player's own.
bool BandTracks::is_silent(Position at) const {
    if (options_.silent_bars <= 0 || options_.of_bars <= 0) return false;
    const auto after = std::ranges::upper_bound(piece_->bars, at, {}, &BandBar::at);
    const auto bar = static_cast<int>(after - piece_->bars.begin()) - 1;
    const bool is_after = bar >= 0 && at >= piece_->bars.back().at + piece_->bars.back().length;
    return bar >= 0 && !is_after && bar % options_.of_bars >= options_.of_bars - options_.silent_bars;
}

bool BandTracks::is_held(Position at) const {
    return std::ranges::any_of(
        piece_->holds, [&](const HeldPlace& hold) { return hold.at < at && at < hold.at + hold.length; });
}

Position BandTracks::end_of_hold(Position at, Position end) const {
    for (const HeldPlace& hold : piece_->holds) {
        if (at <= hold.at && hold.at < end) return std::max(end, hold.at + hold.length);
    }
    return end;
}

PlaceInBar BandTracks::place_of(Position at) const {
    const auto after = std::ranges::upper_bound(piece_->bars, at, {}, &BandBar::at);
    if (after == piece_->bars.begin()) return PlaceInBar::OffBeat;
    const BandBar& bar = *(after - 1);
    // The ending falls on the one of a bar that is no longer the tune's.
    if (at == bar.at || at == bar.at + bar.length) return PlaceInBar::One;
    const auto holds = [&](const std::vector<Position>& places) {
        const std::vector<Position> here = placed_in(bar, places);
        return std::ranges::find(here, at) != here.end();
    };
    if (holds(group_places(bar.meter))) return PlaceInBar::Strong;
    return holds(click_places(bar.meter, Clicks::EveryBeat)) ? PlaceInBar::Weak : PlaceInBar::OffBeat;
}

int BandTracks::velocity(BandPart part, Position at, Touch touch) const {
    const auto after = std::ranges::upper_bound(choruses_, at, {}, &BandChorus::at);
    const int full = after == choruses_.begin() ? 1 : (after - 1)->full;
    return velocity_of(part, place_of(at), touch, style_, full);
}

int BandTracks::unevenness(BandPart part) {
    return static_cast<int>(hands_[static_cast<std::size_t>(part)]() % (2U * kUneven + 1)) - kUneven;
}

std::int64_t BandTracks::delay(Position at, BandPart part) const {
    const double milliseconds = delay_of(part, place_of(at), style_);
    return std::llround(milliseconds * clock_->quarters_per_minute(at) * kMidiTicksPerQuarter / 60'000.0);
}

}  // namespace shedbook
