// The composed etude: character, then rhythm, then pitches, in sections of about thirty-two bars.
#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "character.h"
#include "levels.h"
#include "line_tools.h"
#include "lines.h"
#include "melody.h"
#include "note_values.h"
#include "rhythm.h"
#include "shedbook/etude/spelling.h"
#include "style.h"

namespace shedbook {
namespace {

constexpr std::size_t kSection = 32;  // bars
constexpr int kDraws = 24;            // characters to choose from by level
constexpr int kFastForOne = 160;      // quarters a minute: at first one note a chord, where there are many
constexpr double kFreer = 0.7;        // the plainest level counts the figures of players so much less
constexpr int kFirstWithTies = 3;
constexpr std::size_t kBarsOfAPhrase = 4;
constexpr double kOnBars = 0.5;  // so much less again where few bars are measured
constexpr double kPlainerOnBars =
    0.6;  // a few bars of a tune show their chords; what players do in many counts less
constexpr int kOffBeatOutside = 3;    // up to this level no note outside the scale is on a beat,
constexpr int kOffChangeOutside = 5;  // and up to this one none on the first of a bar or a chord

double changes_in_a_bar(const EtudeGround& ground) {
    int changes = 0;
    const ScaleSpan* before = nullptr;
    for (const ScaleSpan& span : ground.spans) {
        if (before != nullptr && span.symbol != before->symbol) ++changes;
        before = &span;
    }
    return static_cast<double>(changes) / static_cast<double>(std::max<std::size_t>(1, ground.bars.size()));
}

// In phrases rather than in single notes.
bool speaks(const Character& character) {
    constexpr double kLeast = -1.7;
    return std::ranges::all_of(std::array{Figure::PhraseNotes, Figure::Density}, [&](Figure figure) {
        return character.deviates[static_cast<std::size_t>(figure)] > kLeast;
    });
}

// Among many characters the one whose demand fits: `place` -1 the least, 1 the most, 0 the first as it came.
// Who asks more than the first plays no fewer notes, and the other way round.
Character choose(const std::vector<Character>& drawn, double place) {
    constexpr auto kDensity = static_cast<std::size_t>(Figure::Density);
    const Character& first = drawn.front();
    std::vector<Character> others;
    for (const Character& character : drawn) {
        const double by = character.deviates[kDensity] - first.deviates[kDensity];
        const double more = demand(character) - demand(first);
        if (by * place >= 0 && more * place >= 0) others.push_back(character);
    }
    std::ranges::stable_sort(others, {},
                             [&](const Character& c) { return std::abs(demand(c) - demand(first)); });
    const double last = static_cast<double>(others.size()) - 1;
    return others[static_cast<std::size_t>(std::lround(std::abs(place) * last))];
}

class Composer {
  public:
    // `share` of the time is the line's; the rest is left open.
    Composer(const EtudeGround& ground, const EtudeRequest& request, PitchRange range, double share)
        : ground_{ground},
          request_{request},
          level_{etude_level(request)},
          plain_{level_.plain + (request.bars ? kPlainerOnBars : 0)},
          style_{etude_style(request.style.value_or(style_of("", ground)))},
          quarters_{quarters_a_minute(request, ground)},
          finest_{in_time(playable(level_.note, quarters_, request.level))},
          range_{range_at(level_, range)},
          outside_{has_triads(ground) ? style_.outside_triads : style_.outside},
          share_{share},
          dice_{request.seed * 0x9E3779B97F4A7C15ULL + 0x5EED} {}

    ConcertLine compose() {
        line_.length = ground_.length;
        const std::size_t bars = ground_.bars.size();
        std::vector<Character> drawn =
            draw_characters(request_.seed, dice_, changes_in_a_bar(ground_), kDraws);
        // Few players hardly play at all; nobody practises that.
        std::stable_partition(drawn.begin(), drawn.end(),
                              [](const Character& character) { return speaks(character); });
        for (std::size_t first = 0; first < bars;) {
            // A rest of fewer than twelve bars belongs to the section before it.
            std::size_t last = std::min(first + kSection, bars);
            if (bars - last < 12) last = bars;
            const double grown =
                request_.choruses > 1 ? 0.6 * static_cast<double>(first) / static_cast<double>(bars) : 0;
            const double density = request_.density == Density::Usual  ? 0
                                   : request_.density == Density::Busy ? 0.6
                                                                       : -0.6;
            const double place = std::clamp(level_.demand + density + grown, -1.0, 1.0);
            add_section(first, last, choose(drawn, place));
            first = last;
        }
        return std::move(line_);
    }

