#include "shedbook/chart/timeline.h"

#include <algorithm>
#include <numeric>
#include <stdexcept>
#include <string>
#include <utility>

#include "form.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

// A chord as it falls into one bar: the symbol and its number in written order.
struct Strike {
    Position at;  // from the start of the bar
    const PlacedChord* chord = nullptr;
    int inst = 0;
};

// The bar of a chart with which it becomes more than can be played, and of what.
class TooMuch : public std::runtime_error {
  public:
    TooMuch(int bar, const std::string& what) : std::runtime_error{what}, bar_{bar} {}
    [[nodiscard]] int bar() const { return bar_; }

  private:
    int bar_;
};

TooMuch too_many(int bar, const char* what) {
    return {bar, "more than " + std::to_string(kMostPlayed) + " " + what + " with all repeats"};
}

// What each written bar sounds, repeat signs (%) resolved: those bars strike again what the bar they stand
// for sounds, the chord that goes on into it included.
std::vector<std::vector<Strike>> strikes_by_bar(const std::vector<WrittenBar>& bars) {
    std::size_t count = 0;
    std::vector<std::vector<Strike>> out(bars.size());
    std::vector<Strike> carried(bars.size());  // the chord in force where each bar begins
    Strike in_force;
    int inst = 0;
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const Bar& bar = *bars[i].bar;
        const auto back = static_cast<std::size_t>(bar.simile);
        carried[i] = in_force;
        if (bar.simile > 0 && back <= i && bar.chords.empty()) {
            const std::vector<Strike>& model = out[i - back];
            if (!model.empty() && model.front().at > Position{} && carried[i - back].chord != nullptr) {
                out[i].push_back({Position{}, carried[i - back].chord, carried[i - back].inst});
            }
            out[i].insert(out[i].end(), model.begin(), model.end());
            std::erase_if(out[i],
                          [&](const Strike& strike) { return strike.at - Position{} >= bars[i].length; });
        }
        for (const PlacedChord& chord : bar.chords) out[i].push_back({chord.at, &chord, inst++});
        if (!out[i].empty()) in_force = out[i].back();
        count += out[i].size();
        if (count > kMostPlayed) throw too_many(static_cast<int>(i), "chords");
    }
    return out;
}

TooMuch too_fine(const ChordSpan& span) {
    return {span.bar, "chords that share one place are shorter there than can be written"};
}

// Chords of one place share the time up to the next place in equal parts.
void share_places(std::vector<ChordSpan>& spans) {
    for (std::size_t i = 0; i < spans.size();) {
        std::size_t same = i + 1;
        while (same < spans.size() && spans[same].at == spans[i].at) ++same;
        const auto count = static_cast<std::int64_t>(same - i);
        const Position begin = spans[i].at;
        const Duration share = spans[same - 1].length * Rational{1, count};
        if (count > 1 && share.whole_notes.den() > kFinestTime) throw too_fine(spans[i]);
        for (std::int64_t k = 0; count > 1 && k < count; ++k) {
            ChordSpan& span = spans[i + static_cast<std::size_t>(k)];
            span.at = begin + share * Rational{k};
            span.length = share;
        }
        i = same;
    }
}

void set_lengths(std::vector<ChordSpan>& spans, Duration whole) {
    for (std::size_t i = 0; i < spans.size(); ++i) {
        const Position end = i + 1 < spans.size() ? spans[i + 1].at : Position{} + whole;
        spans[i].length = end - spans[i].at;
    }
    share_places(spans);
    std::int64_t parts = 1;
    for (const ChordSpan& span : spans) {
        parts = std::lcm(parts, std::lcm(span.at.whole_notes.den(), span.length.whole_notes.den()));
        if (parts > kFinestGrid) throw too_fine(span);
    }
}

