#include "staff_svg.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <string_view>
#include <vector>

#include "shedbook/notation/music_text.h"
#include "staff_picture.h"
#include "svg_drawing.h"

namespace shedbook {
namespace {

// In pixels of a phone: half a staff space is a step.
constexpr double kStep = 4;
constexpr double kPhoneWidth = 352;
constexpr double kAbove = 44;  // from the top of a line to the middle of its staff, where nothing is higher
constexpr double kBelow = 30;  // and from there to the next line
constexpr double kStem = 7 * kStep;
constexpr double kHeadWidth = 9.4;  // how wide a head is
constexpr double kBeamThick = 3.6;  // how thick
constexpr double kBeamGap = 6;      // from one beam to the next
constexpr int kEighth2 = 3;         // NoteValue::log2 of an eighth

// Steps over the middle line of a treble staff, in the order of the signs; common practice, no source. Other
// clefs move them, but sharps in a tenor clef keep within the staff.
constexpr std::array<int, 7> kSharps{4, 1, 5, 2, -1, 3, 0};
constexpr std::array<int, 7> kTenorSharps{-2, 2, -1, 3, 0, 4, 1};
constexpr std::array<int, 7> kFlats{0, 3, -1, 2, -2, 1, -3};

int key_step(const Clef& clef, bool is_sharp, std::size_t which) {
    if (!is_sharp)
        return kFlats[which] + (clef.sign == 'F' ? -2 : clef.sign == 'C' ? (clef.line == 4 ? 1 : -1) : 0);
    if (clef.sign == 'C' && clef.line == 4) return kTenorSharps[which];
    return kSharps[which] + (clef.sign == 'F' ? -2 : clef.sign == 'C' ? -1 : 0);
}

const char* accidental_glyph(Accidental shown) {
    switch (shown) {
        case Accidental::DoubleFlat:
            return "ff";
        case Accidental::Flat:
            return "fl";
        case Accidental::Natural:
            return "na";
        case Accidental::Sharp:
            return "sh";
        case Accidental::DoubleSharp:
            return "ss";
        case Accidental::None:
            break;
    }
    return "";
}

struct Stem {
    double x = 0;
    double y = 0;  // where it leaves the heads
    double tip = 0;
};

// One staff of a piece, line by line.
class StaffDrawer {
  public:
    StaffDrawer(const WrittenMusic& music, StaffPicture& picture)
        : music_{music}, picture_{picture}, clefs_{music.clefs()} {}

    // From `top` on; where it ends.
    double draw(double top) {
        for (std::size_t first = 0; first < music_.measures.size();) {
            const std::size_t end = end_of_line(first);
            top = draw_line(first, end, top);
            first = end;
        }
        return top;
    }

  private:
    // --- how much room things take ---
    [[nodiscard]] double room_of(const Event& event) const {
        const double quarters = static_cast<double>(event.length) / music_.ticks_per_quarter;
        double out = kHeadWidth + 5 + std::max(0.0, 4 * std::log2(quarters * 4)) + 4 * event.value.dots;
        if (const auto* note = std::get_if<Sounded>(&event.what)) out += has_accidental(*note) ? 9 : 0;
        return out;
    }
    [[nodiscard]] bool has_accidental(const Sounded& note) const {
        return note.shown != Accidental::None ||
               std::ranges::any_of(music_.notes_below(note),
                                   [](const ChordNote& each) { return each.shown != Accidental::None; });
    }
    [[nodiscard]] double room_of(const Measure& measure) const {
        double notes = 10;
        for (const Event& event : music_.events_of(measure)) notes += room_of(event);
        double symbols = 10;
        for (const ChordMark& mark : music_.chords_of(measure))
            symbols += mark.symbol ? width_of(to_string(*mark.symbol), 13) + 8 : 0;
        return std::max(notes, symbols);
    }
    [[nodiscard]] bool has_meter(std::size_t measure) const {
        return !music_.open_key && (measure == 0 || music_.measures[measure].meter);
    }
    [[nodiscard]] double head_room(std::size_t measure) const {
        return 30 + 8.0 * std::abs(music_.key_fifths) + (has_meter(measure) ? 16 : 0);
    }
    [[nodiscard]] std::size_t end_of_line(std::size_t first) const {
        double room = head_room(first);
        std::size_t end = first;
        while (end < music_.measures.size() &&
               (end == first || room + room_of(music_.measures[end]) <= kPhoneWidth))
            room += room_of(music_.measures[end++]);
        return end;
    }

