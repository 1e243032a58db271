#include "shedbook/notation/excerpt.h"

#include <algorithm>
#include <utility>

namespace shedbook {
namespace {

// What is held in one vector for all measures, and counted from its beginning.
template <class Each>
std::vector<Each> cut(const std::vector<Each>& all, std::size_t from, std::size_t to) {
    return {all.begin() + static_cast<std::ptrdiff_t>(from), all.begin() + static_cast<std::ptrdiff_t>(to)};
}

// Of a bar, as it is counted on pages; a pickup is not.
int number_of(const WrittenMusic& music, std::size_t bar) {
    int out = music.measures.front().is_pickup ? -1 : 0;
    for (std::size_t i = 0; i <= bar; ++i) out = music.measures[i].number.value_or(out + 1);
    return out;
}

}  // namespace

WrittenMusic excerpt(const WrittenMusic& music, std::size_t from, std::size_t to) {
    const Measure& first = music.measures[from];
    const Measure& last = music.measures[to - 1];
    const std::size_t first_chord = first.first_chord;
    const std::size_t events_end = last.first_event + last.event_count;
    WrittenMusic out = music;
    out.lower.clear();
    out.played.clear();
    out.clef = music.clefs()[from];
    out.measures = cut(music.measures, from, to);
    out.events = cut(music.events, first.first_event, events_end);
    out.chords = cut(music.chords, first_chord, last.first_chord + last.chord_count);
    if (!music.fingerings.empty()) out.fingerings = cut(music.fingerings, first.first_event, events_end);
    for (Measure& measure : out.measures) {
        measure.first_event -= first.first_event;
        measure.first_chord -= first_chord;
    }
    for (std::size_t i = 0; i <= from; ++i) out.meter = music.measures[i].meter.value_or(out.meter);
    const auto marks = music.chords_of(first);
    if ((marks.empty() || marks.front().at > 0) && first_chord > 0) {
        out.chords.insert(out.chords.begin(), {0, music.chords[first_chord - 1].symbol});
        ++out.measures.front().chord_count;
        for (std::size_t i = 1; i < out.measures.size(); ++i) ++out.measures[i].first_chord;
    }
    std::erase_if(out.texts, [&](const TextMark& mark) { return mark.measure < from || mark.measure >= to; });
    for (TextMark& mark : out.texts) mark.measure -= from;
    out.measures.front().number = number_of(music, from);
    out.measures.front().clef = std::nullopt;
    out.measures.front().new_system = false;
    out.measures.front().new_page = false;
    return out;
}

}  // namespace shedbook
