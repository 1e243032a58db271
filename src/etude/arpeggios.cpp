// Chord tones through the changes. Upwards each chord rises and the next one starts lower; downwards the
// other way round; in waves the line turns at the ends of the range (common practice).
#include <algorithm>
#include <cstdlib>
#include <map>

#include "line_maker.h"
#include "lines.h"
#include "shedbook/drill/speeds.h"

namespace shedbook {
namespace {

enum class Way { Up, Down, Waves };

class ArpeggioLine : LineMaker {
  public:
    ArpeggioLine(const EtudeGround& ground, const EtudeRequest& request, PitchRange range, Way way)
        : LineMaker{ground, request, range}, way_{way}, slots_{ground, value_} {
        // A few bars of seventh chords on their roots ask for more than a ninth.
        if (request.bars && range_.high.midi() - range_.low.midi() < kOfRoots)
            range_ = middle_part(range, kOfRoots);
        // Every chord starts somewhere else in the lower (or upper) part of the range.
        const int width = range_.high.midi() - range_.low.midi();
        for (std::size_t i = 0; i < slots_.spans.size(); ++i) {
            const int from = dice_.below(std::max(1, width / 2));
            starts_.push_back(way == Way::Down ? range_.high.midi() - from : range_.low.midi() + from);
        }
    }

    ConcertLine make() {
        std::vector<int> count(slots_.spans.size());
        for (const Slot& slot : slots_.all) ++count[slot.span];
        std::vector<LinePlace> places;
        for (const Slot& slot : slots_.all) {
            const LineSpan& span = slots_.spans[slot.span];
            const SoundSet tones = tones_of(span, count[slot.span]);
            places.push_back(
                place_of(slot, choices(slot.is_last ? span.facts.ends : tones, *span.span), slots_));
        }
        refused_.resize(places.size());
        std::vector<Pitch> line;
        constexpr int kRounds = 8;
        for (int round = 0; round < kRounds; ++round) {
            line = cheapest_line(places, way_ == Way::Down ? -1 : 1,
                                 [&](const LineMove& move) { return cost(move, places[move.place]); });
            if (!refuse_repeats(line)) break;
        }
        for (std::size_t i = 0; i < line.size(); ++i)
            add_note(line_, line[i], slots_.all[i].at, slots_.all[i].length);
        return std::move(line_);
    }

  private:
    // Root, third, fifth and seventh, or all colours; and what gives the chord its name: 11, sharp 11 and 13
    // in place of the fifth where only four notes have room, an altered ninth in place of the root beside it,
    // a flat 13 in place of the fifth.
    [[nodiscard]] SoundSet tones_of(const LineSpan& span, int count) const {
        constexpr int kRoom = 4;
        SoundSet out = level_.ornament > 0 ? set_of(span.span->chord) : span.facts.tones;
        if (!span.span->symbol) return out;
        const int root = span.span->symbol->root.semitone();
        constexpr int kFlatNinth = 1;
        constexpr int kSharpNinth = 3;
        constexpr int kMinorThird = 3;
        constexpr int kMajorThird = 4;
        constexpr int kFourth = 5;
        constexpr int kSharpFourth = 6;
        constexpr int kFifth = 7;
        constexpr int kFlatSixth = 8;
        constexpr int kSixth = 9;
        SoundSet naming = 0;
        for (const int above : {kFlatNinth, kSharpNinth, kFourth, kSharpFourth, kFlatSixth, kSixth})
            naming |= sound(root + above);
        naming &= span.facts.all & ~span.facts.tones;
        // "alt" names none and means all: the flat ninth and the flat 13th leave steps to scales.
        if ((span.facts.all & ~span.facts.guide) == sound(root))
            naming |= span.altered & (sound(root + kFlatNinth) | sound(root + kFlatSixth));
        const bool has_ninth = holds(naming, root + kFlatNinth) || holds(naming, root + kSharpNinth);
        const bool leaves_root = has_ninth && !plays_roots();
        // A ninth that has the root's room leaves the fifth its own: 3 5 7 b9 has no hole.
        const SoundSet added =
            naming & ~(leaves_root ? sound(root + kFlatNinth) | sound(root + kSharpNinth) : 0);
        const bool has_fifth = holds(span.facts.all, root + kFifth) && added != 0;
        if (has_fifth && (count <= kRoom || holds(naming, root + kFlatSixth))) out &= ~sound(root + kFifth);
        // Two notes are the third and what tells the chord, where more than third and seventh do.
        constexpr int kTwo = 2;
        const SoundSet altered =
            (span.facts.tell & ~span.facts.guide) |
            (naming & (sound(root + kFlatNinth) | sound(root + kSharpNinth) | sound(root + kFlatSixth)));
        const SoundSet third = span.facts.guide & (sound(root + kMinorThird) | sound(root + kMajorThird));
        if (count <= kTwo && altered != 0 && !plays_roots())
            return (third != 0 ? third : span.facts.guide) | altered;
        // Of another chord they are the root and the third: a seventh and a root say less.
        if (count <= kTwo && third != 0 && is_first_of_passage()) return sound(root) | third;
        if (leaves_root) out &= ~sound(root);
        return out | naming;
    }

