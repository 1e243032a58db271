#include "handling.h"

#include <algorithm>
#include <cassert>
#include <cstdlib>
#include <optional>
#include <string>

#include "shedbook/base/enum_table.h"
#include "shedbook/drill/speeds.h"
#include "shedbook/io/embedded.h"
#include "shedbook/io/fields.h"
#include "shedbook/notation/fingering_chart.h"

namespace shedbook {

enum class WayCount { Nothing, Positions, Valves, Strings, Steps };
template <>
inline constexpr Worded<WayCount> kWords<WayCount>[] = {{WayCount::Nothing, "nothing"},
                                                        {WayCount::Positions, "positions"},
                                                        {WayCount::Valves, "valves"},
                                                        {WayCount::Strings, "strings"},
                                                        {WayCount::Steps, "steps"}};

namespace {

struct HandlingRow {
    std::string id;
    std::vector<std::string> sounds;
    WayCount counts = WayCount::Nothing;
    std::vector<float> costs;
    int from = 0;
    int leap = 0;
    bool sings = false;
    bool slurs = false;
    bool breathes = false;
};

std::optional<HandlingRow> read_row(Fields fields) {
    HandlingRow out;
    out.id = fields.text("id");
    out.sounds = fields.texts("sounds");
    out.counts = fields.word("counts", WayCount::Nothing);
    out.from = fields.number("from", 0, 20, 0);
    out.leap = fields.number("leap", 0, 48, 0);
    out.sings = fields.flag("sings", false);
    out.slurs = fields.flag("slurs", false);
    out.breathes = fields.flag("breathes", false);
    if (const Data* costs = fields.find("costs")) {
        for (const Data& cost : *costs->as_array())
            out.costs.push_back(static_cast<float>(cost.as_number().value_or(0)) / 10);
    }
    if (!fields.finish()) return std::nullopt;
    return out;
}

const std::vector<HandlingRow>& rows() {
    static const std::vector<HandlingRow> kHandlingRows = [] {
        Diagnostics diagnostics;
        const SourceText source{"handling.toml", std::string{embedded_template("handling.toml")}};
        auto out = read_entries("handling", source, diagnostics, read_row);
        assert(!diagnostics.has_errors());  // a test reads every row
        return out;
    }();
    return kHandlingRows;
}

const HandlingRow* row_of(const std::string& sound) {
    const HandlingRow* best = nullptr;
    std::size_t longest = 0;
    for (const HandlingRow& row : rows()) {
        for (const std::string& beginning : row.sounds) {
            if (!sound.starts_with(beginning) || beginning.size() <= longest) continue;
            best = &row;
            longest = beginning.size();
        }
    }
    return best;
}

// What the hand does for a written note: the position of the slide, the valves as bits, the string. Nothing
// where the chart does not say.
std::optional<int> hand_at(int key, WayCount counts, const Instrument& instrument) {
    if (counts == WayCount::Strings) {
        for (std::size_t s = instrument.strings.size(); s-- > 0;) {
            if (key >= instrument.strings[s].on_paper().midi()) return static_cast<int>(s);
        }
        return std::nullopt;
    }
    const FingeringChart* chart = fingering_chart_of(instrument);
    if (chart == nullptr || chart->by != FingeringChart::By::Note) return std::nullopt;
    const int at = key - instrument.open.on_paper().midi() - chart->lowest;
    if (at < 0 || at >= static_cast<int>(chart->notes.size())) return std::nullopt;
    int position = 0;
    int valves = 0;
    for (const char sign : chart->notes[static_cast<std::size_t>(at)]) {
        if (sign == 'T') valves |= 1 << 4;
        if (sign >= '1' && sign <= '9') {
            position = sign - '0';
            valves |= 1 << (sign - '1');
        }
    }
    if (counts == WayCount::Valves) return valves;
    return position > 0 ? std::optional{position} : std::nullopt;
}

int changed_valves(int from, int to) {
    int out = 0;
    for (int left = from ^ to; left != 0; left &= left - 1) ++out;
    const bool against = (from & ~to) != 0 && (to & ~from) != 0;
    return out + (against ? 1 : 0);
}

int way(int from, int to, WayCount counts) {
    return counts == WayCount::Valves ? changed_valves(from, to) : std::abs(to - from);
}

// Of all pairs of sounding keys.
std::vector<float> awkward_ways(const HandlingRow& row, const Instrument& instrument) {
    std::vector<std::optional<int>> hands(Handling::kKeys);
    for (std::size_t key = 0; key < hands.size(); ++key) {
        const int sounding = static_cast<int>(key);
        const int written = sounding - to_sounding(instrument.transposition).semitones();
        hands[key] = row.counts == WayCount::Steps ? std::optional{sounding}
                                                   : hand_at(written, row.counts, instrument);
    }
    std::vector<float> out(Handling::kKeys * Handling::kKeys);
    for (std::size_t from = 0; from < hands.size(); ++from) {
        for (std::size_t to = 0; to < hands.size(); ++to) {
            if (!hands[from] || !hands[to]) continue;
            const auto steps = static_cast<std::size_t>(way(*hands[from], *hands[to], row.counts));
            out[from * Handling::kKeys + to] = row.costs[std::min(steps, row.costs.size() - 1)];
        }
    }
    return out;
}

}  // namespace

Handling handling_of(const Instrument& instrument, int level) {
    Handling out;
    out.speeds = &speeds_of(instrument.sound);
    out.fastest = out.speeds->notes[static_cast<std::size_t>(level - 1)];
    const HandlingRow* row = row_of(instrument.sound);
    if (row == nullptr) return out;
    out.breathes = row->breathes;
    out.from = row->from;
    out.leap = row->leap;
    out.sings = row->sings;
    out.slurs = row->slurs;
    if (row->counts != WayCount::Nothing && !row->costs.empty()) out.awkward = awkward_ways(*row, instrument);
    return out;
}

}  // namespace shedbook
