#include <algorithm>
#include <optional>
#include <span>

#include "steps.h"

namespace shedbook {
namespace {

bool has_flag(const Event& event) {
    return event.value.log2 >= 3 && !std::holds_alternative<Rest>(event.what);
}

bool is_plain_eighth(const Event& event) {
    return has_flag(event) && event.value == NoteValue{3, 0} && event.tuplet.actual == 1;
}

// Beams one bar. A beam joins what lies in one window: a whole group of the bar if it holds nothing but
// eighths, else a beat. `shift` moves a pickup to where it would stand in a full bar.
class BarBeamer {
  public:
    BarBeamer(std::span<Event> events, const MetricGrid& grid, Ticks shift)
        : events_{events}, grid_{grid}, shift_{shift} {}

    void beam() {
        std::size_t i = 0;
        for (std::size_t g = 0; g < beam_group_count(); ++g) {
            const Ticks end = beam_group_end(g);
            const std::size_t first = i;
            while (i < events_.size() && events_[i].at + shift_ < end) ++i;
            beam_group(events_.subspan(first, i - first), beam_group_start(g), end);
        }
    }

  private:
    // 3/4 and 2/4 are one group for eighths; else the groups of the meter.
    [[nodiscard]] std::size_t beam_group_count() const { return grid_.group_starts().size(); }
    [[nodiscard]] Ticks beam_group_start(std::size_t g) const { return grid_.group_starts()[g]; }
    [[nodiscard]] Ticks beam_group_end(std::size_t g) const {
        return g + 1 < beam_group_count() ? grid_.group_starts()[g + 1] : grid_.bar();
    }

    void beam_group(std::span<Event> inside, Ticks start, Ticks end) {
        if (inside.empty()) return;
        const Ticks first = inside.front().at + shift_;
        const Ticks last = inside.back().at + shift_ + inside.back().length;
        const bool full = (first == start || inside.front().at == 0) && last == end;
        const bool plain = full && std::ranges::all_of(inside, is_plain_eighth);
        const bool by_beat = !plain && grid_.unit() >= grid_.beat() && grid_.meter().unit <= 4;
        std::size_t i = 0;
        while (i < inside.size()) {
            if (!has_flag(inside[i])) {
                ++i;
                continue;
            }
            const Ticks beat = by_beat ? (inside[i].at + shift_) / grid_.beat() : 0;
            std::size_t j = i + 1;
            while (j < inside.size() && has_flag(inside[j]) &&
                   (!by_beat || (inside[j].at + shift_) / grid_.beat() == beat)) {
                ++j;
            }
            if (j - i > 1) join(inside.subspan(i, j - i));
            i = j;
        }
    }

    static void join(std::span<Event> run) {
        for (int level = 0; level < kBeamLevels; ++level) {
            const auto reaches = [&](std::size_t i) { return run[i].value.log2 >= 3 + level; };
            for (std::size_t i = 0; i < run.size(); ++i) {
                if (!reaches(i)) continue;
                const bool left = i > 0 && reaches(i - 1);
                const bool right = i + 1 < run.size() && reaches(i + 1);
                Beam beam = Beam::Continue;
                if (!left && !right) {
                    beam = i == 0 ? Beam::ForwardHook : Beam::BackwardHook;
                } else if (!left) {
                    beam = Beam::Begin;
                } else if (!right) {
                    beam = Beam::End;
                }
                run[i].beams[static_cast<std::size_t>(level)] = beam;
            }
        }
    }

    std::span<Event> events_;
    const MetricGrid& grid_;
    Ticks shift_;
};

}  // namespace

void decide_beams(WrittenMusic& music) {
    std::optional<MetricGrid> grid;
    for (const Measure& measure : music.measures) {
        if (measure.meter || !grid)
            grid.emplace(measure.meter.value_or(music.meter), music.ticks_per_quarter);
        const std::span events = std::span{music.events}.subspan(measure.first_event, measure.event_count);
        if (events.empty()) continue;
        const Ticks length = events.back().at + events.back().length;
        const Ticks shift = measure.is_pickup ? grid->bar() - length : 0;
        BarBeamer{events, *grid, std::max<Ticks>(shift, 0)}.beam();
    }
}

}  // namespace shedbook
