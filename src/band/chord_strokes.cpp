#include "chord_strokes.h"

#include <algorithm>
#include <deque>
#include <map>
#include <optional>
#include <set>
#include <tuple>

#include "dealt.h"
#include "figures.h"
#include "pushes.h"

namespace shedbook {
namespace {

constexpr int kBarsInPhrase = 4;
// What speaks for and against a figure: the dealt one is taken unless the line does much that does not go
// with it. Common practice, no source.
constexpr int kDealt = -6;
constexpr int kOffDensity = 4;  // for each stroke too many or too few
constexpr int kTooMany = 9;     // for each too many under a busy line
constexpr int kWithNote = 4;    // for each stroke under the beginning of a note of a busy line
constexpr int kIntoRest = -4;   // for each stroke in a rest of a line that has some
constexpr int kBesideRest = 3;  // for each that is not
constexpr int kPassedOver = 5;  // for each chord that would have to be struck on its beat all the same
constexpr int kMostChance = 5;
// A rhythm that was heard so often in eight bars is worn.
constexpr std::size_t kEarshotBars = 8;
constexpr std::ptrdiff_t kMostHeard = 2;
constexpr int kWorn = 60;
constexpr std::int64_t kBusyNotes = 6;  // in a bar of four quarters

// What the line does in a part of a bar.
struct Heard {
    std::vector<Position> begin;  // of its notes
    bool is_busy = false;
    bool is_there = false;  // a line at all
};

// Where a stroke of a figure is struck. In the last eighth of a chord it is the next one's, early; but in a
// dance nobody comes early by himself, and it is struck with that chord. Common practice, no source.
Position struck_at(const RhythmSection& band, Position at) {
    const auto chord = chord_number_at(band.chords, at);
    if (!chord || has_walking_bass(band.style)) return at;
    const BandChord& now = band.chords[*chord];
    const Position end = now.at + now.length;
    const bool is_early = end - at <= kEighth && at > now.at;
    return is_early && chord_number_at(band.chords, end) == *chord + 1 ? end : at;
}

class ChordFigures {
  public:
    ChordFigures(const RhythmSection& band, const std::vector<Push>& pushes)
        : band_{band}, pushes_{pushes}, chance_{band.seed * 40503U + 5U} {}

    const std::vector<Stroke>& choose(const FormPlace& place, const BarPart& part, Position from) {
        const std::vector<BandFigure>& figures = chord_figures(band_.style, part);
        static const std::vector<Stroke> kOnce{{{}, kQuarter, 'x'}};
        if (figures.empty()) return kOnce;
        const std::size_t dealt = of_phrase(place, part, figures);
        const Heard heard = listen(from, part.length);
        const int full = chorus_of(band_, place).full;
        std::size_t best = dealt;
        int least = 0;
        for (std::size_t i = 0; i < figures.size(); ++i) {
            const int cost = (i == dealt ? kDealt : chance_.below(kMostChance)) +
                             worn_cost(part, rhythm_of(figures[i].strokes, from, part.length)) +
                             cost_of(figures[i].strokes, full, heard, from, part.length) +
                             kPassedOver * passed_over(figures[i].strokes, from, part.length);
            if (i == 0 || cost < least) {
                least = cost;
                best = i;
            }
        }
        remember(part, rhythm_of(figures[best].strokes, from, part.length));
        if (!figures[best].strokes.empty()) last_ = struck_at(band_, from + figures[best].strokes.back().at);
        return figures[best].strokes;
    }

  private:
    using Key = std::pair<Duration, bool>;

    using Rhythm = std::vector<Duration>;

