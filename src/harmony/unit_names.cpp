// What units are called.
#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "shedbook/harmony/units.h"
#include "unit_names.h"

namespace shedbook {
namespace {

bool is_cadence(UnitKind kind) {
    constexpr std::array kCadences{UnitKind::TwoFive, UnitKind::MajorTwoFiveOne, UnitKind::MinorTwoFiveOne};
    return std::ranges::find(kCadences, kind) != kCadences.end();
}

// By the chords that stand here: a cadence in minor may begin on iv, one of either mode go by the substitute.
std::string by_chords(UnitKind kind, const std::vector<const Reading*>& chords) {
    constexpr int kFourth = 5;
    constexpr int kWhole = 2;
    constexpr int kDownHalf = 11;
    const auto root = [](const Reading* reading) { return reading->symbol.root.semitone(); };
    const auto next = std::ranges::find_if(
        chords, [&](const Reading* reading) { return root(reading) != root(chords.front()); });
    if (next == chords.end()) return {};
    const int up = (root(*next) - root(chords.front()) + 12) % 12;
    const bool is_half = family(chords.front()->symbol) == ChordFamily::HalfDiminished;
    const std::string two = is_half ? "ii\u00F8" : "ii";
    const std::string_view end = kind == UnitKind::MajorTwoFiveOne   ? "-I"
                                 : kind == UnitKind::MinorTwoFiveOne ? "-i"
                                                                     : "";
    if (up == kWhole && kind == UnitKind::MinorTwoFiveOne) return "iv-V-i";
    if (up == kDownHalf) return two + "-bII" + std::string{end};
    if (up == kFourth) return two + "-V" + std::string{end};
    return {};
}

// By what they do in one key, where that is none of a ii and a V.
std::string by_functions(const std::vector<const Reading*>& chords) {
    const auto is_like = [](const Reading* reading, std::string_view numeral) {
        return reading->numeral.starts_with(numeral);
    };
    const auto two = chords.front();
    const auto five = std::ranges::find_if(
        chords, [&](const Reading* reading) { return reading->symbol.root != two->symbol.root; });
    const bool is_said = five == chords.end() || ((is_like(two, "ii7") || is_like(two, "iv")) &&
                                                  (is_like(*five, "V") || is_like(*five, "bII")));
    const bool one_key =
        std::ranges::all_of(chords, [&](const Reading* reading) { return reading->key == two->key; });
    if (is_said || !one_key) return {};
    std::string out;
    for (const Reading* reading : chords) out += (out.empty() ? "" : "-") + reading->numeral;
    return out + " in " + to_string(two->key);
}

// "biiio7" is "biii dim"; "V7" and "Imaj7" are "V" and "I".
std::string function_in_chain(const Reading& reading) {
    const std::size_t end = reading.numeral.find_first_not_of("bIViv#");
    const std::string stem = reading.numeral.substr(0, end);
    const ChordFamily kind = family(reading.symbol);
    const std::size_t of = reading.numeral.find('/');
    return stem + (kind == ChordFamily::Diminished ? " dim" : "") +
           (kind == ChordFamily::HalfDiminished ? "\u00F8" : "") +
           (of == std::string::npos ? "" : reading.numeral.substr(of));
}

}  // namespace

std::optional<NameOfPlace> name_from_other_key(const std::vector<const Reading*>& chords) {
    std::string name;
    std::string of;
    for (const Reading* reading : chords) {
        const std::string function = function_in_chain(*reading);
        const std::size_t at = function.find('/');
        if (at == std::string::npos || reading->key != chords.front()->key) return std::nullopt;
        const std::string goal = function.substr(at + 1);
        if (!of.empty() && goal != of) return std::nullopt;
        of = goal;
        const std::string step = function.substr(0, at);
        if (!name.ends_with(step)) name += (name.empty() ? "" : "-") + step;
    }
    // Players say so of the dominant alone; of other chords they name the key.
    if (of != "V" || name.find('-') == std::string::npos) return std::nullopt;
    return NameOfPlace{name + " of " + of, chords.front()->key};
}

std::string chain_of(const std::vector<const Reading*>& chords) {
    std::string out;
    for (const Reading* reading : chords) out += (out.empty() ? "" : "-") + function_in_chain(*reading);
    return out;
}

std::string unit_name(UnitKind kind, Mode mode) {
    if (kind == UnitKind::FiveOne && is_minor(mode)) return "V-i";
    return std::string{to_word(kind)};
}

std::string unit_name(UnitKind kind, const Key& key) {
    return unit_name(kind, key.mode) + " in " + to_string(key);
}

std::string unit_name(UnitKind kind, const UnitPlace& place) {
    return place.name.empty() ? unit_name(kind, place.key) : place.name + " in " + to_string(place.named_in);
}

std::string what_it_is_here(UnitKind kind, const Key& key, const std::vector<const Reading*>& chords) {
    if (!is_cadence(kind) || chords.empty()) return {};
    std::string out = by_functions(chords);
    if (out.empty()) out = by_chords(kind, chords);
    // In minor the ii has a flat fifth.
    const bool is_plain = out == unit_name(kind, key.mode) || (is_minor(key.mode) && out == "ii\u00F8-V");
    return is_plain ? "" : out;
}

}  // namespace shedbook
