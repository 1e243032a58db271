#include "unit_hands.h"

#include <array>

#include "hand_shapes.h"
#include "hand_voicings.h"
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
    std::optional<ConcertLine> left = {};  // hand, on a staff of its own
    std::vector<std::string> frets = {};   // under each chord; none: no row of them
};

// What all of them are made of.
struct HandWish {
    const Tune& tune;
    const EtudeGround& ground;
    const BookPart& part;
    const EtudeRequest& request;
    CompingStyle style;
    [[nodiscard]] const CompingRhythm* rhythm() const {
        return comping_rhythm(feel_of(tune, ground, request), style);
    }
};

// The other rhythm on the same chords.
void name_pushed(HandMusic& music, const HandWish& wish) {
    if (wish.style == CompingStyle::Usual) return;
    music.id += "-pushed";
    music.title = "The same chords, " + wish.rhythm()->says;
}

HandMusic walking(const HandWish& wish) {
    const auto& [tune, ground, part, request, style] = wish;
    if (style != CompingStyle::Usual) return {};
    const bool is_straight = feel_of(tune, ground, request) == PhraseFeel::Straight;
    const BassFeel feel = is_straight ? BassFeel::Straight : BassFeel::Walking;
    const PitchRange range = sounding_range(*part.instrument, part.range);
    return {"bass-line", is_straight ? "Bass line" : "Walking line",
            walking_line(ground, range, feel, static_cast<unsigned>(request.seed))};
}

HandMusic voiced(const HandWish& wish) {
    const auto& [tune, ground, part, request, style] = wish;
    HandMusic out{"voicings", "Voicings", {}};
    const bool is_usual = style == CompingStyle::Usual;
    if (!is_usual && wish.rhythm() == nullptr) return out;
    const PitchRange range = sounding_range(*part.instrument, part.range);
    if (auto made =
            hand_voicings(ground, *part.instrument, range, request.level,
                          is_usual ? chord_strokes(ground) : comping_strokes(ground, *wish.rhythm()))) {
        out.line = std::move(made->right);
        out.left = std::move(made->left);
    }
    name_pushed(out, wish);
    return out;
}

HandMusic fretted(const HandWish& wish) {
    const auto& [tune, ground, part, request, style] = wish;
    HandMusic out{"comping-shapes", "Comping shapes, frets from the lowest string up", {}};
    const CompingRhythm* rhythm = wish.rhythm();
    if (rhythm == nullptr) return out;
    if (auto made = hand_shapes(ground, part, *rhythm, request.level)) {
        out.line = std::move(made->line);
        out.frets = std::move(made->frets);
    }
    name_pushed(out, wish);
    return out;
}

using HandMaker = HandMusic (*)(const HandWish&);
constexpr std::array<HandMaker, 4> kHandMakers{nullptr, walking, voiced, fretted};
static_assert(has_a_row_each<HandLine>(kHandMakers));

}  // namespace

std::optional<Etude> UnitHands::make(const Tune& tune, const Passage& passage, CompingStyle style) const {
    const int times = times_through(passage.bars);
    std::optional<Etude> out = make(tune, passage, style, times);
    // The same hands a second time teach nothing.
    if (out && times > 1 && repeats_itself(out->music.front(), Rational{0}))
        return make(tune, passage, style, 1);
    return out;
}

std::optional<Etude> UnitHands::make(const Tune& tune, const Passage& passage, CompingStyle style,
                                     int times) const {
    // Books made together have the same bars.
    if (ensemble_.parts.size() > 1) return std::nullopt;
    const BookPart& part = ensemble_.parts[ensemble_.written.front()];
    const EtudeRequest& request = options_.etude;
    const HandMaker made_by = kHandMakers[row_index(speeds_of(part.instrument->sound).line)];
    if (made_by == nullptr) return std::nullopt;
    const EtudeGround ground =
        ground_of(tune.timeline, tune.analysis,
                  {.bars = passage.bars, .choruses = times, .once = true, .rests_on = passage.rests_on});
    const HandMusic made = made_by({tune, ground, part, request, style});
    if (!made.line) return std::nullopt;
    Etude out;
    out.id = made.id;
    out.title = made.title;
    out.tune = name_of(tune.chart);
    out.music.push_back(
        line_on_paper(*made.line, tune, ground, part,
                      {options_.prefer, request.level, {}, made.left ? &*made.left : nullptr, made.frets}));
    out.boxes = boxes_for({{&part, *made.line}}, tune, ground, request.level, boxes_on_units(options_));
    say_whose_tempo(out);
    return out;
}

}  // namespace shedbook