    // What will be heard of a figure: a chord that came early is not struck again, one that the figure passes
    // over is struck all the same, and a push of the band's own has room around it.
    [[nodiscard]] Rhythm rhythm_of(const std::vector<Stroke>& strokes, Position from, Duration length) const {
        std::set<Duration> out;
        for (const Stroke& stroke : strokes) out.insert(struck_at(band_, from + stroke.at) - from);
        const auto chord = std::ranges::lower_bound(band_.chords, from, {}, &BandChord::at);
        const bool begins = chord != band_.chords.end() && chord->at == from;
        const bool came_early = begins && last_ && *last_ < from && from - *last_ <= kEighth;
        if (came_early) out.erase(Duration{});
        if (begins && last_ == from) out.insert(Duration{});
        for (auto each = chord; each != band_.chords.end() && each->at < from + length; ++each) {
            const bool is_heard = each->at == from && came_early;
            if (!is_heard && is_passed_over(*each, strokes, from)) out.insert(each->at - from);
        }
        for (const Push& push : pushes_) {
            if (push.is_written || push.at < from - kEighth || push.at >= from + length) continue;
            std::erase_if(out, [&](Duration at) {
                return push.at - kEighth <= from + at && from + at <= push.at + kEighth;
            });
            if (push.at >= from) out.insert(push.at - from);
        }
        std::erase_if(out, [&](Duration at) { return at >= length; });
        return {out.begin(), out.end()};
    }

    [[nodiscard]] int worn_cost(const BarPart& part, const Rhythm& rhythm) {
        const auto times = std::ranges::count(heard_[{part.length, part.at}], rhythm);
        if (rhythm.empty() || times < kMostHeard) return 0;
        return times == kMostHeard ? kWorn / 10 : kWorn;
    }

    void remember(const BarPart& part, Rhythm rhythm) {
        std::deque<Rhythm>& heard = heard_[{part.length, part.at}];
        heard.push_back(std::move(rhythm));
        if (heard.size() >= kEarshotBars) heard.pop_front();
    }

    // A phrase of four bars goes A B A C.
    std::size_t of_phrase(const FormPlace& place, const BarPart& part,
                          const std::vector<BandFigure>& figures) {
        const Key key{part.length, part.in_threes};
        const auto bar = static_cast<int>(place.bar) % kBarsInPhrase;
        const auto phrase = std::tuple{key, part.at, place.section, place.bar / kBarsInPhrase};
        if (bar == 2) {
            const auto first = phrases_.find(phrase);
            if (first != phrases_.end()) return first->second;
        }
        const std::size_t out = deal(key, figures);
        if (bar == 0) phrases_[phrase] = out;
        return out;
    }

    std::size_t deal(const Key& key, const std::vector<BandFigure>& figures) {
        const auto found = packs_.find(key);
        if (found != packs_.end()) return found->second.deal();
        std::vector<std::pair<std::size_t, int>> kinds;
        for (std::size_t i = 0; i < figures.size(); ++i) kinds.emplace_back(i, figures[i].share);
        return packs_.emplace(key, Pack<std::size_t>{std::move(kinds), chance_}).first->second.deal();
    }

    [[nodiscard]] Heard listen(Position from, Duration length) const {
        Heard out;
        out.is_there = !band_.line.empty();
        auto note = std::ranges::lower_bound(band_.line, from, {}, &BandNote::at);
        for (; note != band_.line.end() && note->at < from + length; ++note) {
            if (out.begin.empty() || out.begin.back() != note->at) out.begin.push_back(note->at);
        }
        const Rational allowed = Rational{kBusyNotes} * (length / kWhole);
        out.is_busy = allowed <= Rational{static_cast<std::int64_t>(out.begin.size())};
        return out;
    }

    // Whether the line is silent here, in a rest of a quarter and more.
    [[nodiscard]] bool is_rest(Position at) const {
        const auto after = std::ranges::upper_bound(band_.line, at, {}, &BandNote::at);
        if (after == band_.line.begin()) return true;
        const BandNote& last = *(after - 1);
        const Position silent = last.at + last.length;
        return silent <= at && (after == band_.line.end() || after->at - silent >= kQuarter);
    }

