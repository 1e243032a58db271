#include "shedbook/notation/memory_page.h"

#include <algorithm>
#include <span>
#include <utility>

#include "steps.h"

namespace shedbook {
namespace {

// A bar of nothing, a hidden rest a quarter, so that it is as wide as a bar with notes; each chord has one to
// stand over.
void add_empty_bar(WrittenMusic& music, Ticks length, std::span<const ChordMark> chords) {
    for (Ticks at = 0; at < length;) {
        Ticks piece = std::min(length - at, music.ticks_per_quarter);
        for (const ChordMark& chord : chords) {
            if (chord.at > at) piece = std::min(piece, chord.at - at);
        }
        while (piece > 1 && !value_of(piece, music.ticks_per_quarter).found) --piece;
        Event event;
        event.at = at;
        event.length = piece;
        event.value = drawn_value(piece, music.ticks_per_quarter);
        event.what = Rest{.whole_bar = false, .hidden = true};
        music.events.push_back(event);
        at += piece;
    }
}

void cut_tie(WrittenMusic& music) {
    if (music.events.empty()) return;
    if (auto* last = std::get_if<Sounded>(&music.events.back().what)) last->tied_on = false;
    for (auto event = music.events.rbegin(); event != music.events.rend(); ++event) {
        auto* note = std::get_if<Sounded>(&event->what);
        if (note == nullptr) continue;
        if (note->octave_line != 0) note->octave_line_stops = true;
        break;
    }
}

// A note that is tied into a bar begins there, if what is before it is not to be seen.
void cut_tie_before(WrittenMusic& music, std::size_t first_event) {
    if (first_event >= music.events.size()) return;
    if (auto* first = std::get_if<Sounded>(&music.events[first_event].what)) first->tied_from_before = false;
}

// A slur of which one end is not to be seen.
template <class Keeps>
void cut_slurs(WrittenMusic& music, const Keeps& keeps) {
    Sounded* start = nullptr;
    for (std::size_t m = 0; m < music.measures.size(); ++m) {
        const Measure& measure = music.measures[m];
        for (std::size_t e = 0; keeps(m) && e < measure.event_count; ++e) {
            auto* note = std::get_if<Sounded>(&music.events[measure.first_event + e].what);
            if (note == nullptr) continue;
            if (note->slur_stops && start == nullptr) note->slur_stops = false;
            if (note->slur_stops) start = nullptr;
            if (note->slur_starts) start = note;
        }
        const bool goes_on = m + 1 < music.measures.size() && keeps(m + 1);
        if (start != nullptr && !goes_on) {
            start->slur_starts = false;
            start = nullptr;
        }
    }
}

template <class Keeps>
WrittenMusic with_bars(const WrittenMusic& music, const Keeps& keeps) {
    WrittenMusic out = music;
    out.events.clear();
    out.fingerings.clear();
    for (std::size_t m = 0; m < out.measures.size(); ++m) {
        Measure& measure = out.measures[m];
        const auto events = music.events_of(music.measures[m]);
        measure.first_event = out.events.size();
        if (!music.fingerings.empty() && keeps(m)) {
            const auto first =
                music.fingerings.begin() + static_cast<std::ptrdiff_t>(music.measures[m].first_event);
            out.fingerings.insert(out.fingerings.end(), first,
                                  first + static_cast<std::ptrdiff_t>(events.size()));
        }
        if (keeps(m)) {
            out.events.insert(out.events.end(), events.begin(), events.end());
            if (m > 0 && !keeps(m - 1)) cut_tie_before(out, measure.first_event);
        } else {
            if (m > 0 && keeps(m - 1)) cut_tie(out);
            add_empty_bar(out, events.empty() ? 0 : events.back().at + events.back().length,
                          music.chords_of(music.measures[m]));
        }
        measure.event_count = out.events.size() - measure.first_event;
        // What is not to be seen has no fingers either.
        if (!music.fingerings.empty()) out.fingerings.resize(out.events.size());
    }
    cut_slurs(out, keeps);
    for (WrittenMusic& staff : out.lower) staff = with_bars(staff, keeps);
    std::erase_if(out.texts, [&](const TextMark& mark) { return !keeps(mark.measure); });
    return out;
}

}  // namespace

WrittenMusic with_empty_staves(const WrittenMusic& music, std::size_t bars_kept) {
    return with_bars(music, [&](std::size_t bar) { return bar < bars_kept; });
}

WrittenMusic with_gaps(const WrittenMusic& music, std::size_t every) {
    // A pickup belongs to what follows it.
    const std::size_t pickup = !music.measures.empty() && music.measures.front().is_pickup ? 1 : 0;
    return with_bars(
        music, [&](std::size_t bar) { return bar < pickup || (bar - pickup) % every < (every + 1) / 2; });
}

WrittenMusic with_own_version(const WrittenMusic& music) {
    constexpr std::size_t kBesideEach = 2;  // bars that have as many more beside them
    const std::size_t bars = music.measures.size();
    WrittenMusic out = music;
    if (bars == 0) return out;
    WrittenMusic empty = with_empty_staves(music, 0);
    Meter meter = music.meter;
    for (const Measure& measure : music.measures) meter = measure.meter.value_or(meter);
    Measure& first = empty.measures.front();
    first.new_system = bars > kBesideEach;
    if (meter != music.meter) first.meter = music.meter;
    if (music.clefs().back() != music.clef) first.clef = music.clef;
    out.measures.back().right = Barline::Double;
    for (Measure measure : empty.measures) {
        measure.first_event += music.events.size();
        measure.first_chord += music.chords.size();
        out.measures.push_back(std::move(measure));
    }
    out.events.insert(out.events.end(), empty.events.begin(), empty.events.end());
    out.chords.insert(out.chords.end(), empty.chords.begin(), empty.chords.end());
    if (!music.fingerings.empty()) out.fingerings.resize(out.events.size());
    for (WrittenMusic& staff : out.lower) {
        staff = with_own_version(staff);
        staff.texts.clear();
    }
    out.texts.push_back({bars, 0, "your version", true});
    return out;
}

}  // namespace shedbook
