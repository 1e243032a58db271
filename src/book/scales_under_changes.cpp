#include "scales_under_changes.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <set>
#include <span>
#include <string>
#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Characters that have room under a line of bars; from measurement.
constexpr int kRoomOfLine = 124;

// What stands between two names that touch.
constexpr int kGap = 2;

using Abbreviation = std::pair<std::string_view, std::string_view>;
constexpr std::array<Abbreviation, 3> kBrief{
    {{"diminished", "dim."}, {"melodic", "mel."}, {"harmonic", "harm."}}};
constexpr std::array<Abbreviation, 13> kBriefest{{{"dominant", "dom."},
                                                  {"natural", "nat."},
                                                  {"Mixolydian", "Mixo."},
                                                  {"Ionian", "Ion."},
                                                  {"Dorian", "Dor."},
                                                  {"Phrygian", "Phr."},
                                                  {"Lydian", "Lyd."},
                                                  {"Aeolian", "Aeol."},
                                                  {"Locrian", "Locr."},
                                                  {"altered", "alt."},
                                                  {"whole-half", "w-h"},
                                                  {"half-whole", "h-w"},
                                                  {"whole-tone", "w-t"}}};
// Where a chord has one beat: the steps alone say which it is.
constexpr std::array<Abbreviation, 2> kLeast{{{"w-h dim.", "w-h"}, {"h-w dim.", "h-w"}}};

std::string shortened(std::string name, std::span<const Abbreviation> abbreviations) {
    for (const auto& [long_form, short_form] : abbreviations) {
        if (const std::size_t at = name.find(long_form); at != std::string::npos)
            name.replace(at, long_form.size(), short_form);
    }
    return name;
}

// The root stands above already. Empty where it has no room.
std::string name_in(const Scale& scale, const ChordSymbol& symbol, std::size_t room) {
    const std::string name = scale.tonic == symbol.root ? std::string{scale.type->name} : to_string(scale);
    const std::string brief = shortened(name, kBrief);
    const std::string briefest = shortened(brief, kBriefest);
    for (const std::string& each : {name, brief, briefest, shortened(briefest, kLeast)}) {
        if (count_characters(each) <= room) return each;
    }
    return {};
}

// "E", "Em": what stands before a colon.
std::string before_colon(const Key& key) {
    return to_string(key.tonic) + (is_minor(key.mode) ? "m" : "");
}

// The event that sounds there: words stand with one.
Ticks event_at(const WrittenMusic& music, const Measure& measure, Position in_bar) {
    const Rational ticks = in_bar.whole_notes * Rational{4 * music.ticks_per_quarter};
    Ticks out = 0;
    for (const Event& event : music.events_of(measure)) {
        if (Rational{event.at} <= ticks) out = event.at;
    }
    return out;
}

}  // namespace

void name_scales(WrittenMusic& music, const Tune& tune, Interval by, ShownBars shown) {
    const Analysis analysis = transposed(tune.analysis, by);
    std::map<int, const Reading*> readings;
    for (const Reading& reading : analysis.readings) readings.emplace(reading.inst, &reading);
    std::set<int> known;
    Key key = analysis.home;
    bool is_reached_already = true;
    const Rational room_of_bar{kRoomOfLine, static_cast<std::int64_t>(shown.a_line)};
    for (const ChordSpan& span : tune.timeline.chords) {
        const auto found = readings.find(span.inst);
        const auto of_tune = static_cast<std::size_t>(span.bar);
        if (found == readings.end() || of_tune < shown.first ||
            of_tune - shown.first >= music.measures.size() || !known.insert(span.inst).second)
            continue;
        const std::size_t bar = of_tune - shown.first;
        const Reading& reading = *found->second;
        const Rational bars = std::min(Rational{1}, span.length / music.meter.bar_length());
        const auto room =
            static_cast<std::size_t>(std::max<std::int64_t>(0, (bars * room_of_bar).floor() - kGap));
        std::string function = reading.numeral;
        // A new key is said at the first chord that has room for it, and again where it is reached.
        const std::string with_key = before_colon(reading.key) + ": " + function;
        const bool is_new = reading.key != key;
        const bool is_reached = reading.key == key && !is_reached_already && reading.symbol.root == key.tonic;
        if ((is_new || is_reached) && count_characters(with_key) <= room) {
            function = with_key;
            key = reading.key;
            is_reached_already = key == analysis.home || reading.symbol.root == key.tonic;
        }
        const Ticks at = event_at(music, music.measures[bar], span.in_bar);
        music.texts.push_back({bar, at, function});
        if (const std::string name = name_in(reading.scale.scale, reading.symbol, room); !name.empty())
            music.texts.push_back({bar, at, name});
    }
    std::ranges::stable_sort(music.texts, {}, [](const TextMark& mark) {
        return std::pair{mark.measure, mark.at};
    });
}

}  // namespace shedbook