    // --- where things stand ---
    [[nodiscard]] int step_of(WrittenPitch pitch, int octave_line, std::size_t measure) const {
        return pitch.on_paper().staff_place() - 7 * octave_line - middle_line(clefs_[measure]);
    }
    [[nodiscard]] double y_of(int step) const { return middle_ - kStep * step; }

    // The highest and the lowest step of a line, the stems with them.
    [[nodiscard]] std::pair<int, int> reach(std::size_t first, std::size_t end) const {
        std::pair<int, int> out{4, -4};
        for (std::size_t m = first; m < end; ++m) {
            for (const Event& event : music_.events_of(music_.measures[m])) {
                const auto* note = std::get_if<Sounded>(&event.what);
                if (note == nullptr) continue;
                const int high = step_of(note->pitch, note->octave_line, m);
                const auto [low_place, high_place] = music_.staff_places(*note);
                const int low = high - (high_place - low_place);
                out.first = std::max({out.first, high, high + low < 0 ? low + 7 : high});
                out.second = std::min({out.second, low, high + low >= 0 ? high - 7 : low});
            }
        }
        return out;
    }

    double draw_line(std::size_t first, std::size_t end, double top) {
        const auto [highest, lowest] = reach(first, end);
        top_ = top;
        middle_ = top + kAbove + kStep * (highest - 4);
        double room = head_room(first);
        double notes = 0;
        for (std::size_t m = first; m < end; ++m) notes += room_of(music_.measures[m]);
        // The last line may end early.
        const bool is_short = end == music_.measures.size() && room + notes < 0.6 * kPhoneWidth;
        stretch_ = is_short ? 1 : (kPhoneWidth - 1 - room) / notes;
        draw_head(first);
        double x = room;
        for (std::size_t m = first; m < end; ++m) x = draw_measure(m, x);
        for (int step = -4; step <= 4; step += 2) picture_.line(0, y_of(step), x, y_of(step));
        return middle_ + kBelow - kStep * (lowest + 4);
    }

    void draw_clef(const Clef& clef, double x) {
        const int line = 2 * (clef.line - 3);
        picture_.use(clef.sign == 'G' ? "gc" : clef.sign == 'F' ? "fc" : "cc", x, y_of(line));
        if (clef.octaves != 0) picture_.word(x + 6, clef.octaves < 0 ? y_of(-8) + 3 : y_of(7), "8", 10);
    }

    void draw_head(std::size_t measure) {
        const Clef& clef = clefs_[measure];
        draw_clef(clef, 2);
        double x = 28;
        const bool is_sharp = music_.key_fifths > 0;
        const auto signs =
            music_.open_key ? 0
                            : std::min<std::size_t>(7, static_cast<std::size_t>(std::abs(music_.key_fifths)));
        for (std::size_t i = 0; i < signs; ++i, x += 8)
            picture_.use(is_sharp ? "sh" : "fl", x, y_of(key_step(clef, is_sharp, i)));
        if (!has_meter(measure)) return;
        const Meter& meter = music_.measures[measure].meter.value_or(music_.meter);
        picture_.word(x + 1, y_of(0) - 1, std::to_string(meter.beats), 19);
        picture_.word(x + 1, y_of(-4) - 1, std::to_string(meter.unit), 19);
    }

