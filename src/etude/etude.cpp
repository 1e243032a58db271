#include "shedbook/etude/etude.h"

#include <algorithm>
#include <array>
#include <cassert>

#include "lines.h"
#include "note_values.h"
#include "slurs.h"

namespace shedbook {
namespace {

struct Maker {
    std::string_view kind;
    ConcertLine (*make)(const EtudeGround&, const EtudeRequest&, PitchRange);
};
constexpr std::array kMakers{
    Maker{"guide-tones", guide_tone_line},        Maker{"arpeggios-up", arpeggios_up},
    Maker{"arpeggios-down", arpeggios_down},      Maker{"arpeggio-waves", arpeggio_waves},
    Maker{"unbroken-scale", unbroken_scale_line}, Maker{"targets", target_line},
    Maker{"added-note", added_note_line},         Maker{"cell", cell_line},
    Maker{"call-and-answer", call_and_answer},    Maker{"composed", composed_line},
};

}  // namespace

namespace {

// Lines without rests: where to breathe, at the end of every few bars, so that no breath lasts much longer
// than eight seconds (common practice).
void mark_breaths(ConcertLine& line, const EtudeGround& ground, int quarters) {
    constexpr int kSeconds = 8;
    constexpr int kMostBars = 8;
    if (ground.bars.empty()) return;
    const Rational bar = ground.bars.front().meter.bar_length() / kQuarter;
    const Rational bars = Rational{kSeconds * quarters, 60} / bar;
    const auto every = static_cast<std::size_t>(std::clamp<std::int64_t>(bars.floor(), 1, kMostBars));
    std::size_t note = 0;
    Position since;
    for (std::size_t b = every; b + 1 < ground.bars.size(); b += every) {
        const Position at = ground.bars[b].at;
        while (note < line.notes.size() && line.notes[note].at + line.notes[note].length < at) {
            // A rest is a breath.
            if (note > 0 && line.notes[note - 1].at + line.notes[note - 1].length < line.notes[note].at)
                since = line.notes[note].at;
            ++note;
        }
        const bool ends_here = note + 1 < line.notes.size() &&
                               line.notes[note].at + line.notes[note].length == at &&
                               line.notes[note + 1].at == at;
        if (ends_here && since < ground.bars[b - 1].at) line.breaths.push_back(at);
    }
}

}  // namespace

ConcertLine make_etude(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    const auto maker = std::ranges::find(kMakers, request.kind, &Maker::kind);
    assert(maker != kMakers.end());
    ConcertLine line = maker->make(ground, request, range);
    const bool breathes = request.kind == "composed" || request.kind == "call-and-answer";
    if (!breathes) mark_breaths(line, ground, quarters_a_minute(request, ground));
    if (request.handling.slurs && request.level <= kLastLevelWithSlurs) {
        const EtudeStyle style = request.style.value_or(style_of("", ground));
        add_slurs(line, ground, style == EtudeStyle::Swing && request.feel == EtudeFeel::Swing);
    }
    return line;
}

}  // namespace shedbook