    // Whether a chord that begins here is not struck, nor an eighth early.
    [[nodiscard]] static bool is_passed_over(const BandChord& chord, const std::vector<Stroke>& strokes,
                                             Position from) {
        return std::ranges::none_of(strokes, [&](const Stroke& stroke) {
            const Position at = from + stroke.at;
            return chord.at - kEighth <= at && at < chord.at + chord.length - kEighth;
        });
    }

    [[nodiscard]] int passed_over(const std::vector<Stroke>& strokes, Position from, Duration length) const {
        int out = 0;
        for (auto chord = std::ranges::lower_bound(band_.chords, from, {}, &BandChord::at);
             chord != band_.chords.end() && chord->at < from + length; ++chord)
            out += is_passed_over(*chord, strokes, from) ? 1 : 0;
        return out;
    }

    [[nodiscard]] int cost_of(const std::vector<Stroke>& strokes, int full, const Heard& heard, Position from,
                              Duration length) const {
        const Rational bars = length / kWhole;
        // Two strokes in a bar of four quarters at first, one more in a full chorus; one under many notes. A
        // dance has two of them at least.
        const int least = has_walking_bass(band_.style) ? 1 : 2;
        const int wanted = heard.is_busy ? 1 : std::max(least, full + (heard.is_there ? 1 : 0));
        const Rational off = Rational{static_cast<std::int64_t>(strokes.size())} - Rational{wanted} * bars;
        const auto strokes_off = static_cast<int>((off + Rational{1, 2}).floor());
        const int each = heard.is_busy && strokes_off > 0 ? kTooMany : kOffDensity;
        int out = each * std::abs(strokes_off);
        if (!heard.is_there) return out;
        bool has_rest = false;
        for (Duration at; at < length; at += kQuarter) has_rest |= is_rest(from + at);
        for (const Stroke& stroke : strokes) {
            const Position at = from + stroke.at;
            if (heard.is_busy && std::ranges::find(heard.begin, at) != heard.begin.end()) out += kWithNote;
            if (has_rest) out += is_rest(at) ? kIntoRest : kBesideRest;
        }
        return out;
    }

    const RhythmSection& band_;
    const std::vector<Push>& pushes_;
    Chance chance_;
    std::map<Key, Pack<std::size_t>> packs_;
    std::optional<Position> last_;  // the last stroke so far
    std::map<std::tuple<Key, Duration, std::size_t, std::size_t>, std::size_t> phrases_;
    std::map<std::pair<Duration, Duration>, std::deque<Rhythm>> heard_;  // of late, by the part of the bar
};

class Striking {
  public:
    Striking(const RhythmSection& band, const std::vector<FormPlace>& places)
        : band_{band}, places_{places}, pushes_{pushes(band, places)}, figures_{band, pushes_} {}

    std::vector<CompingStroke> make() {
        for (std::size_t i = 0; i < band_.bars.size(); ++i) strike_bar(i);
        strike_chords_passed_over();
        drop_tied();
        strike_pushes();
        set_lengths();
        return std::move(out_);
    }

  private:
    void strike_bar(std::size_t which) {
        const BandBar& bar = band_.bars[which];
        const Duration missing = std::max(Duration{}, bar.meter.bar_length() - bar.length);
        for (const BarPart& part : parts_of(bar.meter)) {
            const Position from = bar.at + (part.at - missing);
            for (const Stroke& stroke : figures_.choose(places_[which], part, from)) {
                const Position at = from + stroke.at;
                if (at >= bar.at && at < bar.at + bar.length) strike(struck_at(band_, at), stroke);
            }
        }
    }

    void strike(Position at, const Stroke& stroke) {
        const auto chord = chord_number_at(band_.chords, at);
        if (!chord) return;
        CompingStroke out{at, stroke.length, *chord, stroke.sign == 'X' ? Touch::Weight : Touch::Plain};
        if (is_line_running(at)) out.touch = Touch::Soft;
        // An eighth before a change it is the next chord's, that comes early.
        const BandChord& now = band_.chords[*chord];
        const bool is_last = now.at + now.length - at <= kEighth && at > now.at;
        if (is_last && chord_number_at(band_.chords, now.at + now.length) == *chord + 1) {
            out.chord = *chord + 1;
            out.length = std::max(kQuarter, stroke.length);
        } else if (stroke.sign == '>') {
            out.length = kQuarter;
        }
        out_.push_back(out);
    }

