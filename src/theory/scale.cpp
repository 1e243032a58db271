#include "shedbook/theory/scale.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstdlib>
#include <iterator>
#include <limits>

#include "scale_table.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Case and separators do not count in names of scales.
std::string name_key(std::string_view name) {
    std::string out;
    for (const char c : slug(name)) {
        if (c != '-') out += c;
    }
    return out;
}

struct NamedType {
    std::string key;
    const ScaleType* type;
};

// The table, with rows of the user's own until it is asked for the first time.
struct Table {
    std::vector<ScaleType> types{std::begin(kScaleTypes), std::end(kScaleTypes)};
    bool is_in_use = false;
};
Table& table() {
    static Table out;
    return out;
}

std::vector<NamedType> names_of_table() {
    std::vector<NamedType> out;
    const auto add = [&out](std::string_view name, const ScaleType* type) {
        const std::string key = name_key(name);
        const bool known = std::ranges::any_of(out, [&](const NamedType& n) { return n.key == key; });
        if (!key.empty() && !known) out.push_back({key, type});
    };
    for (const ScaleType& type : scale_types()) {
        add(type.id, &type);
        add(type.name, &type);
    }
    for (const ScaleType& type : scale_types()) {
        for (const std::string_view names : {type.other_names, type.read_names}) {
            for (const std::string_view other : split(names, ';')) add(other, &type);
        }
    }
    return out;
}

bool is_seven_letters(const ScaleType& type) {
    return type.intervals().size() == 7 && type.id != "altered";
}

// Finds the names of a scale's notes with the least cost, note by note with a branch cut; scales are small.
class Speller {
  public:
    Speller(const Scale& scale, std::span<const PitchClass> chord)
        : strict_{strict_notes(scale)}, chord_{chord.begin(), chord.end()}, choice_(strict_.size()) {
        // The altered tones of a dominant are named alike whatever its symbol says: #9 as b3 beside the
        // third, and all those of the altered scale (house rule).
        const auto over_root = [&](PitchClass tone) {
            return (tone.semitone() - scale.tonic.semitone() + 12) % 12;
        };
        const bool is_dominant =
            std::ranges::any_of(chord_, [&](PitchClass tone) { return over_root(tone) == 4; });
        std::erase_if(chord_, [&](PitchClass tone) {
            const int above = over_root(tone);
            const bool is_plain = above == 0 || above == 4 || above == 10;
            return (is_dominant && above == 3) || (scale.type->id == "altered" && !is_plain);
        });
        if (!chord_.empty()) return;
        // Without a chord the scale's own third and minor seventh stand for one.
        for (const Interval tone : {kMajorThird, kMinorThird, kMinorSeventh}) {
            const PitchClass note = scale.tonic + tone;
            if (contains(scale, note) && (tone != kMinorThird || chord_.empty())) chord_.push_back(note);
        }
    }

    std::vector<PitchClass> best() {
        search(0, 0);
        return best_;
    }

  private:
    // Costs: a chord tone under another name than the chord's outweighs the rest, but not a double
    // accidental.
    static constexpr int kDouble = 1000;
    static constexpr int kThirdTimeLetter = 1000;
    static constexpr int kNotAsChord = 100;
    static constexpr int kSecondTimeLetter = 8;
    static constexpr int kFlatAndSharp = 4;  // one letter both ways: A flat and A sharp
    static constexpr int kAwkward = 6;
    static constexpr int kNotStrict = 3;

    int cost_of(std::size_t i, PitchClass name) const {
        if (i == 0) return name == strict_[0] ? 0 : 10 * kDouble;  // the root keeps its name
        int cost = std::abs(name.alter()) >= 2 ? kDouble : 0;
        bool in_chord = false;
        for (const PitchClass tone : chord_) {
            if (tone.semitone() != name.semitone()) continue;
            in_chord = true;
            if (tone != name) cost += kNotAsChord;
        }
        if (is_awkward(name) && !in_chord) cost += kAwkward;
        if (name != strict_[i]) cost += kNotStrict;
        const auto same = std::count_if(choice_.begin(), choice_.begin() + static_cast<std::ptrdiff_t>(i),
                                        [&](PitchClass before) { return before.step() == name.step(); });
        const bool is_both_ways = std::any_of(
            choice_.begin(), choice_.begin() + static_cast<std::ptrdiff_t>(i), [&](PitchClass before) {
                return before.step() == name.step() && before.alter() * name.alter() < 0;
            });
        if (is_both_ways) cost += kFlatAndSharp;
        if (same == 1) cost += kSecondTimeLetter;
        if (same >= 2) cost += kThirdTimeLetter;
        return cost;
    }

