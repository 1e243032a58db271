// A riff, the riff again over the next line's chords, and a line that comes home: the AAB of a blues.
#include <algorithm>
#include <cstdlib>
#include <utility>

#include "chord_facts.h"
#include "levels.h"
#include "line_search.h"
#include "line_tools.h"
#include "lines.h"
#include "note_values.h"
#include "riff.h"
#include "shedbook/etude/spelling.h"

namespace shedbook {
namespace {

constexpr std::size_t kBarsOfPhrase = 4;
constexpr std::size_t kBarsOfCall = 2;
constexpr std::size_t kBarsOfBlues = 12;  // bars of a form
constexpr std::size_t kLongestForm = 16;  // what is longer, and has no sections, is cut so
constexpr int kFirstVaried = 3;           // from this level on the way home has two rhythms

// A place for a note in the tune: what it would be over the tonic, and the chord under it.
struct RiffPlace {
    Position at;
    Duration length;
    const ScaleSpan* span = nullptr;
    ChordFacts facts;
    std::optional<ChordFacts> into = {};  // of another chord that it is held into
    Pitch wanted;
    bool is_strong = false;   // where a chord tone is wanted: the halves of a bar, and what lasts a beat
    bool is_last = false;     // of the call, or of the answer
    bool comes_home = false;  // the last of an answer, or of the line home
    bool leads_in = false;    // short, and a step from the next
};

bool is_in_scale(const RiffPlace& place, int midi) {
    return scale_name(*place.span, midi).has_value();
}

int direction(int by) {
    return by > 0 ? 1 : by < 0 ? -1 : 0;
}

class RiffComposer {
  public:
    RiffComposer(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : ground_{ground}, request_{request}, range_{range_at(etude_level(request), range)} {
        line_.length = ground.length;
    }

    ConcertLine compose() {
        const std::vector<const Riff*> known =
            riffs_for({is_minor(ground_.home.mode), is_straight(), request_.level});
        const std::size_t bars = bars_of_chorus(ground_);
        for (int chorus = 0; chorus < ground_.choruses; ++chorus) {
            const std::uint64_t turn = request_.seed + static_cast<std::uint64_t>(chorus);
            choose(*known[turn % known.size()]);
            turn_ = static_cast<int>(turn / known.size() % 3);
            const std::size_t first = static_cast<std::size_t>(chorus) * bars;
            for (const auto& [from, to] : forms(first, first + bars)) add_form(from, to);
        }
        if (!request_.bars) add_last_note();
        return std::move(line_);
    }

  private:
    // Triplets are for swing in quarters, where there is time for them.
    [[nodiscard]] bool is_straight() const {
        constexpr Duration kTriplet{Rational{1, 12}};
        const bool is_fast =
            playable(kTriplet, quarters_a_minute(request_, ground_), request_.level) > kTriplet;
        const EtudeStyle style = request_.style.value_or(style_of("", ground_));
        const bool has_other_beats =
            std::ranges::any_of(ground_.bars, [](const GroundBar& bar) { return bar.meter.unit != 4; });
        return request_.feel == EtudeFeel::Straight || style == EtudeStyle::Latin || has_other_beats ||
               is_fast;
    }

    // Twelve bars each where the tune divides so, else its sections.
    [[nodiscard]] std::vector<std::pair<std::size_t, std::size_t>> forms(std::size_t first,
                                                                         std::size_t last) const {
        std::vector<std::pair<std::size_t, std::size_t>> out;
        const bool is_blues = (last - first) % kBarsOfBlues == 0;
        const std::size_t longest = is_blues ? kBarsOfBlues : kLongestForm;
        for (std::size_t bar = first; bar < last; ++bar) {
            const bool is_new =
                out.empty() || bar - out.back().first == longest || (!is_blues && ground_.bars[bar].section);
            if (is_new) out.emplace_back(bar, bar);
            out.back().second = bar + 1;
        }
        return out;
    }

    // The riff over the tonic, in the octave in which its middle lies nearest that of the range.
    void choose(const Riff& riff) {
        call_ = over_tonic(riff.call, ground_);
        answer_ = over_tonic(riff.answer, ground_);
        const auto is_lower = [](const RiffNote& a, const RiffNote& b) {
            return a.pitch.midi() < b.pitch.midi();
        };
        std::vector<RiffNote> all = call_;
        all.insert(all.end(), answer_.begin(), answer_.end());
        const auto [low, high] = std::minmax_element(all.begin(), all.end(), is_lower);
        const int twice_middle = low->pitch.midi() + high->pitch.midi();
        const int off = range_.low.midi() + range_.high.midi() - twice_middle;
        const int octaves = (off + (off < 0 ? -12 : 12)) / 24;
        for (std::vector<RiffNote>* notes : {&call_, &answer_}) {
            for (RiffNote& note : *notes) note.pitch = note.pitch + octaves * kOctave;
        }
        low_ = low->pitch.midi() + 12 * octaves;
        high_ = high->pitch.midi() + 12 * octaves;
    }

    // Phrases of four bars: the riff on all but the last one, which comes home. Some bars of a tune are the
    // riff alone.
    void add_form(std::size_t first, std::size_t last) {
        bool is_again = false;
        for (std::size_t bar = first; bar < last;) {
            // What is left of less than half a phrase belongs to the one before it.
            std::size_t end = std::min(bar + kBarsOfPhrase, last);
            if (last - end < kBarsOfCall) end = last;
            if (end == last && is_again && !request_.bars) {
                add_line_home(bar, end);
            } else {
                explain(line_, request_.explain, ground_.bars[bar].at, is_again ? "riff again" : "riff");
                add_half(call_, bar, std::min(bar + kBarsOfCall, end), end - bar <= kBarsOfCall);
                if (bar + kBarsOfCall < end) {
                    explain(line_, request_.explain, ground_.bars[bar + kBarsOfCall].at, "answer");
                    add_half(answer_, bar + kBarsOfCall, end, true);
                }
            }
            is_again = true;
            bar = end;
        }
    }

    // A place in a bar, if the bar has it and a chord sounds there.
    [[nodiscard]] std::optional<RiffPlace> place_in(const GroundBar& bar, Duration in_bar,
                                                    Duration length) const {
        if (in_bar >= bar.length) return std::nullopt;
        RiffPlace out;
        out.at = bar.at + in_bar;
        const Position end = std::min(out.at + length, bar.at + bar.length);
        out.span = &span_at(ground_, out.at);
        if (out.span->notes.empty()) return std::nullopt;
        out.length = end - out.at;
        if (out.span->symbol) out.facts = facts_of(*out.span->symbol);
        const ScaleSpan& into = span_at(ground_, end - kEighth);
        if (&into != out.span && into.symbol && end - kEighth >= out.at) out.into = facts_of(*into.symbol);
        out.is_strong = (in_bar / kHalf).is_whole() || out.length >= kQuarter;
        return out;
    }

    void add_half(const std::vector<RiffNote>& notes, std::size_t first, std::size_t end, bool comes_home) {
        std::vector<RiffPlace> places;
        for (std::size_t i = 0; i < notes.size(); ++i) {
            const RiffNote& note = notes[i];
            if (first + note.bar >= end) continue;
            auto place = place_in(ground_.bars[first + note.bar], note.in_bar, note.length);
            if (!place) continue;
            place->wanted = note.pitch;
            const int to_next =
                i + 1 < notes.size() ? std::abs(notes[i + 1].pitch.midi() - note.pitch.midi()) : 0;
            place->leads_in = note.length < kQuarter && (to_next == 1 || to_next == 2);
            places.push_back(std::move(*place));
        }
        if (places.empty()) return;
        places.back().is_last = true;
        places.back().comes_home = comes_home;
        set(places);
    }

    // As little changed as can be: the same rhythm, the same ups and downs, in the scales of the chords.
    void set(const std::vector<RiffPlace>& places) {
        std::vector<LinePlace> rows;
        for (std::size_t i = 0; i < places.size(); ++i) {
            LinePlace& row = rows.emplace_back(row_of(places, i, choices_of(places[i])));
            // What tells the chord, if the riff lets it.
            std::swap(row.tell, row.colour);
        }
        add(places, cheapest_line(rows, 1, [&](const LineMove& move) {
                return MoveCost{changed(places, move) + unsuited(places[move.place], move.to)};
            }));
    }

    static LinePlace row_of(const std::vector<RiffPlace>& places, std::size_t i, std::vector<Pitch> choices) {
        const bool opens = i == 0 || places[i].span != places[i - 1].span;
        const bool closes = i + 1 == places.size() || places[i].span != places[i + 1].span;
        // One note cannot tell and come home.
        const SoundSet tell = opens && closes ? 0 : places[i].facts.tell;
        return {std::move(choices), tell, opens, closes};
    }

    [[nodiscard]] std::vector<Pitch> choices_of(const RiffPlace& place) const {
        constexpr int kFarthest = 5;  // half steps
        constexpr int kFarthestHome = 12;
        std::vector<PitchClass> names = place.span->notes;
        names.insert(names.end(), place.span->chord.begin(), place.span->chord.end());
        std::vector<Pitch> out = in_range(names, range_);
        // A blue note, or one that leads in, may stay outside the scale.
        for (const int by : {-1, 0, 1}) {
            const int midi = place.wanted.midi() + by;
            // On a strong beat only where the riff has it there itself.
            if (!place.leads_in || (by != 0 && place.is_strong) || is_in_scale(place, midi)) continue;
            const Pitch pitch = by == 0 ? place.wanted : pitch_of(simplest_name(midi % 12), midi);
            if (range_.holds(pitch)) out.push_back(pitch);
        }
        std::vector<Pitch> near;
        std::ranges::copy_if(out, std::back_inserter(near), [&](Pitch pitch) {
            return std::abs(pitch.midi() - place.wanted.midi()) <=
                   (place.comes_home ? kFarthestHome : kFarthest);
        });
        return near.empty() ? out : near;
    }

    // How far a note is from the riff's own.
    static double changed(const std::vector<RiffPlace>& places, const LineMove& move) {
        constexpr double kOtherWay = 60;
        constexpr double kOtherWayOverRest = 3;
        constexpr double kStranded = 30;
        const RiffPlace& place = places[move.place];
        double out = 2 * std::abs(move.to.midi() - place.wanted.midi());
        if (!move.from) return out;
        const RiffPlace& before = places[move.place - 1];
        const int own = place.wanted.midi() - before.wanted.midi();
        const bool is_over_rest = before.at + before.length < place.at;
        if (direction(own) != direction(move.by())) out += is_over_rest ? kOtherWayOverRest : kOtherWay;
        out += 0.5 * std::abs(move.by() - own) + 0.1 * std::abs(move.by());
        const bool steps = std::abs(move.by()) == 1 || std::abs(move.by()) == 2;
        if (!is_in_scale(before, move.from->midi()) && !steps) out += kStranded;
        return out;
    }

    // How ill it suits its chord.
    static double unsuited(const RiffPlace& place, Pitch pitch) {
        constexpr double kOutside = 0.5;
        constexpr double kColour = 3;
        constexpr double kRub = 14;
        constexpr double kNoEnd = 80;
        constexpr double kTelling = 0.5;
        const int midi = pitch.midi();
        const bool is_tone = holds(place.facts.all, midi);
        if (place.comes_home && !holds(place.facts.ends, midi)) return kNoEnd;
        if (place.into && !holds(restful(*place.into), midi)) return kRub;
        if (holds(place.facts.sus_third, midi)) return kRub;
        if (!is_in_scale(place, midi)) return kOutside + (place.is_last ? kNoEnd : 0);
        if (place.is_strong && !is_tone) return holds(restful(place.facts), midi) ? kColour : kRub;
        return place.is_strong && holds(place.facts.tell, midi) ? -kTelling : 0;
    }

    // The rhythm of the riff goes on over the chords that lead home, one idea a bar; it ends where they
    // arrive, and leaves the last bar open.
    void add_line_home(std::size_t first, std::size_t end) {
        explain(line_, request_.explain, ground_.bars[first].at, "home");
        const std::size_t arrival = end - first > kBarsOfCall ? end - 2 : end - 1;
        std::vector<RiffPlace> places;
        for (std::size_t b = first; b < arrival; ++b) {
            const bool is_other = request_.level >= kFirstVaried && (b - first) % 2 == 1;
            for (const RiffNote& note : is_other ? answer_ : call_) {
                if (note.bar != 0) continue;
                if (auto place = place_in(ground_.bars[b], note.in_bar, note.length))
                    places.push_back(std::move(*place));
            }
        }
        if (auto place = place_in(ground_.bars[arrival], {}, kHalf)) {
            place->is_last = true;
            place->comes_home = true;
            places.push_back(std::move(*place));
        }
        if (places.empty()) return;
        // From the top of the riff, or a little over it, down to its tonic.
        const double top = high_ + 2 * turn_ - 2;
        const double bottom = tonic_near(low_);
        std::vector<LinePlace> rows;
        for (std::size_t i = 0; i < places.size(); ++i)
            rows.push_back(row_of(places, i, choices_home(places[i])));
        add(places, cheapest_line(rows, -1, [&](const LineMove& move) {
                const double gone = static_cast<double>(move.place) / static_cast<double>(places.size());
                const double goal = top + gone * (bottom - top);
                return MoveCost{0.25 * std::abs(move.to.midi() - goal) + step_cost(places, move) +
                                2 * unsuited(places[move.place], move.to)};
            }));
    }

    [[nodiscard]] double tonic_near(int midi) const {
        const int up = ((ground_.home.tonic.semitone() - midi) % 12 + 12) % 12;
        return midi + (up > 6 ? up - 12 : up);
    }

    // The scale near the riff.
    [[nodiscard]] std::vector<Pitch> choices_home(const RiffPlace& place) const {
        constexpr int kBelow = 3;
        constexpr int kAbove = 5;
        std::vector<PitchClass> names = place.span->notes;
        names.insert(names.end(), place.span->chord.begin(), place.span->chord.end());
        const std::vector<Pitch> all = in_range(names, range_);
        std::vector<Pitch> out;
        std::ranges::copy_if(all, std::back_inserter(out), [&](Pitch pitch) {
            return pitch.midi() >= low_ - kBelow && pitch.midi() <= high_ + kAbove;
        });
        return out.empty() ? all : out;
    }

    static double step_cost(const std::vector<RiffPlace>& places, const LineMove& move) {
        constexpr int kWidest = 9;
        constexpr double kLeftLeading = 5;
        if (!move.from) return 0;
        const RiffPlace& before = places[move.place - 1];
        const RiffPlace& place = places[move.place];
        const int by = std::abs(move.by());
        double out = by == 0 ? 4 : by <= 2 ? 0 : by <= 4 ? 0.8 : by <= 7 ? 2 : by <= kWidest ? 5 : 20;
        // What is no chord tone passes; the third and the altered tones of a dominant go on by step.
        const bool was_tone = holds(before.facts.all, move.from->midi());
        const bool is_tone = holds(place.facts.all, move.to.midi());
        if (by > 2 && (!was_tone || !is_tone)) out += 3;
        const bool is_root =
            place.span->symbol && holds(sound(place.span->symbol->root.semitone()), move.to.midi());
        if (place.comes_home && !is_root) out += 6;
        const bool leaves = before.span != place.span;
        if (leaves && by > 2 && holds(before.facts.tell, move.from->midi())) out += kLeftLeading;
        return out;
    }

    void add(const std::vector<RiffPlace>& places, std::vector<Pitch> pitches) {
        for (std::size_t i = pitches.size(); i-- > 0;) {
            const bool has_next = i + 1 < pitches.size();
            const bool is_own = places[i].wanted.midi() == pitches[i].midi();
            if (has_next && !is_own && !is_in_scale(places[i], pitches[i].midi()))
                pitches[i] = leading_to(pitches[i + 1], pitches[i].midi());
        }
        for (std::size_t i = 0; i < pitches.size(); ++i)
            add_note(line_, pitches[i], places[i].at, places[i].length);
    }

    // Where a chord comes behind the line, it ends on that.
    void add_last_note() {
        const auto sounds = [](const ScaleSpan& span) { return !span.notes.empty(); };
        const auto last = std::find_if(ground_.spans.rbegin(), ground_.spans.rend(), sounds);
        if (line_.notes.empty() || last == ground_.spans.rend() || line_.notes.back().at >= last->at) return;
        LineNote& before = line_.notes.back();
        before.length = std::min(before.length, last->at - before.at);
        std::vector<Pitch> ends = in_range(last->chord, range_);
        const SoundSet rest = last->symbol ? facts_of(*last->symbol).ends : kAllSounds;
        std::erase_if(ends, [&](Pitch pitch) { return !holds(rest, pitch.midi()); });
        if (!ends.empty())
            add_long_note(line_, ground_, nearest_to(ends, before.pitch, -1), last->at,
                          std::min(last->length, kWhole));
    }

    const EtudeGround& ground_;
    const EtudeRequest& request_;
    PitchRange range_;
    std::vector<RiffNote> call_, answer_;
    int low_ = 0;  // of the riff, as key numbers
    int high_ = 0;
    int turn_ = 0;  // how high the line home begins, 0 to 2
    ConcertLine line_;
};

}  // namespace

ConcertLine riff_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return RiffComposer{ground, request, range}.compose();
}

}  // namespace shedbook
