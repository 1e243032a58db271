#include "tune_places.h"
#include "../numbers.h"

#include <algorithm>

namespace shedbook {
namespace {

std::vector<Position> evenly(std::size_t count, Duration step) {
    std::vector<Position> out(count);
    for (std::size_t i = 0; i < count; ++i)
        out[i] = Position{} + step * Rational{static_cast<std::int64_t>(i)};
    return out;
}

// One slot a beat (or part of a beat), chords where they fall and slashes between; nothing if one falls in
// between.
std::optional<BarLayout> in_slots(const std::vector<PlacedChord>& chords, std::size_t slots, Duration bar,
                                  const Meter& meter) {
    const auto places = slot_places(slots, bar, meter);
    if (!places) return std::nullopt;
    BarLayout out;
    out.items.resize(slots);
    for (std::size_t i = 0; i < chords.size(); ++i) {
        const auto slot = std::ranges::find(*places, chords[i].at);
        if (slot == places->end()) return std::nullopt;
        BarLayout::Item& item = out.items[static_cast<std::size_t>(slot - places->begin())];
        if (item.chord >= 0) return std::nullopt;
        item.chord = static_cast<int>(i);
    }
    return out;
}

}  // namespace

std::int64_t beats_in(Duration bar, const Meter& meter) {
    const Rational beats = bar / meter.beat_length();
    return std::max<std::int64_t>(1, beats.is_whole() ? beats.num() : beats.floor() + 1);
}

std::optional<std::vector<Position>> slot_places(std::size_t count, Duration bar, const Meter& meter) {
    const Duration beat = meter.beat_length();
    const Rational beats = bar / beat;
    const auto whole = static_cast<std::size_t>(beats_in(bar, meter));
    if (count == 2 && beats == Rational{4}) return evenly(2, beat * Rational{2});
    if (count <= whole) return evenly(count, beat);
    const std::int64_t parts = meter.is_compound() ? 3 : 2;
    if (beats.is_whole() && count == whole * static_cast<std::size_t>(parts)) {
        return evenly(count, beat * Rational{1, parts});
    }
    return std::nullopt;
}

std::optional<PlacePrefix> parse_place(std::string_view word, const Meter& meter) {
    std::string_view rest = word;
    const std::optional<int> beat = take_number(rest);
    if (!beat || *beat < 1) return std::nullopt;
    Rational place{*beat - 1};
    if (rest.starts_with('&')) {
        place += Rational{1, 2};
        rest.remove_prefix(1);
    } else if (rest.starts_with('+')) {
        rest.remove_prefix(1);
        const std::optional<Rational> part = take_fraction(rest);
        if (!part) return std::nullopt;
        place += *part;
    }
    if (!rest.starts_with(':')) return std::nullopt;
    return PlacePrefix{Position{} + meter.unit_length() * place, word.size() - rest.size() + 1};
}

std::string place_prefix(Position at, const Meter& meter) {
    const Rational beats = (at - Position{}) / meter.unit_length();
    const std::int64_t whole = beats.floor();
    const Rational rest = beats - Rational{whole};
    std::string out = std::to_string(whole + 1);
    if (rest == Rational{1, 2}) {
        out += "&";
    } else if (rest != Rational{}) {
        out += "+" + to_string(rest);
    }
    return out + ":";
}

BarLayout lay_out_bar(const std::vector<PlacedChord>& chords, Duration bar, const Meter& meter, bool fills) {
    const auto beats = static_cast<std::size_t>(beats_in(bar, meter));
    const Rational exact = bar / meter.beat_length();
    std::vector<std::size_t> tries;
    fills = fills && exact.is_whole();
    if (!fills && chords.size() == 1) tries.push_back(1);
    if (!fills && chords.size() == 2 && exact == Rational{4}) tries.push_back(2);
    // A long row of slashes says less than the place of one chord.
    constexpr std::size_t kMostSlots = 12;
    if (exact.is_whole() && beats <= kMostSlots) tries.push_back(beats);
    if (exact.is_whole() && meter.is_compound() && 3 * beats <= kMostSlots) tries.push_back(3 * beats);
    for (const std::size_t slots : tries) {
        if (auto out = in_slots(chords, slots, bar, meter)) return *std::move(out);
    }
    BarLayout out;
    if (chords.empty()) out.items.emplace_back();
    for (std::size_t i = 0; i < chords.size(); ++i) {
        const bool opens = i == 0 && chords[i].at == Position{};
        out.items.push_back({static_cast<int>(i), opens ? std::string{} : place_prefix(chords[i].at, meter)});
    }
    return out;
}

}  // namespace shedbook