    // Three notes of the line around a stroke: it keeps below them.
    [[nodiscard]] bool is_line_running(Position at) const {
        constexpr std::ptrdiff_t kRunning = 3;
        const auto from = std::ranges::lower_bound(band_.line, at - kEighth, {}, &BandNote::at);
        const auto to = std::ranges::lower_bound(band_.line, at + kEighth * Rational{3}, {}, &BandNote::at);
        return to - from >= kRunning;
    }

    void strike_chords_passed_over() {
        std::vector<bool> heard(band_.chords.size());
        for (const CompingStroke& stroke : out_) heard[stroke.chord] = true;
        for (std::size_t i = 0; i < band_.chords.size(); ++i) {
            const BandChord& chord = band_.chords[i];
            // Before the first bar is a pickup, and nobody plays yet.
            const bool is_pickup = band_.bars.empty() || chord.at < band_.bars.front().at;
            if (!heard[i] && !is_pickup && chord.symbol && chord.length > Duration{})
                out_.push_back({chord.at, std::min(chord.length, kQuarter), i,
                                is_line_running(chord.at) ? Touch::Soft : Touch::Plain});
        }
        std::ranges::stable_sort(out_, {}, &CompingStroke::at);
    }

    // What came early is not struck again on the change itself, and rings as long as that would.
    void drop_tied() {
        std::vector<CompingStroke> kept;
        for (const CompingStroke& stroke : out_) {
            if (!kept.empty() && kept.back().at == stroke.at) continue;
            const bool is_tied = !kept.empty() && kept.back().chord == stroke.chord &&
                                 stroke.at - kept.back().at <= kEighth &&
                                 kept.back().at < band_.chords[stroke.chord].at;
            if (!is_tied) {
                kept.push_back(stroke);
                continue;
            }
            CompingStroke& early = kept.back();
            early.length = std::max(early.length, stroke.at + stroke.length - early.at);
        }
        out_ = std::move(kept);
    }

    // Nothing stands in the way of a push: not just before it, nor on the beat that it takes the place of.
    void strike_pushes() {
        for (const Push& push : pushes_) {
            Duration length = kQuarter;
            std::map<std::size_t, int> times;
            for (const CompingStroke& stroke : out_) ++times[stroke.chord];
            std::erase_if(out_, [&](const CompingStroke& stroke) {
                const bool is_near = push.at - kEighth <= stroke.at && stroke.at <= push.at + kEighth;
                if (is_near && stroke.chord == push.chord)
                    length = std::max(length, stroke.at + stroke.length - push.at);
                return is_near && (stroke.chord == push.chord || times[stroke.chord] > 1);
            });
            const Touch plain = is_line_running(push.at) ? Touch::Soft : Touch::Plain;
            const auto after = std::ranges::upper_bound(out_, push.at, {}, &CompingStroke::at);
            out_.insert(after, {push.at, length, push.chord, push.is_written ? Touch::Weight : plain});
        }
    }

    void set_lengths() {
        for (std::size_t i = 0; i < out_.size(); ++i) {
            CompingStroke& stroke = out_[i];
            const BandChord& chord = band_.chords[stroke.chord];
            Position end = std::min(stroke.at + stroke.length, chord.at + chord.length);
            if (i + 1 < out_.size()) end = std::min(end, out_[i + 1].at);
            stroke.length = end - stroke.at;
        }
    }

    const RhythmSection& band_;
    const std::vector<FormPlace>& places_;
    std::vector<Push> pushes_;
    ChordFigures figures_;
    std::vector<CompingStroke> out_;
};

}  // namespace

std::vector<CompingStroke> chord_strokes(const RhythmSection& band, const std::vector<FormPlace>& places) {
    return Striking{band, places}.make();
}

}  // namespace shedbook
