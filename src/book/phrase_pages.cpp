#include "phrase_pages.h"

#include <algorithm>
#include <random>
#include <tuple>
#include <utility>

#include "shedbook/etude/spelling.h"
#include "shedbook/notation/excerpt.h"
#include "shedbook/notation/memory_page.h"

namespace shedbook {
namespace {

constexpr int kNarrowestRange = 12;  // semitones
constexpr std::size_t kBarsALine = 4;

EtudeGround ground_for(const Tune& tune, const Passage& passage) {
    return ground_of(tune.timeline, tune.analysis,
                     {.bars = passage.bars, .once = true, .rests_on = passage.rests_on});
}

// Notes outside the scale that is printed under their chord, and whether one of them is held.
struct Outside {
    bool has_any = false;
    bool has_long = false;
};
Outside outside_of(const ConcertLine& line, const EtudeGround& ground) {
    Outside out;
    for (const LineNote& note : line.notes) {
        if (scale_name(span_at(ground, note.at), note.pitch.midi())) continue;
        out.has_any = true;
        out.has_long = out.has_long || note.length >= kQuarter;
    }
    return out;
}

// Dominants under the phrase whose third is not played: whoever hears it does not hear where they lead.
int untold_dominants(const ConcertLine& line, std::span<const ScaleSpan> chords) {
    constexpr int kThird = 4;
    int out = 0;
    for (const ScaleSpan& span : chords) {
        if (!span.symbol || family(*span.symbol) != ChordFamily::Dominant) continue;
        const bool is_told = std::ranges::any_of(line.notes, [&](const LineNote& note) {
            const int up = note.pitch.midi() - span.symbol->root.semitone();
            return note.at < span.at + span.length && note.at + note.length > span.at && up % 12 == kThird;
        });
        out += is_told ? 0 : 1;
    }
    return out;
}

// About as many bars on each line.
std::vector<bool> starts_of_phrase(std::size_t bars) {
    std::vector<bool> out(bars, false);
    const std::size_t lines = (bars + kBarsALine - 1) / kBarsALine;
    const std::size_t a_line = (bars + lines - 1) / lines;
    for (std::size_t b = 0; b < out.size(); ++b) out[b] = b % a_line == 0;
    return out;
}

bool is_silent(const WrittenMusic& music, const Measure& measure) {
    return std::ranges::none_of(music.events_of(measure), [](const Event& event) {
        return std::holds_alternative<Sounded>(event.what);
    });
}

// A unit may be longer than the phrase on it: lines of nothing but rests at its end say nothing.
WrittenMusic without_silent_lines(const WrittenMusic& music) {
    std::size_t end = music.measures.size();
    for (std::size_t bar = end; bar-- > 0 && is_silent(music, music.measures[bar]);) {
        if (bar > 0 && music.measures[bar].new_system) end = bar;
    }
    return end == music.measures.size() ? music : excerpt(music, 0, end);
}

}  // namespace

PhraseFeel feel_of(const Tune& tune, const EtudeGround& ground, const EtudeRequest& request) {
    const EtudeStyle style = request.style.value_or(style_of(tune.chart.feel, ground));
    const bool is_straight = request.feel == EtudeFeel::Straight || style == EtudeStyle::Latin;
    return is_straight ? PhraseFeel::Straight : PhraseFeel::Swing;
}

PhrasePages::PhrasePages(std::span<const BookPart> parts, std::vector<std::size_t> written,
                         const EtudeRequest& request, Prefer prefer, EtudeBoxes boxes)
    : parts_{parts},
      written_{std::move(written)},
      request_{request},
      prefer_{prefer},
      boxes_{std::move(boxes)} {}

// One for each part, or none.
std::vector<PartLine> PhrasePages::lines_of(const Phrase& phrase, const EtudeGround& ground,
                                            const UnitPlace& place) const {
    std::vector<PitchRange> ranges;
    for (const BookPart& part : parts_) ranges.push_back(comfortable_range(part, kNarrowestRange));
    const std::vector<ScaleSpan> chords = chords_of_unit(ground, place.chords);
    std::vector<PartLine> out;
    for (const std::size_t part : written_) {
        const PitchRange window = common_window(ranges, part);
        auto line = phrase_line(phrase, chords, ground, window);
        if (!line) return {};
        arrive(*line, chords, ground, window);
        out.push_back({&parts_[part], *std::move(line)});
    }
    return out;
}

// How far below the player's level a phrase lies; two levels are alike where there are enough of them.
int PhrasePages::ease(const Phrase& phrase) const {
    constexpr int kFirstSteps = 2;
    const int below = request_.level - phrase.level;
    return request_.level <= kFirstSteps ? below : below / 2;
}

// The best first: what tells its dominants in the scales that the book prints, the highest levels, what the
// book does not have yet, what begins with the unit.
std::vector<PhrasePages::Candidate> PhrasePages::candidates(const Tune& tune, UnitKind kind,
                                                            const UnitPlace& place,
                                                            const EtudeGround& ground) const {
    const auto phrases = phrases_for(kind, request_.level, feel_of(tune, ground, request_));
    std::vector<std::pair<std::tuple<int, bool, int, bool, Position, std::uint64_t>, Candidate>> ranked;
    std::mt19937_64 dice{request_.seed};
    for (const Phrase* phrase : phrases) {
        const std::uint64_t turn = dice();
        std::vector<PartLine> lines = lines_of(*phrase, ground, place);
        if (lines.empty()) continue;
        const Outside outside = outside_of(lines.front().line, ground);
        if (outside.has_long) continue;
        const Position from = lines.front().line.notes.front().at;
        // What rests through half of the unit before it begins is no phrase on it.
        const Duration before = from - Position{};
        if (before + before > ground.length) continue;
        const int untold = untold_dominants(lines.front().line, chords_of_unit(ground, place.chords));
        ranked.push_back({{untold, outside.has_any, ease(*phrase), used_.contains(phrase->id), from, turn},
                          {phrase, std::move(lines), untold == 0, !outside.has_any}});
    }
    std::ranges::stable_sort(ranked, {}, [](const auto& entry) { return entry.first; });
    std::vector<Candidate> out;
    out.reserve(ranked.size());
    for (auto& [rank, candidate] : ranked) out.push_back(std::move(candidate));
    return out;
}

Etude PhrasePages::on_paper(const Tune& tune, const EtudeGround& ground, const Candidate& candidate) const {
    Etude out;
    out.id = candidate.phrase->id;
    out.title = ease(*candidate.phrase) > 0 ? "Easy phrase" : "Phrase";
    out.tune = name_of(tune.chart);
    for (const PartLine& part : candidate.lines) {
        const WrittenMusic music =
            line_on_paper(part.line, tune, ground, *part.part,
                          {prefer_, request_.level, starts_of_phrase(ground.bars.size())});
        out.music.push_back(with_own_version(without_silent_lines(music)));
    }
    out.boxes = boxes_for(candidate.lines, tune, ground, request_.level, boxes_);
    say_whose_tempo(out);
    return out;
}

std::vector<Etude> PhrasePages::make(const Tune& tune, UnitKind kind, const UnitPlace& place,
                                     const Passage& passage, std::size_t most) {
    const EtudeGround ground = ground_for(tune, passage);
    const std::vector<Candidate> all = candidates(tune, kind, place, ground);
    std::vector<const Candidate*> chosen;
    for (const Candidate& candidate : all) {
        const bool has_such = std::ranges::any_of(
            chosen, [&](const Candidate* other) { return ease(*other->phrase) == ease(*candidate.phrase); });
        if (chosen.size() == most || has_such || (!chosen.empty() && !candidate.says_thirds)) continue;
        chosen.push_back(&candidate);
    }
    // The easier one first.
    std::ranges::stable_sort(chosen, std::ranges::greater{},
                             [&](const Candidate* candidate) { return ease(*candidate->phrase); });
    std::vector<Etude> out;
    for (const Candidate* candidate : chosen) {
        used_.insert(candidate->phrase->id);
        out.push_back(on_paper(tune, ground, *candidate));
    }
    return out;
}

std::optional<Etude> PhrasePages::again(const Tune& tune, UnitKind kind, const UnitPlace& place,
                                        const Passage& passage, const std::string& id) {
    const EtudeGround ground = ground_for(tune, passage);
    std::vector<Candidate> all = candidates(tune, kind, place, ground);
    if (all.empty()) return std::nullopt;
    // The chords may be others here: what was altered there, plain.
    const auto same =
        std::ranges::find(all, id, [](const Candidate& candidate) { return candidate.phrase->id; });
    const bool is_good = same != all.end() && (same->fits() || !all.front().fits());
    return on_paper(tune, ground, is_good ? *same : all.front());
}

}  // namespace shedbook
