#include "shedbook/chart/sounding_bars.h"

#include <algorithm>

namespace shedbook {
namespace {

// What the bar that is repeated sounds, in a bar of the length given.
std::vector<SoundingChord> repeated(const std::vector<SoundingChord>& model, const SoundingChord& carried,
                                    Duration length) {
    std::vector<SoundingChord> out;
    if (!model.empty() && model.front().at > Position{} && carried.chord != nullptr) out.push_back(carried);
    std::ranges::copy_if(model, std::back_inserter(out),
                         [&](const SoundingChord& sounding) { return sounding.at - Position{} < length; });
    return out;
}

}  // namespace

std::vector<std::vector<SoundingChord>> sounding_bars(const std::vector<WrittenBar>& bars) {
    std::size_t count = 0;
    std::vector<std::vector<SoundingChord>> out(bars.size());
    std::vector<SoundingChord> carried(bars.size());  // the chord in force where each bar begins
    SoundingChord in_force;
    int inst = 0;
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const Bar& bar = *bars[i].bar;
        const auto back = static_cast<std::size_t>(bar.simile);
        carried[i] = in_force;
        if (bar.simile > 0 && back <= i && bar.chords.empty())
            out[i] = repeated(out[i - back], carried[i - back], bars[i].length);
        for (const PlacedChord& chord : bar.chords) out[i].push_back({chord.at, &chord, inst++});
        if (!out[i].empty()) in_force = {Position{}, out[i].back().chord, out[i].back().inst, true};
        count += out[i].size();
        if (count > kMostPlayed) {
            throw TooMuchToPlay{static_cast<int>(i),
                                "more than " + std::to_string(kMostPlayed) + " chords with all repeats"};
        }
    }
    return out;
}

Position struck_at(Position written, Duration push, const std::optional<Position>& before) {
    const Position struck = written - push;
    return struck < Position{} || (before && struck <= *before) ? written : struck;
}

std::vector<ShareOfTime> part_time(const std::vector<Position>& struck, Position end) {
    std::vector<ShareOfTime> out;
    for (std::size_t i = 0; i < struck.size();) {
        std::size_t next = i + 1;
        while (next < struck.size() && struck[next] == struck[i]) ++next;
        const auto count = static_cast<std::int64_t>(next - i);
        const Position until = next < struck.size() ? struck[next] : end;
        const Duration share = (until - struck[i]) * Rational{1, count};
        for (std::int64_t k = 0; k < count; ++k)
            out.push_back({struck[i] + share * Rational{k}, share, count > 1});
        i = next;
    }
    return out;
}

void TiedMelody::add(const Bar& bar, Position bar_begins) {
    for (const MelodyNote& note : bar.melody) {
        if (!note.pitch) {
            is_open_ = false;
            continue;
        }
        const Position at = bar_begins + (note.at - Position{});
        const bool joins =
            is_open_ && notes_.back().pitch == *note.pitch && notes_.back().at + notes_.back().length == at;
        if (joins) {
            notes_.back().length += note.length;
        } else {
            notes_.push_back({at, note.length, *note.pitch});
        }
        is_open_ = note.is_tied_on;
    }
}

}  // namespace shedbook