    double draw_measure(std::size_t index, double x) {
        const Measure& measure = music_.measures[index];
        const double end = x + stretch_ * room_of(measure);
        if (measure.repeat_start) draw_repeat(x, 1);
        if (measure.ending && measure.ending->starts)
            picture_.word(x + 2, middle_ - kAbove + 10, measure.ending->numbers + ".", 11);
        const auto events = music_.events_of(measure);
        std::vector<double> places;
        double at = x + 8 * stretch_;
        const double spare = (end - at) / std::max(1.0, room_of_events(measure));
        for (const Event& event : events) {
            const auto* note = std::get_if<Sounded>(&event.what);
            places.push_back(at + (note != nullptr && has_accidental(*note) ? 9 : 0));
            at += spare * room_of(event);
        }
        draw_symbols(measure, places, end);
        draw_events(index, places, x, end);
        draw_bar_line(measure, end, index + 1 == music_.measures.size());
        return end;
    }
    [[nodiscard]] double room_of_events(const Measure& measure) const {
        double out = 0;
        for (const Event& event : music_.events_of(measure)) out += room_of(event);
        return out;
    }

    // Of a moment of the measure: at its note, or on the way to the next one.
    [[nodiscard]] double place_of(Ticks at, const Measure& measure, const std::vector<double>& places,
                                  double end) const {
        const auto events = music_.events_of(measure);
        std::size_t i = 0;
        while (i + 1 < events.size() && events[i + 1].at <= at) ++i;
        if (places.empty()) return end - 20;
        const double next = i + 1 < places.size() ? places[i + 1] : end;
        const double share = static_cast<double>(at - events[i].at) /
                             static_cast<double>(std::max<Ticks>(1, events[i].length));
        return places[i] + share * (next - places[i]);
    }

    void draw_symbols(const Measure& measure, const std::vector<double>& places, double end) {
        constexpr int kSize = 14;
        double free_from = 0;
        for (const ChordMark& mark : music_.chords_of(measure)) {
            if (!mark.symbol) continue;
            const std::string text = with_signs(to_string(*mark.symbol));
            const double at = std::max(free_from, place_of(mark.at, measure, places, end));
            picture_.word(at, top_ + kSize, text, kSize);
            free_from = at + width_of(text, kSize) + 4;
        }
    }

    void draw_repeat(double x, int side) {
        picture_.box(side > 0 ? x : x - 3, y_of(4), side > 0 ? x + 3 : x, y_of(-4));
        picture_.line(x + 5 * side, y_of(4), x + 5 * side, y_of(-4));
        for (const int step : {1, -1}) picture_.dot(x + 8 * side - (side > 0 ? 0 : 2.6), y_of(step));
    }

    void draw_bar_line(const Measure& measure, double x, bool is_last) {
        if (measure.repeat_end > 0) return draw_repeat(x, -1);
        picture_.line(is_last ? x - 5 : x, y_of(4), is_last ? x - 5 : x, y_of(-4));
        if (is_last) picture_.box(x - 3, y_of(4), x, y_of(-4));
        if (!is_last && measure.right == Barline::Double) picture_.line(x - 3, y_of(4), x - 3, y_of(-4));
    }

    // --- notes and rests ---
    void draw_events(std::size_t measure, const std::vector<double>& places, double x, double end) {
        const auto events = music_.events_of(music_.measures[measure]);
        std::vector<std::size_t> beam;
        for (std::size_t i = 0; i < events.size(); ++i) {
            const Event& event = events[i];
            const double next = i + 1 < events.size() ? places[i + 1] : end;
            if (const auto* rest = std::get_if<Rest>(&event.what)) draw_rest(event, *rest, places[i], x, end);
            if (std::holds_alternative<Slash>(event.what)) {
                for (const double thick : {0.0, 0.8, 1.6})
                    picture_.line(places[i] + thick, y_of(-2), places[i] + 8 + thick, y_of(2));
            }
            if (const auto* note = std::get_if<Sounded>(&event.what))
                draw_heads(event, *note, measure, places[i], next);
            if (event.beams[0] == Beam::Begin) beam.clear();
            beam.push_back(i);
            if (event.beams[0] == Beam::End) draw_beamed(measure, beam, places);
            if (event.beams[0] == Beam::None) draw_stem(measure, i, places[i]);
            if (event.tuplet.stops)
                picture_.word(places[i] - 4, y_of(4) - 14, std::to_string(event.tuplet.actual), 10);
        }
    }

