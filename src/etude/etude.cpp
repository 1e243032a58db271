#include "shedbook/etude/etude.h"

#include <algorithm>
#include <array>
#include <cassert>

#include "breaths.h"
#include "line_tools.h"
#include "lines.h"
#include "slurs.h"

namespace shedbook {
namespace {

struct Maker {
    std::string_view kind;
    ConcertLine (*make)(const EtudeGround&, const EtudeRequest&, PitchRange);
    bool unbroken = true;  // the line has no phrases of its own, with rests between them
};
constexpr std::array kMakers{
    Maker{"guide-tones", guide_tone_line},
    Maker{"arpeggios-up", arpeggios_up},
    Maker{"arpeggios-down", arpeggios_down},
    Maker{"arpeggio-waves", arpeggio_waves},
    Maker{"unbroken-scale", unbroken_scale_line},
    Maker{"targets", target_line},
    Maker{"added-note", added_note_line},
    Maker{"cell", cell_line},
    Maker{"call-and-answer", call_and_answer, false},
    Maker{"composed", composed_line, false},
};

// Who plays a passage a second time begins there anew: nothing is held over.
void part_passes(ConcertLine& line, const EtudeGround& ground) {
    for (std::size_t b = bars_of_chorus(ground); b < ground.bars.size(); b += bars_of_chorus(ground)) {
        const Position at = ground.bars[b].at;
        for (LineNote& note : line.notes) {
            if (note.at < at && note.at + note.length > at) note.length = at - note.at;
        }
    }
}

}  // namespace

ConcertLine make_etude(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    const auto maker = std::ranges::find(kMakers, request.kind, &Maker::kind);
    assert(maker != kMakers.end());
    ConcertLine line = maker->make(ground, request, range);
    if (request.bars) part_passes(line, ground);
    if (request.handling.breathes && !ground.bars.empty())
        add_breaths(line, ground,
                    {on_one_breath(line, ground, request), maker->unbroken, request.bars.has_value()});
    if (request.handling.slurs && request.level <= kLastLevelWithSlurs) {
        const EtudeStyle style = request.style.value_or(style_of("", ground));
        add_slurs(line, ground, style == EtudeStyle::Swing && request.feel == EtudeFeel::Swing);
    }
    return line;
}

}  // namespace shedbook
