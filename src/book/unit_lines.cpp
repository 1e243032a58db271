#include "unit_lines.h"

#include "shedbook/notation/memory_page.h"

#include <algorithm>
#include <array>
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

namespace {

// The notes of the second half, but for the last few, are those of the first: nothing is learned from it.
bool repeats_itself(const WrittenMusic& music) {
    std::array<std::vector<std::pair<Ticks, Pitch>>, 2> halves;
    const std::size_t half = music.measures.size() / 2;
    for (std::size_t bar = 0; bar < music.measures.size(); ++bar) {
        for (const Event& event : music.events_of(music.measures[bar])) {
            if (const auto* note = std::get_if<Sounded>(&event.what))
                halves[bar < half ? 0 : 1].emplace_back(event.at, note->pitch.on_paper());
        }
    }
    if (halves[0].empty() || halves[1].empty()) return false;
    const auto differs = std::ranges::mismatch(halves[0], halves[1]).in1 - halves[0].begin();
    constexpr std::ptrdiff_t kMostOther = 3;  // a third of the notes
    return (static_cast<std::ptrdiff_t>(halves[0].size()) - differs) * kMostOther <=
           static_cast<std::ptrdiff_t>(halves[0].size());
}

// An arpeggio or a cell of one note a chord shows nothing.
bool is_too_short(const WrittenMusic& music) {
    std::size_t notes = 0;
    for (const Event& event : music.events) notes += std::holds_alternative<Sounded>(event.what) ? 1 : 0;
    return notes < 2 * music.chords.size();
}

}  // namespace

std::optional<Etude> UnitLines::make(const Tune& tune, const LineOfUnit& asked,
                                     const std::optional<Passage>& passage) {
    EtudeRequest request = options_.etude;
    request.kind = asked.kind;
    request.level = std::min(request.level, asked.most_level);
    request.once = passage.has_value();
    if (passage) {
        request.bars = passage->bars;
        request.rests_on = passage->rests_on;
        if (!asked.has_own_version) request.choruses = times_through(passage->bars);
    }
    const auto made_by = [&](EtudeMaker& maker) {
        return maker.make(tune, ensemble_.written, boxes_on_units(options_));
    };
    const EtudePaper paper{.prefer = options_.prefer, .reading_level = options_.etude.level};
    EtudeMaker maker{ensemble_.parts, request, paper};
    std::optional<Etude> out = made_by(maker);
    if (out && request.choruses > 1 && std::ranges::all_of(out->music, repeats_itself)) {
        request.choruses = 1;
        EtudeMaker once{ensemble_.parts, request, paper};
        out = made_by(once);
    }
    constexpr std::array<std::string_view, 4> kOfChords{"arpeggios-up", "arpeggios-down", "arpeggio-waves",
                                                        "cell"};
    const bool shows_chords = std::ranges::find(kOfChords, asked.kind) != kOfChords.end();
    // Books made together have the same pieces.
    const bool is_alone = ensemble_.parts.size() == 1;
    if (out && passage && is_alone && shows_chords && is_too_short(out->music.front())) return std::nullopt;
    const bool is_narrow = !out && !maker.fits_part(ensemble_.written.front());
    if (is_narrow && said_.insert(request.kind).second)
        say_missing(*find_etude_kind(request.kind), tune, diagnostics_);
    if (out && asked.has_own_version) {
        for (WrittenMusic& music : out->music) music = with_own_version(music);
    }
    return out;
}

}  // namespace shedbook
