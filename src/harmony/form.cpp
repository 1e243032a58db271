#include "form.h"

#include <algorithm>
#include <set>

namespace shedbook {
namespace {

bool leads(Part part) {
    return part == Part::Five || part == Part::Applied || part == Part::Substitute ||
           part == Part::Backdoor || part == Part::BluesFive || part == Part::RelatedTwo;
}

// A minor blues: i, iv in the fifth bar, no more than the chords of one form (H31.3). Judged by shares of
// time, since choruses may be written out: i and iv fill most of it and iv has a sixth or more.
bool is_minor_blues(const std::vector<ChordView>& chords, const KeyReading& keys) {
    if (keys.home.ground != Ground::Minor) return false;
    double total = 0, one = 0, four = 0;
    for (const ChordView& chord : chords) {
        const int degree = above(chord.root, keys.home.tonic);
        total += chord.beats;
        if (degree == 0) one += chord.beats;
        if (degree == 5 && (is_minor_sound(chord.sound) || chord.sound == Sound::Dominant))
            four += chord.beats;
    }
    const double bars = total / 4;
    const bool twelve = bars >= 12 && static_cast<int>(bars + 0.5) % 12 == 0;
    return twelve && one >= 0.4 * total && four >= total / 6 && one + four >= 0.7 * total;
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

FormReading form_of(const std::vector<ChordView>& chords, const KeyReading& keys,
                    const std::vector<Role>& roles) {
    FormReading out;
    if (chords.empty()) return out;
    if (keys.home.ground == Ground::Blues || is_minor_blues(chords, keys)) {
        out.form = Form::Blues;
        return out;
    }
    std::set<std::pair<int, Sound>> harmonies;
    for (const ChordView& chord : chords) harmonies.emplace(chord.root, chord.sound);
    const bool any_leads = std::ranges::any_of(roles, [](const Role& role) { return leads(role.part); });
    constexpr std::size_t kFew = 4;
    if (any_leads || harmonies.size() > kFew) {
        out.form = Form::Functional;
        return out;
    }
    // Few chords, none of which leads anywhere: the tonic chord names the mode (trade notes row 42).
    out.form = Form::Modal;
    for (const ChordView& chord : chords) {
        if (chord.sound == Sound::MinorSeventh) out.minor = Mode::Dorian;
        const bool tonic = chord.root == keys.home.tonic;
        if (tonic && (chord.sound == Sound::Dominant || chord.sound == Sound::Suspended))
            out.major = Mode::Mixolydian;
    }
    return out;
}

}  // namespace shedbook
