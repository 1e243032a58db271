#include "shedbook/etude/etude.h"

#include <algorithm>
#include <array>
#include <cassert>

#include "levels.h"
#include "lines.h"
#include "shedbook/etude/through_changes.h"

namespace shedbook {
namespace {

ConcertLine scale_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    const EtudeLevel& level = etude_level(request);
    return unbroken_scale_line(ground.spans, level.span == 0 ? range : range_at(level, range), level.note);
}

struct Maker {
    std::string_view kind;
    ConcertLine (*make)(const EtudeGround&, const EtudeRequest&, PitchRange);
};
constexpr std::array kMakers{
    Maker{"guide-tones", guide_tone_line},     Maker{"arpeggios-up", arpeggios_up},
    Maker{"arpeggios-down", arpeggios_down},   Maker{"arpeggio-waves", arpeggio_waves},
    Maker{"unbroken-scale", scale_line},       Maker{"targets", target_line},
    Maker{"added-note", added_note_line},      Maker{"cell", cell_line},
    Maker{"call-and-answer", call_and_answer}, Maker{"composed", composed_line},
};

}  // namespace

ConcertLine make_etude(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    const auto maker = std::ranges::find(kMakers, request.kind, &Maker::kind);
    assert(maker != kMakers.end());
    return maker->make(ground, request, range);
}

}  // namespace shedbook