    // The same bar for the third time begins elsewhere: another inversion, or a turn. True if there is one.
    bool refuse_repeats(const std::vector<Pitch>& line) {
        constexpr int kOften = 2;
        std::map<std::vector<int>, int> times;
        bool out = false;
        for (std::size_t first = 0; first < line.size();) {
            std::vector<int> bar{line[first].midi()};
            std::size_t next = first + 1;
            for (; next < line.size() && !slots_.all[next].starts_bar; ++next)
                bar.push_back(line[next].midi());
            const bool is_on_root = plays_roots() && slots_.all[first].opens;
            if (bar.size() > 1 && ++times[bar] > kOften && !is_on_root) {
                refused_[first].push_back(line[first].midi());
                out = true;
            }
            first = next;
        }
        return out;
    }

    [[nodiscard]] MoveCost cost(const LineMove& move, const LinePlace& place) const {
        const Slot& slot = slots_.all[move.place];
        const LineSpan& span = slots_.spans[slot.span];
        const Duration since = move.place > 0 ? slots_.all[move.place - 1].length : Duration{};
        constexpr double kRefused = 9;
        const auto again = std::ranges::count(refused_[move.place], move.to.midi());
        const double rubs =
            rub(slot, span, move.to) + awkward(move, since) + kRefused * static_cast<double>(again);
        const double start = std::abs(move.to.midi() - starts_[slot.span]) / 8.0;
        if (!move.from) return {rubs + start + off_root(slot, place, move.to)};
        const int by = std::abs(move.by());
        if (by == 0) return {rubs + (slot.opens ? 5 : 20)};
        if (slot.is_last) {
            // The last chord goes on in its direction, not back to where it began.
            constexpr double kBack = 3;
            const bool goes_back = way_ != Way::Waves && (move.by() > 0) != (way_ == Way::Up);
            return {(by > 7 ? 4.0 + by : by / 4.0) + (goes_back ? kBack : 0)};
        }
        // Nobody leaps further than an octave if there is another way.
        const double far = 5.0 * std::max(0, by - 12);
        return {rubs + far +
                (way_ == Way::Waves ? wave(move, place, slot)
                                    : one_way(move, place, slot, start) + off_root(slot, place, move.to))};
    }

    // Who begins starts on roots, and who plays the bass does always. The first time through some bars all
    // do; the second time has inversions.
    [[nodiscard]] double off_root(const Slot& slot, const LinePlace& place, Pitch note) const {
        constexpr int kFirstLevels = 2;
        const bool is_on_root = request_.level <= kFirstLevels || plays_roots() || is_first_of_passage();
        const LineSpan& span = slots_.spans[slot.span];
        if (!is_on_root || request_.pass > 0 || !slot.opens || span.span->chord.empty()) return 0;
        const int root = span.span->chord.front().semitone();
        const auto is_root = [&](Pitch pitch) { return pitch.name().semitone() == root; };
        if (is_root(note)) return 0;
        // Without its root a chord begins on the third.
        const SoundSet thirds = span.facts.guide & (sound(root + 3) | sound(root + 4));
        if (std::ranges::none_of(place.choices, is_root) && holds(thirds, note.midi())) return 0;
        return plays_roots() || is_first_of_passage() ? 6 : 1.5;
    }
    [[nodiscard]] bool is_first_of_passage() const { return request_.bars && request_.pass == 0; }

    [[nodiscard]] bool plays_roots() const {
        return request_.handling.speeds != nullptr && request_.handling.speeds->is_bass;
    }

    [[nodiscard]] double wave(const LineMove& move, const LinePlace& place, const Slot& slot) const {
        const std::optional<Pitch> next = next_of(place.choices, *move.from, move.way);
        const double turn = move.turns() && next ? (slot.opens ? 2.0 : 4.0) : 0;
        if (slot.opens) return turn + std::abs(move.by()) / 4.0 + (std::abs(move.by()) > 5 ? 5 : 0);
        return next_of(place.choices, *move.from, move.by()) == move.to ? turn : 15;
    }

    // On from tone to tone; back at a change, at a bar line of the same chord, or where the range ends.
    [[nodiscard]] double one_way(const LineMove& move, const LinePlace& place, const Slot& slot,
                                 double start) const {
        const int ahead = way_ == Way::Down ? -1 : 1;
        if (move.by() * ahead > 0) {
            const bool is_next = next_of(place.choices, *move.from, ahead) == move.to;
            return is_next ? (slot.opens ? 2.5 : 0) : 15;
        }
        const double place_cost = slot.opens        ? 0
                                  : slot.starts_bar ? 1
                                  : slot.is_strong  ? (request_.bars && value_ >= kQuarter ? 14 : 2.5)
                                  : slot.on_beat    ? (request_.bars ? 14 : 6)
                                                    : 40;
        // A short way back is a turn, no new start.
        const double turn = !slot.opens && std::abs(move.by()) < 5 ? 20 : 0;
        return place_cost + turn + start;
    }

    static constexpr int kOfRoots = 22;  // half steps
    Way way_;
    LineSlots slots_;
    std::vector<int> starts_;
    std::vector<std::vector<int>> refused_;  // of each place, as key numbers
};

}  // namespace

ConcertLine arpeggios_up(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return ArpeggioLine{ground, request, range, Way::Up}.make();
}
ConcertLine arpeggios_down(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return ArpeggioLine{ground, request, range, Way::Down}.make();
}
ConcertLine arpeggio_waves(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return ArpeggioLine{ground, request, range, Way::Waves}.make();
}

}  // namespace shedbook