  private:
    void add_section(std::size_t first, std::size_t last, const Character& character) {
        // Beats of three only for those who have triplets.
        const bool triplets = request_.feel == EtudeFeel::Triplets && finest_ < kEighth;
        const BeatGround beats = beat_ground(ground_, first, last, triplets);
        const FigureWindow& window = window_for(static_cast<int>(last - first));
        const Figures aims = in_style(shared(aims_of(character, window)));
        const bool is_first_level = level_.note == kQuarter;
        RhythmOptions plan;
        plan.finest = finest_;
        plan.one_note_a_chord = is_first_level && quarters_ > kFastForOne;
        plan.ends = last == ground_.bars.size();
        plan.plain = std::min(1.0, plain_);
        plan.is_one_phrase = request_.bars && ground_.bars.size() <= kBarsOfAPhrase;
        plan.ties = request_.level >= kFirstWithTies;
        plan.silent_before = first == 0 ? 0 : silent_before_;
        RhythmSearch rhythm{beats, aims, window, style_, plan, dice_};
        const std::vector<TickNote> notes = rhythm.find();
        MelodyOptions options;
        options.outside_on_beat = request_.level > kOffBeatOutside;
        options.outside_on_change = request_.level > kOffChangeOutside;
        options.scale_only = is_first_level;
        options.says_thirds = request_.bars.has_value();
        options.low = range_.low.midi();
        options.high = range_.high.midi();
        options.largest_leap = level_.leap;
        if (!request_.handling.is_easy()) options.handling = &request_.handling;
        if (request_.handling.leap > 0) options.largest_leap = std::min(level_.leap, request_.handling.leap);
        options.seconds_a_beat = 60.0 / quarters_;
        options.may_leave_scale = level_.outside && outside_ > 0;
        options.off_tone = style_.off_tone;
        options.plain = plain_;
        options.figures =
            style_.figures * (1 - kFreer * std::min(1.0, plain_)) * (request_.bars ? kOnBars : 1);
        options.motif_at = rhythm.motif_at();
        options.motif_length = rhythm.motif_length();
        if (last_ && !notes.empty() && silent_before_ + notes.front().on < kBeatTicks) options.before = last_;
        MelodySearch melody{beats, notes, aims, window, options, dice_};
        const std::vector<int> pitches = melody.find();
        if (!notes.empty()) {
            last_ = pitches.back();
            silent_before_ = beats.ticks() - notes.back().end;
        }
        write(beats, notes, pitches, melody);
        if (request_.explain) explain_section(beats, notes, pitches, melody, rhythm);
    }

    // What the instrument has time for at the tune's own tempo: eighths at any, a burst of sixteenths a
    // little above what lasts.
    [[nodiscard]] Duration in_time(Duration finest) const {
        constexpr Duration kTriplet{Rational{1, 12}};
        constexpr double kBurst = 1.15;
        const double eighths = quarters_ / 30.0;  // a second
        const double fastest = request_.handling.fastest * (request_.handling.sings ? 1 : kBurst);
        if (fastest <= 0 || 2 * eighths <= fastest) return finest;
        return std::max(finest, 1.5 * eighths <= fastest ? kTriplet : kEighth);
    }

    [[nodiscard]] Figures in_style(Figures aims) const {
        constexpr double kSung = 0.35;  // of the notes outside the scale that are played
        aims[Figure::Density] *= style_.density;
        aims[Figure::Outside] *= outside_ * (request_.handling.sings ? kSung : 1);
        aims[Figure::Fourths] *= style_.fourths;
        return aims;
    }

    // What is measured over all bars, for a line that has only part of them.
    [[nodiscard]] Figures shared(Figures aims) const {
        if (share_ == 1) return aims;
        aims[Figure::Density] *= share_;
        aims[Figure::Rests] = 1 - share_ * (1 - aims[Figure::Rests]);
        aims[Figure::PhraseBeats] = std::min(aims[Figure::PhraseBeats], 6.0);
        aims[Figure::PhraseNotes] = std::min(aims[Figure::PhraseNotes], 10.0);
        aims[Figure::PhraseMax] = std::min(aims[Figure::PhraseMax], 16.0);
        aims[Figure::PhraseSpread] = std::min(aims[Figure::PhraseSpread], 0.4);
        return aims;
    }

    void write(const BeatGround& beats, const std::vector<TickNote>& notes, const std::vector<int>& pitches,
               const MelodySearch& melody) {
        std::vector<Pitch> spelled(pitches.size());
        for (std::size_t i = pitches.size(); i-- > 0;) {
            const BeatChord& chord = beats.chords[static_cast<std::size_t>(melody.heard_chord(i))];
            const auto name = scale_name(*chord.span, pitches[i]);
            const std::size_t to = name ? 0 : melody.resolution(i);
            spelled[i] = name     ? pitch_of(*name, pitches[i])
                         : to > 0 ? leading_to(spelled[to], pitches[i])
                                  : pitch_of(simplest_name(pitches[i] % 12), pitches[i]);
            if (name || i == 0) continue;
            const BeatChord& last = beats.chords[static_cast<std::size_t>(melody.heard_chord(i - 1))];
            if (const auto before = scale_name(*last.span, pitches[i - 1]))
                spelled[i] = apart_from(*before, spelled[i]);
        }
        for (std::size_t i = 0; i < notes.size(); ++i) {
            const Position at = beats.position(notes[i].on);
            line_.notes.push_back({spelled[i], at, beats.position(notes[i].end) - at});
        }
    }

