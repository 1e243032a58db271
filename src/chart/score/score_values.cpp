#include "score_values.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <string>

#include "../numbers.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// The usual spelling of an interval of so many semitones, where the file does not say the letters.
Interval usual_interval(int semitones) {
    constexpr std::array<int, 12> kSteps{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6};
    const int size = std::abs(semitones);
    const Interval up{7 * (size / 12) + kSteps[static_cast<std::size_t>(size % 12)], size};
    return semitones < 0 ? -up : up;
}

}  // namespace

std::optional<PitchClass> note_name(std::string_view step, std::string_view alter) {
    step = trimmed(step);
    if (step.size() != 1) return std::nullopt;
    const auto natural = parse_pitch_class(step);
    if (!natural) return std::nullopt;
    alter = trimmed(alter);
    if (alter.empty()) return natural;
    const auto by = parse_decimal(alter);
    // Quarter tones have no place on the line of fifths.
    if (!by || !by->is_whole() || by->num() < -2 || by->num() > 2) return std::nullopt;
    return PitchClass::of(natural->step(), static_cast<int>(by->num()));
}

std::optional<Pitch> pitch_of(pugi::xml_node pitch) {
    // The standard has octaves 0 to 9 (MusicXML 4.0, type octave); one more on either side is harmless.
    constexpr int kLowest = -1;
    constexpr int kHighest = 10;
    const auto name = note_name(pitch.child("step").text().get(), pitch.child("alter").text().get());
    const auto octave = parse_decimal(pitch.child("octave").text().get());
    if (!name || !octave || !octave->is_whole()) return std::nullopt;
    if (octave->num() < kLowest || octave->num() > kHighest) return std::nullopt;
    return Pitch{*name, static_cast<int>(octave->num())};
}

Pitch readable(Pitch pitch) {
    while (pitch.alter() < -2) pitch = pitch - kDiminishedSecond;
    while (pitch.alter() > 2) pitch = pitch + kDiminishedSecond;
    return pitch;
}

PitchClass readable(PitchClass name) {
    while (name.alter() < -2) name = name - kDiminishedSecond;
    while (name.alter() > 2) name = name + kDiminishedSecond;
    return name;
}

std::optional<int> fifths_of(pugi::xml_node key) {
    constexpr int kMostFifths = 11;  // E sharp major, A double flat major
    const auto fifths = parse_decimal(key.child("fifths").text().get());
    if (!fifths || !fifths->is_whole() || std::abs(fifths->num()) > kMostFifths) return std::nullopt;
    return static_cast<int>(fifths->num());
}

std::optional<Key> key_of(pugi::xml_node key) {
    const std::optional<int> fifths = fifths_of(key);
    if (!fifths) return std::nullopt;
    const Mode mode = parse_mode(key.child("mode").text().get()).value_or(Mode::Major);
    const int tonic = *fifths - signature(Key{kC, mode});
    return Key{PitchClass::from_fifths(tonic), mode};
}

std::optional<Meter> meter_of(pugi::xml_node time) {
    if (time.child("senza-misura")) return std::nullopt;
    std::optional<Meter> out;
    for (pugi::xml_node beats = time.child("beats"); beats; beats = beats.next_sibling("beats")) {
        const pugi::xml_node unit = beats.next_sibling("beat-type");
        const std::string text =
            std::string{trimmed(beats.text().get())} + "/" + std::string{trimmed(unit.text().get())};
        const std::optional<Meter> part = parse_meter(text);
        if (!part) return std::nullopt;
        if (!out) {
            out = part;
            continue;
        }
        // A meter in two parts (3/4 and 2/8) is one of groups in the smaller unit.
        const int unit_of_both = std::max(out->unit, part->unit);
        Meter both{0, unit_of_both};
        for (const Meter& half : {*out, *part}) {
            const int factor = unit_of_both / half.unit;
            std::vector<int> own = half.groups;
            // Beats that are cut in parts keep together: 3/4 beside 2/8 is 2+2+2 eighths and 2.
            if (own.empty() && factor > 1) own.assign(static_cast<std::size_t>(half.beats), 1);
            if (own.empty()) own.push_back(half.beats);
            for (const int group : own) both.groups.push_back(group * factor);
            both.beats += half.beats * factor;
        }
        if (both.beats > 64) return std::nullopt;
        out = both;
    }
    return out;
}

Interval interval_of(pugi::xml_node transpose) {
    const auto whole = [&](const char* name) -> std::optional<int> {
        const auto number = parse_decimal(transpose.child(name).text().get());
        if (!number || !number->is_whole() || std::abs(number->num()) > 127) return std::nullopt;
        return static_cast<int>(number->num());
    };
    const int chromatic = whole("chromatic").value_or(0);
    Interval out = usual_interval(chromatic);
    if (const auto diatonic = whole("diatonic")) {
        const Interval said{*diatonic, chromatic};
        // More than a doubly altered interval is a slip: the semitones are what sounds.
        if (std::abs(said.alter()) <= 2) out = said;
    }
    return out + whole("octave-change").value_or(0) * kOctave;
}

}  // namespace shedbook