    void draw_rest(const Event& event, const Rest& rest, double at, double x, double end) {
        if (rest.hidden) return;
        if (rest.whole_bar || event.value.log2 == 0) {
            const double middle = rest.whole_bar ? (x + end) / 2 - 5 : at;
            return picture_.box(middle, y_of(2), middle + 10, y_of(1));
        }
        if (event.value.log2 == 1) return picture_.box(at, y_of(1), at + 10, y_of(0));
        picture_.use(event.value.log2 == 2 ? "r4" : event.value.log2 == kEighth2 ? "r8" : "r16", at, y_of(0));
        for (int dot = 0; dot < event.value.dots; ++dot) picture_.dot(at + 11 + 4 * dot, y_of(1));
    }

    void draw_head(const Event& event, int step, Accidental shown, double x) {
        for (int ledger = 6; ledger <= step; ledger += 2)
            picture_.line(x - 2.5, y_of(ledger), x + kHeadWidth + 2.5, y_of(ledger));
        for (int ledger = -6; ledger >= step; ledger -= 2)
            picture_.line(x - 2.5, y_of(ledger), x + kHeadWidth + 2.5, y_of(ledger));
        picture_.use(event.value.log2 == 0 ? "h1" : event.value.log2 == 1 ? "h2" : "h4", x, y_of(step));
        if (shown != Accidental::None) picture_.use(accidental_glyph(shown), x - 9, y_of(step));
        for (int dot = 0; dot < event.value.dots; ++dot)
            picture_.dot(x + kHeadWidth + 3 + 4 * dot, y_of(step % 2 == 0 ? step + 1 : step));
    }

    void draw_heads(const Event& event, const Sounded& note, std::size_t measure, double x, double next) {
        const int high = step_of(note.pitch, note.octave_line, measure);
        draw_head(event, high, note.shown, x);
        for (const ChordNote& other : music_.notes_below(note))
            draw_head(event, step_of(other.pitch, note.octave_line, measure), other.shown, x);
        const double bend = high >= 0 ? -7 : 7;
        if (note.tied_on) picture_.tie(x + kHeadWidth, next - 1, y_of(high) + bend * 0.8, bend);
        const double over = std::min(y_of(4), y_of(high)) - 6;
        if (note.octave_line_starts) picture_.word(x, over - 8, note.octave_line > 0 ? "8va" : "8vb", 11);
        if (note.octave_line_stops) picture_.word(x + 8, over - 8, "loco", 10);
        const double away = high >= 0 ? y_of(high) - 7 : y_of(high) + 7;
        if (note.articulation == Articulation::Staccato) picture_.dot(x + 3, away);
        if (note.articulation == Articulation::Tenuto) picture_.line(x + 1, away, x + 8, away);
        if (note.articulation == Articulation::Accent) {
            picture_.line(x, away - 3, x + 8, away);
            picture_.line(x + 8, away, x, away + 3);
        }
    }

    // The steps of an event's outer heads, from below.
    [[nodiscard]] std::pair<int, int> outer_steps(const Sounded& note, std::size_t measure) const {
        const int high = step_of(note.pitch, note.octave_line, measure);
        const auto [low_place, high_place] = music_.staff_places(note);
        return {high - (high_place - low_place), high};
    }

