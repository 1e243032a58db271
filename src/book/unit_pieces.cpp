#include "unit_pieces.h"

#include <algorithm>
#include <array>
#include <optional>
#include <span>

#include "shedbook/base/grade.h"
#include "shedbook/notation/document_words.h"
#include "unit_bars.h"

namespace shedbook {
namespace {

constexpr std::size_t kOtherKeys = 3;
constexpr LineOfUnit kArpeggiosUp{"arpeggios-up"};
constexpr std::array<LineOfUnit, 5> kOpening{
    {kPlainGuideTones, kArpeggiosUp, {"unbroken-scale"}, {"cell"}, {"targets"}}};
// At the first level: the voices and the chords, and then a phrase.
constexpr std::array<LineOfUnit, 2> kFirstOpening{{kPlainGuideTones, kArpeggiosUp}};
// Of units so long that each of these is two systems and more.
constexpr std::array<LineOfUnit, 3> kLongOpening{{kPlainGuideTones, {"unbroken-scale"}, {"targets"}}};
// Of a blues; the riff goes on through its second line.
// From the third of I7 to the seventh of IV7, a half step.
constexpr LineOfUnit kGuideTonesOfBlues{.kind = "guide-tones", .most_level = 1, .from_third = true};
constexpr std::array<LineOfUnit, 2> kBluesAtFirst{{kGuideTonesOfBlues, kArpeggiosUp}};
constexpr std::array<LineOfUnit, 3> kBluesOpening{{kGuideTonesOfBlues, kArpeggiosUp, {"targets"}}};
constexpr std::array<LineOfUnit, 2> kShortBlues{{kGuideTonesOfBlues, {"unbroken-scale"}}};
constexpr int kLineOfBlues = 4;  // bars
constexpr int kLongUnit = 5;     // bars
constexpr std::array<LineOfUnit, 2> kShort{{kPlainGuideTones, {"unbroken-scale"}}};
constexpr LineOfUnit kComposed{"composed"};
constexpr LineOfUnit kComposedWithVersion{.kind = "composed", .has_own_version = true};
constexpr std::size_t kPhrasesOfAnOpening = 2;

bool is_long(std::pair<int, int> bars) {
    return bars.second - bars.first + 1 >= kLongUnit;
}

}  // namespace

// The pieces of a unit as they come, numbered: at its hardest place, or at one that is said.
class UnitPieces::Pile {
  public:
    Pile(UnitPieces& pieces, const PracticeUnit& unit) : pieces_{pieces}, unit_{unit} {}

    void take(std::optional<Etude> etude) {
        if (!etude) return;
        etude->number.piece = static_cast<int>(out_.size()) + 1;
        for (WrittenMusic& music : etude->music) unmark_sections(music);
        out_.push_back(*std::move(etude));
    }
    void take_at(const UnitPlace& place, std::optional<Etude> etude) {
        if (etude) etude->place = pieces_.place_of(unit_.kind, place);
        take(std::move(etude));
    }
    [[nodiscard]] std::optional<Etude> line(const LineOfUnit& each, const UnitPlace& place) {
        return pieces_.lines_.make(pieces_.tune_, each, pieces_.passage_of(unit_.kind, place));
    }
    void take_lines(std::span<const LineOfUnit> all) {
        for (const LineOfUnit& each : all) take_line(each);
    }
    void take_line(const LineOfUnit& each) { take(line(each, pieces_.drilled_place(unit_))); }
    [[nodiscard]] const PracticeUnit& unit() const { return unit_; }
    [[nodiscard]] std::vector<Etude> finish() { return std::move(out_); }