    void search(std::size_t i, int cost) {
        if (cost >= best_cost_) return;
        if (i == strict_.size()) {
            best_cost_ = cost;
            best_ = choice_;
            return;
        }
        // The strict name first, then its neighbours a diminished second away: with equal cost the first one
        // stays.
        for (const int shift : {0, 12, -12}) {
            const PitchClass name = PitchClass::from_fifths(strict_[i].fifths() + shift);
            if (std::abs(name.alter()) > 2) continue;
            choice_[i] = name;
            search(i + 1, cost + cost_of(i, name));
        }
    }

    std::vector<PitchClass> strict_;
    std::vector<PitchClass> chord_;
    std::vector<PitchClass> choice_;
    std::vector<PitchClass> best_;
    int best_cost_ = std::numeric_limits<int>::max();
};

}  // namespace

unsigned ScaleType::pitch_set() const {
    unsigned set = 0;
    for (const Interval interval : intervals()) set |= 1U << static_cast<unsigned>(interval.semitones());
    return set;
}

std::vector<std::string_view> degree_names(const ScaleType& type) {
    return split(type.labels.empty() ? type.degrees.text() : type.labels, ' ');
}

std::span<const ScaleType> scale_types() {
    table().is_in_use = true;
    return table().types;
}

void add_scale_type(const ScaleType& type) {
    assert(!table().is_in_use);
    std::vector<ScaleType>& types = table().types;
    const auto known = std::ranges::find(types, type.id, &ScaleType::id);
    if (known != types.end()) {
        *known = type;
    } else {
        types.push_back(type);
    }
}

const ScaleType* find_scale_type(std::string_view name) {
    static const std::vector<NamedType> kNames = names_of_table();
    const std::string key = name_key(name);
    const auto at = std::ranges::find(kNames, key, &NamedType::key);
    return at == kNames.end() ? nullptr : at->type;
}

std::vector<std::string> scale_type_names() {
    std::vector<std::string> out;
    for (const ScaleType& type : kScaleTypes) {
        out.emplace_back(type.name);
        for (const std::string_view other : split(type.other_names, ';')) {
            if (!other.empty()) out.emplace_back(trimmed(other));
        }
    }
    return out;
}

std::vector<PitchClass> strict_notes(const Scale& scale) {
    std::vector<PitchClass> out;
    for (const Interval interval : scale.type->intervals()) out.push_back(scale.tonic + interval);
    return out;
}

std::vector<PitchClass> spelled(const Scale& scale, std::span<const PitchClass> chord) {
    if (is_seven_letters(*scale.type)) return strict_notes(scale);
    return Speller{scale, chord}.best();
}

std::vector<int> sounding_notes(const Scale& scale) {
    std::vector<int> out;
    for (const PitchClass note : strict_notes(scale)) out.push_back(note.semitone());
    return out;
}

bool contains(const Scale& scale, PitchClass note) {
    const int above = (note.semitone() - scale.tonic.semitone() + 12) % 12;
    return (scale.type->pitch_set() >> static_cast<unsigned>(above) & 1U) != 0;
}

std::string to_string(const Scale& scale) {
    return to_string(scale.tonic) + " " + std::string{scale.type->name};
}

std::optional<Scale> parse_scale(std::string_view text) {
    text = trimmed(text);
    const std::size_t gap = text.find_first_of(" -_");
    if (gap == std::string_view::npos) return std::nullopt;
    const std::optional<PitchClass> tonic = parse_pitch_class(text.substr(0, gap));
    const ScaleType* type = find_scale_type(text.substr(gap + 1));
    if (!tonic || type == nullptr) return std::nullopt;
    return Scale{*tonic, type};
}

}  // namespace shedbook
