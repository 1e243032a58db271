#include "form.h"

#include <algorithm>
#include <set>

#include "blues_form.h"

namespace shedbook {
namespace {

// Quarter notes: four bars.
constexpr double kLong = 16;

bool leads(Part part) {
    return part == Part::Five || part == Part::Applied || part == Part::Substitute ||
           part == Part::Backdoor || part == Part::BluesFive || part == Part::RelatedTwo;
}

// A blues of another length than twelve bars: I7, IV7 and V7 fill two thirds of it.
bool rests_on_sevenths(const std::vector<ChordView>& chords, Tonality home) {
    if (home.ground != Ground::Blues) return false;
    double all = 0;
    double sevenths = 0;
    bool four = false;
    for (const ChordView& chord : chords) {
        const int degree = above(chord.root, home.tonic);
        all += chord.beats;
        if (chord.sound != Sound::Dominant || (degree != 0 && degree != 5 && degree != 7)) continue;
        sevenths += chord.beats;
        four = four || degree == 5;
    }
    return four && sevenths >= 2 * all / 3;
}

}  // namespace

std::string to_string(Form form) {
    switch (form) {
        case Form::Functional:
            return "functional";
        case Form::Blues:
            return "blues";
        case Form::Modal:
            return "modal";
        case Form::Unsaid:
            break;
    }
    return {};
}

Mode FormReading::mode_for(Tonality key) const {
    if (key.ground == Ground::Minor) return minor;
    const auto carries = [&](unsigned roots) {
        return (roots >> static_cast<unsigned>(key.tonic) & 1U) != 0;
    };
    if (carries(lydian)) return Mode::Lydian;
    return carries(mixolydian) ? Mode::Mixolydian : Mode::Major;
}

FormReading form_of(const std::vector<ChordView>& chords, const KeyReading& keys,
                    const std::vector<Role>& roles, bool mode_is_stated) {
    FormReading out;
    if (chords.empty()) return out;
    if (has_blues_form(chords, keys.home.tonic) || rests_on_sevenths(chords, keys.home)) {
        out.form = Form::Blues;
        return out;
    }
    std::set<std::pair<int, Sound>> harmonies;
    for (const ChordView& chord : chords) harmonies.emplace(chord.root, chord.sound);
    const bool any_leads = std::ranges::any_of(roles, [](const Role& role) { return leads(role.part); });
    // One or two chords that sway, or a few that each stay for four bars and more (trade notes row 42).
    double beats = 0;
    double stays = 0;
    for (const ChordView& chord : chords) {
        beats += chord.beats;
        if (chord.stretch >= kLong) stays += chord.beats;
    }
    const bool sways = harmonies.size() <= 2 && std::ranges::all_of(harmonies, [](const auto& harmony) {
                           return harmony.second != Sound::Major && harmony.second != Sound::MajorSeventh;
                       });
    if (any_leads || (!mode_is_stated && !sways && stays < 0.8 * beats)) {
        out.form = Form::Functional;
        return out;
    }
    // The chords name the mode.
    out.form = Form::Modal;
    for (const ChordView& chord : chords) {
        if (chord.sound == Sound::MinorSeventh) out.minor = Mode::Dorian;
        const unsigned root = 1U << static_cast<unsigned>(chord.root);
        if (chord.sound == Sound::Dominant || chord.sound == Sound::Suspended) out.mixolydian |= root;
        if (is_major_sound(chord.sound) && (chord.tones & 1U << 6U) != 0) out.lydian |= root;
    }
    return out;
}

void rest_on_long_chords(const std::vector<ChordView>& chords, KeyReading& keys) {
    for (std::size_t i = 0; i < chords.size(); ++i) {
        const ChordView& chord = chords[i];
        if (chord.stretch < kLong) continue;
        const int degree = above(chord.root, keys.home.tonic);
        const bool dorian_four =
            keys.home.ground == Ground::Minor && degree == 5 && chord.sound == Sound::Dominant;
        if (dorian_four || is_of_key(keys.home.ground, chord.sound, degree)) {
            keys.keys[i] = keys.home;
            continue;
        }
        const bool minor = is_minor_sound(chord.sound);
        const bool major =
            is_major_sound(chord.sound) || chord.sound == Sound::Dominant || chord.sound == Sound::Suspended;
        if (minor || major) keys.keys[i] = {chord.root, minor ? Ground::Minor : Ground::Major};
    }
}

}  // namespace shedbook