  private:
    UnitPieces& pieces_;
    const PracticeUnit& unit_;
    std::vector<Etude> out_;
};

UnitPieces::UnitPieces(const Tune& tune, const Ensemble& ensemble, const BookOptions& options,
                       Diagnostics& diagnostics)
    : tune_{tune},
      is_easy_{is_for_beginners(options)},
      is_first_level_{is_first_level(options)},
      by_{written_interval(*ensemble.parts[ensemble.written.front()].instrument, key_of(tune), {},
                           options.prefer)},
      lines_{ensemble, options, diagnostics},
      hands_{ensemble, options},
      phrases_{ensemble.parts, ensemble.written, options.etude, options.prefer, boxes_on_units(options)} {}

bool is_for_beginners(const BookOptions& options) {
    constexpr int kFirstLevels = 2;
    return options.plan == nullptr && options.etude.level <= kFirstLevels;
}

bool is_first_level(const BookOptions& options) {
    return is_for_beginners(options) && options.etude.level == 1;
}

const UnitPlace& UnitPieces::drilled_place(const PracticeUnit& unit) const {
    return is_easy_ ? *std::ranges::min_element(unit.places, {}, &UnitPlace::difficulty)
                    : unit.hardest_place();
}

// The id of the hardest of them; empty: there is none.
std::string UnitPieces::add_phrases(Pile& pile, std::size_t most) {
    std::vector<Etude> phrases =
        phrases_.make(tune_, pile.unit().kind, drilled_place(pile.unit()),
                      phrase_passage_of(pile.unit().kind, drilled_place(pile.unit())), most);
    std::string hardest = phrases.empty() ? "" : phrases.back().id;
    for (Etude& phrase : phrases) pile.take(std::move(phrase));
    return hardest;
}

// On the first two lines, I7 and IV7: behind all others, as it says where it is.
void UnitPieces::add_riff(Pile& pile, bool has_own_version) {
    const UnitPlace& place = drilled_place(pile.unit());
    const std::pair bars{place.first_bar, std::min(place.first_bar + 2 * kLineOfBlues - 1, place.last_bar)};
    std::optional<Etude> riff =
        lines_.make(tune_, {.kind = "aab", .has_own_version = has_own_version}, Passage{bars});
    if (!riff) return;
    riff->place = place_of(pile.unit().kind, place);
    const int before = first_bar_number(tune_.chart) - 1;
    riff->place->first_bar = bars.first + before;
    riff->place->last_bar = bars.second + before;
    pile.take(std::move(riff));
}

std::vector<Etude> UnitPieces::opening_of_blues(const PracticeUnit& unit) {
    Pile pile{*this, unit};
    const UnitPlace& place = drilled_place(unit);
    pile.take_lines(is_first_level_ ? std::span<const LineOfUnit>{kBluesAtFirst} : kBluesOpening);
    bool has_hands = false;
    for (const CompingStyle style : {CompingStyle::Usual, CompingStyle::Pushed}) {
        std::optional<Etude> hands = hands_.make(tune_, passage_of(unit.kind, place), style);
        has_hands = has_hands || hands.has_value();
        pile.take(std::move(hands));
    }
    // All of it on one page.
    add_riff(pile, !has_hands);
    return pile.finish();
}

std::vector<Etude> UnitPieces::opening(const PracticeUnit& unit) {
    if (unit.kind == UnitKind::BluesFrame) return opening_of_blues(unit);
    Pile pile{*this, unit};
    const UnitPlace& first = drilled_place(unit);
    const bool is_long_unit = is_long({first.first_bar, first.last_bar});
    pile.take_lines(is_first_level_ ? std::span<const LineOfUnit>{kFirstOpening}
                    : is_long_unit  ? std::span<const LineOfUnit>{kLongOpening}
                                    : kOpening);
    const std::string hardest = add_phrases(pile, is_long_unit ? 1 : kPhrasesOfAnOpening);
    // Where a line and the empty bars for another are two systems, two facing pages have room for one of
    // them.
    constexpr int kBesideEachOther = 2;  // bars
    const bool is_wide = first.last_bar - first.first_bar >= kBesideEachOther;
    // Beside each other: a line that goes through twice would not end the first time.
    if (!is_first_level_ || hardest.empty())
        pile.take_line(hardest.empty() || !is_wide ? kComposedWithVersion : kComposed);
    const std::vector<UnitPlace> others = other_keys(unit);
    for (const UnitPlace& place : others) {
        pile.take_at(place, pile.line(kPlainGuideTones, place));
        if (!is_wide) pile.take_at(place, pile.line(kArpeggiosUp, place));
        if (is_wide && &place != &others.front()) continue;
        std::optional<Etude> phrase =
            phrases_.again(tune_, unit.kind, place, phrase_passage_of(unit.kind, place), hardest);
        pile.take_at(place, phrase ? std::move(phrase) : pile.line(kComposedWithVersion, place));
    }
    take_hands(pile, unit, !others.empty());
    return pile.finish();
}

// Behind what all instruments have; behind other keys it says where it is.
void UnitPieces::take_hands(Pile& pile, const PracticeUnit& unit, bool says_where) {
    const UnitPlace& place = drilled_place(unit);
    std::optional<Etude> hands = hands_.make(tune_, passage_of(unit.kind, place));
    if (says_where) {
        pile.take_at(place, std::move(hands));
    } else {
        pile.take(std::move(hands));
    }
}

std::vector<Etude> UnitPieces::few(const PracticeUnit& unit) {
    Pile pile{*this, unit};
    if (unit.kind == UnitKind::BluesFrame) {
        pile.take_lines(kShortBlues);
        add_riff(pile, false);
        return pile.finish();
    }
    pile.take_lines(kShort);
    if (add_phrases(pile, 1).empty()) pile.take_line(kComposedWithVersion);
    take_hands(pile, unit, false);
    for (const UnitPlace& place : other_keys(unit)) pile.take_at(place, pile.line(kPlainGuideTones, place));
    return pile.finish();
}

std::vector<Etude> UnitPieces::of_kinds(const PracticeUnit& unit, const std::vector<std::string>& kinds,
                                        bool with_other_keys) {
    Pile pile{*this, unit};
    for (const std::string& kind : kinds) {
        if (is_first_level_ && (kind == "targets" || kind == kComposed.kind)) continue;
        if (kind == kPhrasesOfUnit) {
            if (add_phrases(pile, kPhrasesOfAnOpening).empty()) pile.take_line(kComposedWithVersion);
        } else if (kind == kArpeggiosElsewhere) {
            for (const UnitPlace& place : other_keys(unit))
                pile.take_at(place, pile.line(kArpeggiosUp, place));
        } else {
            pile.take_line(kind == kPlainGuideTones.kind ? kPlainGuideTones : LineOfUnit{kind});
        }
    }
    if (!with_other_keys) return pile.finish();
    for (const UnitPlace& place : other_keys(unit)) pile.take_at(place, pile.line(kPlainGuideTones, place));
    return pile.finish();
}

std::pair<int, int> UnitPieces::bars_to_play(const PracticeUnit& unit) const {
    return bars_of(unit.kind, drilled_place(unit));
}

std::pair<int, int> UnitPieces::bars_to_show(const PracticeUnit& unit) const {
    const auto [first, last] = bars_to_play(unit);
    return {first > 1 && is_followed(first - 1) ? first - 1 : first, is_followed(last) ? last + 1 : last};
}

// Of a blues its first line, where I7 goes to IV7 and back; where I7 has that line for itself, its second
// half and the first of IV7.
std::pair<int, int> UnitPieces::line_of_blues(const UnitPlace& place) const {
    const int last = std::min(place.last_bar, place.first_bar + kLineOfBlues - 1);
    const std::vector<const Reading*> chords = chords_of(place);
    bool is_one_chord = !chords.empty();
    for (int bar = place.first_bar; bar <= last; ++bar) {
        is_one_chord = is_one_chord && std::ranges::all_of(readings_in(bar), [&](const Reading* reading) {
                           return reading->symbol.root == chords.front()->symbol.root;
                       });
    }
    const int by = is_one_chord && last + kLineOfBlues / 2 <= place.last_bar ? kLineOfBlues / 2 : 0;
    return {place.first_bar + by, last + by};
}

std::pair<int, int> UnitPieces::bars_of(UnitKind kind, const UnitPlace& place) const {
    constexpr int kMostBehind = 3;
    if (kind == UnitKind::BluesFrame) return line_of_blues(place);
    // The way into it and out of it.
    if (kind == UnitKind::LoneChord)
        return {is_followed(place.first_bar - 1) ? place.first_bar - 1 : place.first_bar,
                is_followed(place.last_bar) ? place.last_bar + 1 : place.last_bar};
    const std::vector<const Reading*> chords = chords_of(place);
    const bool leads_on = !chords.empty() && chords.back()->function == Function::Dominant;
    // A turnaround may have its home in the bar behind it.
    const std::vector<const Reading*> behind = readings_in(place.last_bar + 1);
    const PitchClass home = place.key.tonic - by_;  // as it sounds
    const bool comes_home = !behind.empty() && behind.front()->symbol.root == home && !chords.empty() &&
                            chords.back()->symbol.root != home;
    if (kind == UnitKind::Turnaround && comes_home && is_followed(place.last_bar))
        return {place.first_bar, place.last_bar + 1};
    if ((kind != UnitKind::TwoFive && !leads_on) || !is_followed(place.last_bar))
        return {place.first_bar, place.last_bar};
    // What a turnaround leads back to begins something of its own.
    if (kind == UnitKind::Turnaround) return {place.first_bar, place.last_bar + 1};
    // The chord that it leads to may stand before another one that leads on: up to where that comes to rest,
    // if it soon does. Who begins has enough to do with the unit.
    for (int last = place.last_bar + 1; !is_easy_ && last <= place.last_bar + kMostBehind; ++last) {
        if (!ends_on_dominant(last)) return {place.first_bar, last};
        if (!is_followed(last)) break;
    }
    return {place.first_bar, place.last_bar + 1};
}

// Where it comes to rest: the goal of the unit, or the first chord of the bar that it is played into; what
// stands behind that begins something else.
Passage UnitPieces::passage_of(UnitKind kind, const UnitPlace& place) const {
    Passage out{bars_of(kind, place), {}};
    const std::vector<const Reading*> chords = readings_in(out.bars.second);
    const std::vector<const Reading*> own = chords_of(place);
    if (chords.size() < 2 || own.empty()) return out;
    const bool goes_on = out.bars.second > place.last_bar;
    const Reading* goal = goes_on ? chords.front() : own.back();
    if ((goes_on || goal->function != Function::Dominant) && goal != chords.back()) out.rests_on = goal->inst;
    return out;
}

// A phrase is one to its last bar: where the chords behind the unit lead on and on, it comes to rest on the
// first of them.
Passage UnitPieces::phrase_passage_of(UnitKind kind, const UnitPlace& place) const {
    Passage out = passage_of(kind, place);
    if (out.bars.second <= place.last_bar + 1) return out;
    out.bars.second = place.last_bar + 1;
    const std::vector<const Reading*> chords = readings_in(out.bars.second);
    out.rests_on = chords.size() < 2 ? std::nullopt : std::optional{chords.front()->inst};
    return out;
}

// The chords that begin in a bar, of written bars from 1.
std::vector<const Reading*> UnitPieces::readings_in(int bar) const {
    std::vector<const Reading*> out;
    for (const Reading& reading : tune_.analysis.readings) {
        const auto span = std::ranges::find(tune_.timeline.chords, reading.inst, &ChordSpan::inst);
        if (span != tune_.timeline.chords.end() && span->bar + 1 == bar) out.push_back(&reading);
    }
    return out;
}

// The last chord of a bar, of written bars from 1.
bool UnitPieces::ends_on_dominant(int bar) const {
    int inst = -1;
    for (const ChordSpan& span : tune_.timeline.chords) {
        if (span.bar + 1 <= bar) inst = std::max(inst, span.inst);
    }
    const auto reading = std::ranges::find(tune_.analysis.readings, inst, &Reading::inst);
    return reading != tune_.analysis.readings.end() && reading->function == Function::Dominant;
}

// Whether the bar that is written next, of written bars from 1, is ever played next.
bool UnitPieces::is_followed(int bar) const {
    const auto follows = [&](const PlayedBar& played, const PlayedBar& next) {
        return played.bar + 1 == bar && next.bar == bar;
    };
    return std::ranges::adjacent_find(tune_.timeline.bars, follows) != tune_.timeline.bars.end();
}

// As pages count.
UnitHead::Place UnitPieces::place_of(UnitKind kind, const UnitPlace& place) const {
    return place_with(place, bars_of(kind, place));
}

UnitHead::Place UnitPieces::place_with(const UnitPlace& place, std::pair<int, int> bars) const {
    const int before = first_bar_number(tune_.chart) - 1;
    UnitHead::Place out{place.key, bars.first + before, bars.second + before};
    out.tonic = place.key.tonic - by_;
    if (!place.name.empty()) out.named_in = place.named_in;
    if (const auto skipped = skipped_between(bars.first, bars.second))
        out.skips = std::pair{skipped->first + before, skipped->second + before};
    return out;
}

// Bars of another ending that stand between two bars which are played one after the other.
std::optional<std::pair<int, int>> UnitPieces::skipped_between(int first, int last) const {
    const std::vector<PlayedBar>& bars = tune_.timeline.bars;
    for (std::size_t end = 0; end < bars.size(); ++end) {
        if (bars[end].bar + 1 != last) continue;
        std::optional<std::pair<int, int>> out;
        std::size_t at = end;
        for (; at > 0 && bars[at].bar + 1 > first && bars[at - 1].bar < bars[at].bar; --at) {
            if (bars[at - 1].bar + 1 < bars[at].bar) out = std::pair{bars[at - 1].bar + 2, bars[at].bar};
        }
        if (bars[at].bar + 1 == first) return out;
    }
    return std::nullopt;
}

std::vector<const Reading*> UnitPieces::chords_of(const UnitPlace& place) const {
    std::vector<const Reading*> out;
    for (const Reading& reading : tune_.analysis.readings) {
        if (std::ranges::find(place.chords, reading.inst) != place.chords.end()) out.push_back(&reading);
    }
    return out;
}

UnitHead UnitPieces::head_of(const PracticeUnit& unit) const {
    const UnitPlace& drilled = drilled_place(unit);
    UnitHead out{drilled.name.empty() ? unit_name(unit.kind, drilled.key.mode) : drilled.name,
                 {place_of(unit.kind, drilled)},
                 grade_of(drilled.difficulty),
                 drilled.why,
                 std::string{to_word(unit.kind)},
                 drilled.here};
    // Where else it stands are its own bars, not those that it would be played into.
    for (const UnitPlace& place : unit.places) {
        if (&place == &drilled) continue;
        const bool is_frame = unit.kind == UnitKind::BluesFrame;
        out.places.push_back(is_frame ? place_of(unit.kind, place)
                                      : place_with(place, {place.first_bar, place.last_bar}));
    }
    return out;
}

std::vector<UnitPlace> UnitPieces::other_keys(const PracticeUnit& unit) const {
    std::vector<UnitPlace> out;
    std::vector<Key> known{drilled_place(unit).key};
    for (const UnitPlace& place : unit.places) {
        if (out.size() == kOtherKeys || std::ranges::find(known, place.key) != known.end()) continue;
        known.push_back(place.key);
        out.push_back(place);
    }
    return out;
}

}  // namespace shedbook
