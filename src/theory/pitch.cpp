#include "shedbook/theory/pitch.h"

#include <array>
#include <cstdlib>
#include <limits>
#include <utility>

namespace shedbook {
namespace {

// Accidentals as they are typed and as music fonts and Unicode have them.
constexpr std::array<std::pair<std::string_view, int>, 7> kAccidentals{{
    {"#", 1},
    {"b", -1},
    {"x", 2},
    {"\u266F", 1},
    {"\u266D", -1},
    {"\U0001D12A", 2},
    {"\U0001D12B", -2},
}};

constexpr int kLargestAlter = 3;

// Takes accidentals off the front of `text`; nothing if sharps and flats are mixed or there are too many.
std::optional<int> take_accidentals(std::string_view& text) {
    int alter = 0;
    for (bool found = true; found;) {
        found = false;
        for (const auto& [sign, by] : kAccidentals) {
            if (!text.starts_with(sign)) continue;
            if (alter != 0 && (alter > 0) != (by > 0)) return std::nullopt;
            alter += by;
            if (std::abs(alter) > kLargestAlter) return std::nullopt;
            text.remove_prefix(sign.size());
            found = true;
            break;
        }
    }
    return alter;
}

std::optional<PitchClass> take_pitch_class(std::string_view& text) {
    constexpr std::string_view kLetters = "CDEFGAB";
    if (text.empty()) return std::nullopt;
    const std::size_t at = kLetters.find(text.front());
    if (at == std::string_view::npos) return std::nullopt;
    text.remove_prefix(1);
    const std::optional<int> alter = take_accidentals(text);
    if (!alter) return std::nullopt;
    return PitchClass::of(static_cast<Step>(at), *alter);
}

}  // namespace

char letter(Step step) {
    return "CDEFGAB"[static_cast<int>(step)];
}

std::string to_string(PitchClass pitch_class) {
    const int alter = pitch_class.alter();
    std::string out(1, letter(pitch_class.step()));
    out.append(static_cast<std::size_t>(std::abs(alter)), alter > 0 ? '#' : 'b');
    return out;
}

std::optional<PitchClass> parse_pitch_class(std::string_view text) {
    const std::optional<PitchClass> out = take_pitch_class(text);
    return text.empty() ? out : std::nullopt;
}

PitchClass simplest_name(int semitone, PitchClass near) {
    PitchClass best;
    int best_cost = std::numeric_limits<int>::max();
    // Fb to B#: every sounding note has one name at least between these that has no double accidental.
    for (int fifths = -8; fifths <= 12; ++fifths) {
        const PitchClass candidate = PitchClass::from_fifths(fifths);
        if (candidate.semitone() != ((semitone % 12) + 12) % 12) continue;
        const int cost = 100 * std::abs(candidate.alter()) + std::abs(fifths - near.fifths());
        if (cost < best_cost) {
            best = candidate;
            best_cost = cost;
        }
    }
    return best;
}

PitchClass without_double_accidental(PitchClass name) {
    if (name.alter() > 1) return name + kDiminishedSecond;
    if (name.alter() < -1) return name - kDiminishedSecond;
    return name;
}

bool is_awkward(PitchClass name) {
    const int alter = name.alter();
    if (std::abs(alter) > 1) return true;
    return (alter == 1 && (name.step() == Step::E || name.step() == Step::B)) ||
           (alter == -1 && (name.step() == Step::C || name.step() == Step::F));
}

PitchClass plain_name(PitchClass name) {
    if (!is_awkward(name)) return name;
    return name.alter() > 0 ? name + kDiminishedSecond : name - kDiminishedSecond;
}

Pitch without_double_accidental(Pitch pitch) {
    if (pitch.alter() > 1) return pitch + kDiminishedSecond;
    if (pitch.alter() < -1) return pitch - kDiminishedSecond;
    return pitch;
}

Pitch renamed(Pitch pitch, PitchClass name) {
    Pitch out{name, pitch.octave()};
    while (out.midi() < pitch.midi()) out = out + kOctave;
    while (out.midi() > pitch.midi()) out = out - kOctave;
    return out;
}

std::string to_string(Pitch pitch) {
    return to_string(pitch.name()) + std::to_string(pitch.octave());
}

std::optional<Pitch> parse_pitch(std::string_view text) {
    const std::optional<PitchClass> name = take_pitch_class(text);
    if (!name) return std::nullopt;
    const bool below = text.starts_with('-');
    if (below) text.remove_prefix(1);
    if (text.empty() || text.size() > 2 || text.find_first_not_of("0123456789") != std::string_view::npos) {
        return std::nullopt;
    }
    int octave = 0;
    for (const char c : text) octave = 10 * octave + (c - '0');
    if (octave > (below ? 1 : 10)) return std::nullopt;
    return Pitch{*name, below ? -octave : octave};
}

}  // namespace shedbook
