#include "unit_hands.h"

#include "line_on_paper.h"
#include "phrase_pages.h"
#include "shedbook/drill/speeds.h"
#include "unit_lines.h"
#include "walking_line.h"

namespace shedbook {
namespace {

struct HandMusic {
    std::string id;
    std::string title;
    std::optional<ConcertLine> line;
};

HandMusic walking(const Tune& tune, const EtudeGround& ground, const BookPart& part,
                  const EtudeRequest& request) {
    const bool is_straight = feel_of(tune, ground, request) == PhraseFeel::Straight;
    const BassFeel feel = is_straight ? BassFeel::Straight : BassFeel::Walking;
    const PitchRange range = sounding_range(*part.instrument, part.range);
    return {"bass-line", is_straight ? "Bass line" : "Walking line",
            walking_line(ground, range, feel, static_cast<unsigned>(request.seed))};
}

}  // namespace

std::optional<Etude> UnitHands::make(const Tune& tune, std::pair<int, int> bars) const {
    if (ensemble_.written.size() > 1) return std::nullopt;
    const BookPart& part = ensemble_.parts[ensemble_.written.front()];
    const EtudeRequest& request = options_.etude;
    if (speeds_of(part.instrument->sound).line == HandLine::None) return std::nullopt;
    const EtudeGround ground = ground_of(tune.timeline, tune.analysis,
                                         {.bars = bars, .choruses = times_through(bars), .once = true});
    HandMusic made = walking(tune, ground, part, request);
    if (!made.line) return std::nullopt;
    Etude out;
    out.id = made.id;
    out.title = made.title;
    out.tune = name_of(tune.chart);
    out.music.push_back(
        line_on_paper(*made.line, tune, ground, part, {options_.prefer, request.level, {}, true}));
    out.boxes = boxes_for({{&part, *made.line}}, tune, ground, request.level, boxes_on_units(options_));
    say_whose_tempo(out);
    return out;
}

}  // namespace shedbook
