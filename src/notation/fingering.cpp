#include "shedbook/notation/fingering.h"

#include <algorithm>

#include "fretboard.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// "3|4": the second is for a note with a flat.
std::string for_spelling(std::string_view text, Pitch note) {
    const std::size_t bar = text.find('|');
    if (bar == std::string_view::npos) return with_signs(text);
    return with_signs(note.alter() < 0 ? text.substr(bar + 1) : text.substr(0, bar));
}

NoteFingering by_note(const FingeringChart& chart, const Instrument& instrument, Pitch note) {
    const int at = note.midi() - instrument.open.on_paper().midi() - chart.lowest;
    if (at < 0 || at >= static_cast<int>(chart.notes.size())) return {};
    return {.text = for_spelling(chart.notes[static_cast<std::size_t>(at)], note)};
}

NoteFingering by_string(const FingeringChart& chart, const Instrument& instrument, Pitch note) {
    for (std::size_t s = instrument.strings.size(); s-- > 0;) {
        const Pitch open = instrument.strings[s].on_paper();
        const int at = note.midi() - open.midi();
        if (at < 0) continue;
        if (at >= static_cast<int>(chart.notes.size())) return {};
        const auto string = static_cast<int>(instrument.strings.size() - s);
        return {for_spelling(chart.notes[static_cast<std::size_t>(at)], note), string, false,
                to_string(open.name())};
    }
    return {};
}

// Single notes that are struck; what is tied on has its finger already.
std::vector<std::size_t> struck(const WrittenMusic& music) {
    std::vector<std::size_t> out;
    for (std::size_t e = 0; e < music.events.size(); ++e) {
        const auto* note = std::get_if<Sounded>(&music.events[e].what);
        if (note != nullptr && !note->tied_from_before && note->below_count == 0) out.push_back(e);
    }
    return out;
}

Pitch pitch_of(const WrittenMusic& music, std::size_t event) {
    return std::get<Sounded>(music.events[event].what).pitch.on_paper();
}

void add_frets(WrittenMusic& music, const FingeringChart& chart, const Instrument& instrument,
               const std::optional<FretSpan>& span, const std::vector<std::size_t>& events) {
    std::vector<int> notes;
    notes.reserve(events.size());
    for (const std::size_t event : events) notes.push_back(pitch_of(music, event).midi());
    const std::vector<FretPlace> places = places_on_fretboard(notes, instrument, chart.reach, span);
    for (std::size_t i = 0; i < events.size(); ++i) {
        if (places[i].string == 0) continue;
        music.fingerings[events[i]] = {std::to_string(places[i].fret), places[i].string, true,
                                       std::to_string(places[i].string)};
    }
}

// A string is named where it changes, and where a line begins.
void name_strings_once(WrittenMusic& music) {
    int sounding = 0;
    for (const Measure& measure : music.measures) {
        if (measure.new_system) sounding = 0;
        for (std::size_t e = measure.first_event; e < measure.first_event + measure.event_count; ++e) {
            NoteFingering& fingering = music.fingerings[e];
            if (fingering.string == 0) continue;
            if (fingering.string == sounding) fingering.string_name.clear();
            sounding = fingering.string;
        }
    }
}

}  // namespace

void add_fingerings(WrittenMusic& music, const Instrument& instrument, const std::optional<FretSpan>& frets) {
    const FingeringChart* chart = fingering_chart_of(instrument);
    if (chart == nullptr) return;
    music.fingerings.assign(music.events.size(), {});
    const std::vector<std::size_t> events = struck(music);
    if (chart->by == FingeringChart::By::Fret) {
        add_frets(music, *chart, instrument, frets, events);
    } else {
        const auto finger = chart->by == FingeringChart::By::Note ? by_note : by_string;
        for (const std::size_t event : events)
            music.fingerings[event] = finger(*chart, instrument, pitch_of(music, event));
    }
    name_strings_once(music);
}

}  // namespace shedbook