    Stem stem_at(double x, std::pair<int, int> steps, bool is_up) const {
        Stem out{is_up ? x + kHeadWidth - 0.5 : x + 0.5, y_of(is_up ? steps.first : steps.second), 0};
        const double far = y_of(is_up ? steps.second : steps.first);
        out.tip = is_up ? std::min(far - kStem, y_of(0)) : std::max(far + kStem, y_of(0));
        return out;
    }

    void draw_stem(std::size_t measure, std::size_t which, double x) {
        const Event& event = music_.events_of(music_.measures[measure])[which];
        const auto* note = std::get_if<Sounded>(&event.what);
        if (note == nullptr || event.value.log2 == 0) return;
        const auto steps = outer_steps(*note, measure);
        const bool is_up = steps.first + steps.second < 0;
        const Stem stem = stem_at(x, steps, is_up);
        picture_.line(stem.x, stem.y, stem.x, stem.tip);
        if (event.value.log2 >= kEighth2) {
            const bool is_eighth = event.value.log2 == kEighth2;
            picture_.use(is_up ? (is_eighth ? "u8" : "u16") : (is_eighth ? "d8" : "d16"), stem.x - 0.4,
                         stem.tip);
        }
    }

    // Level beams: where the stems would end that reach farthest.
    void draw_beamed(std::size_t measure, const std::vector<std::size_t>& group,
                     const std::vector<double>& places) {
        const auto events = music_.events_of(music_.measures[measure]);
        int sum = 0;
        for (const std::size_t i : group) {
            if (const auto* note = std::get_if<Sounded>(&events[i].what)) {
                const auto steps = outer_steps(*note, measure);
                sum += steps.first + steps.second;
            }
        }
        const bool is_up = sum < 0;
        std::vector<Stem> stems;
        double tip = is_up ? 1e6 : -1e6;
        for (const std::size_t i : group) {
            const auto* note = std::get_if<Sounded>(&events[i].what);
            const std::pair<int, int> steps = note != nullptr ? outer_steps(*note, measure) : std::pair{0, 0};
            stems.push_back(stem_at(places[i], steps, is_up));
            if (note == nullptr) stems.back().y = stems.back().tip;
            tip = is_up ? std::min(tip, stems.back().tip) : std::max(tip, stems.back().tip);
        }
        const double inward = is_up ? 1 : -1;
        for (std::size_t k = 0; k < group.size(); ++k) {
            if (std::holds_alternative<Sounded>(events[group[k]].what))
                picture_.line(stems[k].x, stems[k].y, stems[k].x, tip);
            for (std::size_t level = 0; level < kBeamLevels; ++level) {
                const Beam beam = events[group[k]].beams[level];
                const double y = tip + inward * kBeamGap * static_cast<double>(level);
                const auto draw = [&](double x1, double x2) {
                    picture_.box(x1 - 0.5, y, x2 + 0.5, y + inward * kBeamThick);
                };
                if ((beam == Beam::Begin || beam == Beam::Continue) && k + 1 < group.size())
                    draw(stems[k].x, stems[k + 1].x);
                if (beam == Beam::ForwardHook) draw(stems[k].x, stems[k].x + 7);
                if (beam == Beam::BackwardHook) draw(stems[k].x - 7, stems[k].x);
            }
        }
    }

    const WrittenMusic& music_;
    StaffPicture& picture_;
    std::vector<Clef> clefs_;
    double middle_ = 0;
    double top_ = 0;  // of the line at hand, where chord symbols stand
    double stretch_ = 1;
};

}  // namespace

std::string staff_svg(const WrittenMusic& music, const std::string& name) {
    StaffPicture picture{kPhoneWidth};
    double end = StaffDrawer{music, picture}.draw(0);
    for (const WrittenMusic& lower : music.lower) end = StaffDrawer{lower, picture}.draw(end);
    return picture.finished(end, name);
}

}  // namespace shedbook
