#include "shedbook/notation/memory_page.h"

#include <algorithm>

#include "steps.h"

namespace shedbook {
namespace {

// A bar of nothing, a hidden rest a quarter, so that it is as wide as a bar with notes.
void add_empty_bar(WrittenMusic& music, Ticks length) {
    for (Ticks at = 0; at < length;) {
        Ticks piece = std::min(length - at, music.ticks_per_quarter);
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

}  // namespace

WrittenMusic with_empty_staves(const WrittenMusic& music, std::size_t bars_kept) {
    WrittenMusic out = music;
    out.events.clear();
    for (std::size_t m = 0; m < out.measures.size(); ++m) {
        Measure& measure = out.measures[m];
        const auto events = music.events_of(music.measures[m]);
        measure.first_event = out.events.size();
        if (m < bars_kept) {
            out.events.insert(out.events.end(), events.begin(), events.end());
        } else {
            if (m == bars_kept) cut_tie(out);
            add_empty_bar(out, events.empty() ? 0 : events.back().at + events.back().length);
        }
        measure.event_count = out.events.size() - measure.first_event;
    }
    if (!out.fingerings.empty()) {
        const std::size_t kept =
            bars_kept < out.measures.size() ? out.measures[bars_kept].first_event : out.events.size();
        out.fingerings.resize(kept);
        out.fingerings.resize(out.events.size());
    }
    for (WrittenMusic& staff : out.lower) staff = with_empty_staves(staff, bars_kept);
    std::erase_if(out.texts, [&](const TextMark& mark) { return mark.measure >= bars_kept; });
    return out;
}

}  // namespace shedbook
