#include "shedbook/etude/etude.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <iterator>
#include <utility>

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
    bool is_anew = true;   // each time through some bars is a line of its own, with its own end
};
constexpr std::array kMakers{
    Maker{"guide-tones", guide_tone_line, true, false},
    Maker{"arpeggios-up", arpeggios_up},
    Maker{"arpeggios-down", arpeggios_down},
    Maker{"arpeggio-waves", arpeggio_waves},
    Maker{"unbroken-scale", unbroken_scale_line},
    Maker{"targets", target_line},
    Maker{"added-note", added_note_line},
    Maker{"cell", cell_line},
    Maker{"call-and-answer", call_and_answer, false, false},
    Maker{"composed", composed_line, false, false},
    Maker{"aab", riff_line, false, false},
};

// Who plays a passage a second time begins there anew: nothing is held over, and a long note leaves time to
// breathe.
void part_passes(ConcertLine& line, const EtudeGround& ground, bool breathes) {
    for (std::size_t b = bars_of_chorus(ground); b < ground.bars.size(); b += bars_of_chorus(ground)) {
        const Position at = ground.bars[b].at;
        for (LineNote& note : line.notes) {
            if (note.at >= at || note.at + note.length < at) continue;
            note.length = at - note.at;
            if (breathes && note.length >= kHalf) note.length -= kQuarter;
        }
    }
}

// One time through, from the start of the line.
EtudeGround pass_of(const EtudeGround& ground, std::size_t pass) {
    const std::size_t bars = bars_of_chorus(ground);
    const auto first = ground.bars.begin() + static_cast<std::ptrdiff_t>(pass * bars);
    EtudeGround out;
    out.bars.assign(first, first + static_cast<std::ptrdiff_t>(bars));
    const Position from = out.bars.front().at;
    const Position to = out.bars.back().at + out.bars.back().length;
    const Duration by = from - Position{};
    for (GroundBar& bar : out.bars) bar.at = bar.at - by;
    for (ScaleSpan span : ground.spans) {
        const Position end = std::min(span.at + span.length, to);
        const Position at = std::max(span.at, from);
        if (at >= end) continue;
        span.at = at - by;
        span.length = end - at;
        out.spans.push_back(std::move(span));
    }
    out.length = to - from;
    out.home = ground.home;
    return out;
}

ConcertLine passes_of(const Maker& maker, const EtudeGround& ground, EtudeRequest request, PitchRange range) {
    ConcertLine out;
    out.length = ground.length;
    for (request.pass = 0; request.pass < ground.choruses; ++request.pass) {
        const std::size_t first = static_cast<std::size_t>(request.pass) * bars_of_chorus(ground);
        const Duration by = ground.bars[first].at - Position{};
        ConcertLine line =
            maker.make(pass_of(ground, static_cast<std::size_t>(request.pass)), request, range);
        for (LineNote& note : line.notes) note.at += by;
        for (LineText& text : line.texts) text.at += by;
        out.notes.insert(out.notes.end(), line.notes.begin(), line.notes.end());
        std::ranges::move(line.texts, std::back_inserter(out.texts));
        ++request.seed;
    }
    return out;
}

}  // namespace

ConcertLine make_etude(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    const auto maker = std::ranges::find(kMakers, request.kind, &Maker::kind);
    assert(maker != kMakers.end());
    const bool is_in_passes = request.bars && maker->is_anew && ground.choruses > 1;
    ConcertLine line =
        is_in_passes ? passes_of(*maker, ground, request, range) : maker->make(ground, request, range);
    if (request.bars) part_passes(line, ground, request.handling.breathes);
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
