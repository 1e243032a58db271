#include "shedbook/theory/key.h"

#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

struct ModeRow {
    Mode mode;
    std::string_view name;
    int fifths;  // of the signature, against the major key on the same tonic
    bool minor;
};

// The mode on the n-th degree of a major scale has the signature of that scale.
constexpr ModeRow kModes[] = {
    {Mode::Major, "major", 0, false},     {Mode::Minor, "minor", -3, true},
    {Mode::Dorian, "dorian", -2, true},   {Mode::Phrygian, "phrygian", -4, true},
    {Mode::Lydian, "lydian", 1, false},   {Mode::Mixolydian, "mixolydian", -1, false},
    {Mode::Aeolian, "aeolian", -3, true}, {Mode::Locrian, "locrian", -5, true},
};
static_assert(has_a_row_each(kModes, &ModeRow::mode));

const ModeRow& row(Mode mode) {
    return kModes[row_index(mode)];
}

}  // namespace

int signature(Key key) {
    return key.tonic.fifths() + row(key.mode).fifths;
}

Key within_signatures(Key key) {
    constexpr int kMost = 7;
    constexpr int kEnharmonic = 12;
    const int fifths = key.tonic.fifths();
    if (signature(key) > kMost) key.tonic = PitchClass::from_fifths(fifths - kEnharmonic);
    if (signature(key) < -kMost) key.tonic = PitchClass::from_fifths(fifths + kEnharmonic);
    return key;
}

int signature_alter(int fifths, Step step) {
    // Sharps enter in the order F C G D A E B, which is the order of the line of fifths.
    const int natural = PitchClass::of(step).fifths();  // F is -1, B is 5
    const int place = fifths - 1 - (natural + 1);       // how far past this letter the sharps have come
    return place >= 0 ? place / 7 + 1 : -((-place - 1) / 7);
}

bool is_in_signature(Key key, PitchClass note) {
    return signature_alter(signature(key), note.step()) == note.alter();
}

std::string to_string(Mode mode) {
    return std::string{row(mode).name};
}

std::optional<Mode> parse_mode(std::string_view text) {
    const std::string word = lower_case(trimmed(text));
    if (word == "ionian" || word == "maj") return Mode::Major;
    if (word == "min" || word == "m") return Mode::Minor;
    for (const ModeRow& mode : kModes) {
        if (word == mode.name) return mode.mode;
    }
    return std::nullopt;
}

std::string to_string(Key key) {
    return to_string(key.tonic) + " " + to_string(key.mode);
}

std::optional<Key> parse_key(std::string_view text) {
    text = trimmed(text);
    const std::size_t gap = text.find_first_of(" -\t");
    if (gap != std::string_view::npos) {
        const std::optional<PitchClass> tonic = parse_pitch_class(text.substr(0, gap));
        const std::optional<Mode> mode = parse_mode(text.substr(gap + 1));
        if (!tonic || !mode) return std::nullopt;
        return Key{*tonic, *mode};
    }
    if (const auto tonic = parse_pitch_class(text)) return Key{*tonic, Mode::Major};
    for (const std::string_view ending : {"min", "m"}) {
        if (!text.ends_with(ending)) continue;
        const auto tonic = parse_pitch_class(text.substr(0, text.size() - ending.size()));
        if (tonic) return Key{*tonic, Mode::Minor};
    }
    return std::nullopt;
}

bool is_minor(Mode mode) {
    return row(mode).minor;
}

}  // namespace shedbook
