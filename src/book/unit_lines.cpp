#include "unit_lines.h"

#include "shedbook/notation/memory_page.h"

#include <algorithm>
#include <array>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "tune_chapter.h"

namespace shedbook {

EtudeBoxes boxes_on_units(const BookOptions& options) {
    return {options.tempos, options.goal_tempo, true, options.speed_level};
}

int times_through(std::pair<int, int> bars) {
    constexpr int kTwice = 2;  // bars
    return bars.second - bars.first < kTwice ? 2 : 1;
}

bool repeats_itself(const WrittenMusic& music, Rational part) {
    std::array<std::set<std::tuple<std::size_t, Ticks, Pitch>>, 2> halves;
    const std::size_t half = music.measures.size() / 2;
    for (std::size_t bar = 0; bar < music.measures.size(); ++bar) {
        for (const Event& event : music.events_of(music.measures[bar])) {
            if (const auto* note = std::get_if<Sounded>(&event.what))
                halves[bar < half ? 0 : 1].emplace(bar % half, event.at, note->pitch.on_paper());
        }
    }
    if (halves[0].empty()) return false;
    const auto others =
        std::ranges::count_if(halves[1], [&](const auto& note) { return !halves[0].contains(note); });
    const Rational fewest = part * Rational{static_cast<std::int64_t>(halves[1].size())};
    return others < 1 || Rational{others} < fewest;
}

namespace {

// An arpeggio or a cell of two notes shows no chord: half of the chords have no more, but for the last one,
// which it comes to rest on.
bool is_too_short(const WrittenMusic& music) {
    constexpr int kFewest = 3;
    std::vector<int> notes;  // of each chord
    for (const Measure& measure : music.measures) {
        const auto chords = music.chords_of(measure);
        auto next = chords.begin();
        for (const Event& event : music.events_of(measure)) {
            for (; next != chords.end() && next->at <= event.at; ++next) notes.push_back(0);
            if (!notes.empty() && std::holds_alternative<Sounded>(event.what)) ++notes.back();
        }
    }
    std::erase(notes, 0);
    if (notes.size() > 1) notes.pop_back();
    const auto bare = std::ranges::count_if(notes, [](int count) { return count < kFewest; });
    return 2 * static_cast<std::size_t>(bare) > notes.size();
}

// Bars that are two systems at half speed.
constexpr int kLongestAtHalfSpeed = 4;

}  // namespace

// Where chords go by too quickly to be played out: each bar in the time of two. Nothing where that is too
// long, or too quick all the same.
std::optional<Etude> UnitLines::at_half_speed(const Tune& tune, EtudeRequest request,
                                              const EtudePaper& paper) const {
    if (request.bars->second - request.bars->first >= kLongestAtHalfSpeed) return std::nullopt;
    request.choruses = 1;
    request.bars_for_one = 2;
    EtudeMaker maker{ensemble_.parts, request, paper};
    std::optional<Etude> out = maker.make(tune, ensemble_.written, boxes_on_units(options_));
    if (!out || is_too_short(out->music.front())) return std::nullopt;
    // The second of them goes on in the bar of the first.
    for (WrittenMusic& music : out->music) {
        music.texts.insert(music.texts.begin(), {0, 0, "two bars for one", true});
        for (std::size_t bar = 1; bar < music.measures.size(); bar += 2) music.measures[bar].number.reset();
    }
    return out;
}

std::optional<Etude> UnitLines::make(const Tune& tune, const LineOfUnit& asked,
                                     const std::optional<Passage>& passage) {
    EtudeRequest request = options_.etude;
    request.kind = asked.kind;
    request.level = std::min(request.level, asked.most_level);
    request.once = passage.has_value();
    request.from_third = asked.from_third;
    if (passage) {
        request.bars = passage->bars;
        request.rests_on = passage->rests_on;
        // Units of the same length do not have the same rhythm.
        request.seed += static_cast<std::uint64_t>(passage->bars.first);
        if (!asked.has_own_version) request.choruses = times_through(passage->bars);
    }
    const auto made_by = [&](EtudeMaker& maker) {
        return maker.make(tune, ensemble_.written, boxes_on_units(options_));
    };
    const EtudePaper paper{.prefer = options_.prefer, .reading_level = options_.etude.level};
    EtudeMaker maker{ensemble_.parts, request, paper};
    std::optional<Etude> out = made_by(maker);
    // Books made together have the same pieces.
    const bool is_alone = ensemble_.parts.size() == 1;
    const Rational part = is_alone ? Rational{1, 2} : Rational{0};
    if (out && request.choruses > 1 && std::ranges::all_of(out->music, [&](const WrittenMusic& music) {
            return repeats_itself(music, part);
        })) {
        request.choruses = 1;
        EtudeMaker once{ensemble_.parts, request, paper};
        out = made_by(once);
    }
    constexpr std::array<std::string_view, 4> kOfChords{"arpeggios-up", "arpeggios-down", "arpeggio-waves",
                                                        "cell"};
    const bool shows_chords = std::ranges::find(kOfChords, asked.kind) != kOfChords.end();
    if (out && passage && is_alone && shows_chords && is_too_short(out->music.front()))
        return at_half_speed(tune, std::move(request), paper);
    const bool is_narrow = !out && !maker.fits_part(ensemble_.written.front());
    if (is_narrow && said_.insert(request.kind).second)
        say_missing(*find_etude_kind(request.kind), tune, diagnostics_);
    if (out && asked.has_own_version) {
        for (WrittenMusic& music : out->music) music = with_own_version(music);
    }
    return out;
}

}  // namespace shedbook