void add_chords(Timeline& out, const std::vector<Strike>& strikes, const PlayedBar& played) {
    for (const Strike& strike : strikes) {
        const PlacedChord& chord = *strike.chord;
        Position at = played.at + (strike.at - Position{}) - chord.push;
        const Position earliest = out.chords.empty() ? Position{} : out.chords.back().at;
        if (at < earliest) at = earliest;  // a push at the very beginning, or onto the chord before
        out.chords.push_back({strike.inst,
                              played.bar,
                              static_cast<int>(out.bars.size()) - 1,
                              strike.at,
                              at,
                              {},
                              chord.symbol,
                              chord.fixed_scale,
                              chord.is_optional});
    }
}

class MelodyLayer {
  public:
    explicit MelodyLayer(std::vector<PlacedMelodyNote>& out) : out_{out} {}

    void add(const MelodyNote& note, Position bar_begins) {
        const Position at = bar_begins + (note.at - Position{});
        if (!note.pitch) {
            is_open_ = false;
            return;
        }
        const bool joins =
            is_open_ && out_.back().pitch == *note.pitch && out_.back().at + out_.back().length == at;
        if (joins) {
            out_.back().length += note.length;
        } else {
            out_.push_back({at, note.length, *note.pitch});
        }
        is_open_ = note.is_tied_on;
    }

  private:
    std::vector<PlacedMelodyNote>& out_;
    bool is_open_ = false;
};

std::vector<int> section_of_bars(const Chart& chart) {
    std::vector<int> out;
    for (std::size_t i = 0; i < chart.sections.size(); ++i) {
        out.insert(out.end(), chart.sections[i].bars.size(), static_cast<int>(i));
    }
    return out;
}

std::string place_in(const Chart& chart, int bar) {
    const std::string name = !chart.title.empty() ? chart.title : !chart.id.empty() ? chart.id : "chart";
    return name + ": bar " + std::to_string(bar + 1);
}

Timeline lay_out(const Chart& chart, const std::vector<int>& order) {
    const std::vector<WrittenBar> bars = written_bars(chart);
    const std::vector<int> sections = section_of_bars(chart);
    const std::vector<std::vector<Strike>> strikes = strikes_by_bar(bars);
    Timeline out;
    MelodyLayer melody{out.melody};
    Position at;
    for (const int bar : order) {
        const auto i = static_cast<std::size_t>(bar);
        out.bars.push_back({bar, sections[i], at, bars[i].length, bars[i].meter});
        add_chords(out, strikes[i], out.bars.back());
        for (const MelodyNote& note : bars[i].bar->melody) melody.add(note, at);
        at += bars[i].length;
        if (out.chords.size() > kMostPlayed) throw too_many(bar, "chords");
        if (out.melody.size() > kMostPlayed) throw too_many(bar, "notes of the melody");
        if (at > Position{Rational{kLongestPlay}}) {
            throw TooMuch{bar, "more than " + std::to_string(kLongestPlay) + " whole notes with all repeats"};
        }
    }
    out.length = at - Position{};
    set_lengths(out.chords, out.length);
    return out;
}

}  // namespace

std::optional<std::vector<int>> order_of_play(const Chart& chart, Diagnostics& diagnostics) {
    FormPlan plan = plan_form(chart);
    for (const FormFault& fault : plan.faults) {
        if (fault.severity == Severity::Error) {
            diagnostics.error_at(place_in(chart, fault.bar), fault.message, fault.hint);
        }
    }
    if (!plan.is_playable()) return std::nullopt;
    return std::move(plan.order);
}

std::optional<Timeline> unfold(const Chart& chart, Diagnostics& diagnostics) {
    const std::optional<std::vector<int>> order = order_of_play(chart, diagnostics);
    if (!order) return std::nullopt;
    try {
        return lay_out(chart, *order);
    } catch (const TooMuch& much) {
        diagnostics.error_at(place_in(chart, much.bar()), much.what());
        return std::nullopt;
    } catch (const std::overflow_error&) {
        // Only a file made to that end has bars of so many odd lengths that no fraction holds their sum.
        diagnostics.error_at(place_in(chart, 0), "the lengths of its bars cannot be added up");
        return std::nullopt;
    }
}

}  // namespace shedbook