    // What a place is, the most telling first; no two within half a bar, so that the words stay legible.
    void explain_section(const BeatGround& beats, const std::vector<TickNote>& notes,
                         const std::vector<int>& pitches, const MelodySearch& melody,
                         const RhythmSearch& rhythm) {
        constexpr int kRoom = 2 * kBeatTicks;
        std::map<int, std::string> words;
        const auto say = [&](int tick, std::string word) {
            const auto after = words.lower_bound(tick - kRoom + 1);
            if (after == words.end() || after->first >= tick + kRoom) words.emplace(tick, std::move(word));
        };
        for (std::size_t k = 0; k < rhythm.motif_at().size(); ++k) {
            const auto note = std::ranges::lower_bound(notes, rhythm.motif_at()[k], {}, &TickNote::on);
            if (note != notes.end()) say(note->on, k == 0 ? "motif" : "motif again");
        }
        if (!pitches.empty()) {
            const auto top = std::ranges::max_element(pitches) - pitches.begin();
            say(notes[static_cast<std::size_t>(top)].on, "high point");
        }
        for (std::size_t i = 0; i + 1 < notes.size(); ++i) {
            if (melody.in_scale(i, pitches[i])) continue;
            const std::size_t to = melody.resolution(i);
            say(notes[i].on, to > i + 1 ? "enclosure" : "approach");
            while (i + 1 < to) ++i;
        }
        std::size_t i = 0;
        for (const BeatChord& chord : beats.chords) {
            while (i < notes.size() && notes[i].on < chord.start) ++i;
            const bool met = i < notes.size() && notes[i].on == chord.start && chord.sounds;
            if (!met || !holds(chord.guide, pitches[i])) continue;
            const auto name = scale_name(*chord.span, pitches[i]);
            if (name) say(notes[i].on, "target: " + degree_name(*name - chord.span->symbol->root));
        }
        for (auto& [tick, word] : words) line_.texts.push_back({beats.position(tick), std::move(word)});
    }

    const EtudeGround& ground_;
    const EtudeRequest& request_;
    const EtudeLevel& level_;
    double plain_;
    const EtudeStyleRow& style_;
    int quarters_;     // a minute
    Duration finest_;  // value
    PitchRange range_;
    double outside_;  // notes outside the scale, against swing
    double share_;
    Dice dice_;
    std::optional<int> last_;  // the note that the section before ends on, and
    int silent_before_ = 0;    // the ticks of rest behind it
    ConcertLine line_;
};

constexpr std::size_t kCallBars = 2;

// The last bar with a chord is written, whoever's turn it is: a note to end on.
bool is_answer(const EtudeGround& ground, std::size_t bar) {
    if (bar / kCallBars % 2 == 0) return false;
    const GroundBar& own = ground.bars[bar];
    return std::ranges::any_of(ground.spans, [&](const ScaleSpan& span) {
        return !span.notes.empty() && span.at + span.length > own.at + own.length;
    });
}

// The ground without the chords of the bars that are left to the player.
EtudeGround calls_of(const EtudeGround& ground) {
    EtudeGround out = ground;
    out.spans.clear();
    for (const ScaleSpan& span : ground.spans) {
        const Position end = span.at + span.length;
        for (std::size_t b = 0; b < ground.bars.size(); ++b) {
            const GroundBar& bar = ground.bars[b];
            const Position from = std::max(span.at, bar.at);
            const Position to = std::min(end, bar.at + bar.length);
            if (from >= to) continue;
            ScaleSpan part = span;
            part.at = from;
            part.length = to - from;
            if (is_answer(ground, b)) part.notes.clear();
            // A chord that goes on over the bar line stays one.
            if (!out.spans.empty() && from > span.at &&
                out.spans.back().notes.empty() == part.notes.empty()) {
                out.spans.back().length += part.length;
            } else {
                out.spans.push_back(std::move(part));
            }
        }
    }
    return out;
}

}  // namespace

ConcertLine composed_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return Composer{ground, request, range, 1}.compose();
}

ConcertLine call_and_answer(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    const EtudeGround calls = calls_of(ground);
    ConcertLine out = Composer{calls, request, range, 0.5}.compose();
    for (std::size_t b = 0; b < ground.bars.size(); ++b) {
        const GroundBar& bar = ground.bars[b];
        if (!is_answer(ground, b)) {
            if (b % kCallBars == 0) explain(out, request.explain, bar.at, "call");
            continue;
        }
        if (b % kCallBars == 0) explain(out, request.explain, bar.at, "answer");
        out.open.push_back({bar.at, bar.length});
    }
    return out;
}

}  // namespace shedbook
