#include "unit_chords.h"

#include <algorithm>
#include <map>
#include <utility>

#include "over_bass.h"
#include "shedbook/chart/sounding_bars.h"

namespace shedbook {
namespace {

int over(int semitone, int root) {
    return (semitone - root + 12) % 12;
}

UnitChord chord_of(const Reading& reading) {
    UnitChord out;
    const ChordSymbol& symbol = reading.symbol;
    out.readings = {&reading};
    out.family = unit_family(symbol);
    out.root = symbol.root.semitone();
    out.bass = symbol.bass ? symbol.bass->semitone() : out.root;
    if (is_suspension_over_bass(symbol)) {
        out.root = out.bass;
        out.family = UnitFamily::Dominant;
    } else if (symbol.bass) {
        out.has_foreign_bass = !has_tone(symbol, over(out.bass, out.root));
    }
    const unsigned tones = pitch_set(symbol);
    out.is_triad = (tones & ~(1U | 1U << 3U | 1U << 4U | 1U << 7U)) == 0;
    const bool has_minor_third = (tones & 1U << 3U) != 0;
    out.is_tonic_minor = has_minor_third && ((tones & 1U << 9U) != 0 || (tones & 1U << 11U) != 0);
    return out;
}

// The same root and family: a change of colour or of inversion is no new chord.
bool is_same(const UnitChord& a, const UnitChord& b) {
    return a.root == b.root && a.family == b.family && a.has_foreign_bass == b.has_foreign_bass &&
           (!a.has_foreign_bass || a.bass == b.bass);
}

class RowMaker {
  public:
    RowMaker(const Chart& chart, const Analysis& analysis)
        : bars_{written_bars(chart)}, sounding_{sounding_bars(bars_)} {
        for (const Reading& reading : analysis.readings) readings_.emplace(reading.inst, &reading);
        for (std::size_t i = 0; i < bars_.size(); ++i) {
            if (i == 0 || bars_[i].section != bars_[i - 1].section) {
                // A pickup is no bar of its section.
                sections_.push_back(static_cast<int>(i) + (bars_[i].bar->is_pickup ? 1 : 0));
                out_.bars_of_sections.push_back(0);
            }
            section_of_.push_back(static_cast<int>(sections_.size()) - 1);
            if (!bars_[i].bar->is_pickup) ++out_.bars_of_sections.back();
        }
        out_.bars = static_cast<int>(bars_.size());
    }

    UnitRows make() {
        for (const std::vector<std::size_t>& path : paths()) out_.rows.push_back(row_of(path));
        return std::move(out_);
    }

  private:
    // Bars under the bracket of an ending that is not the first.
    [[nodiscard]] bool is_later_ending(std::size_t bar) const {
        const std::vector<int>& endings = bars_[bar].bar->marks.endings;
        return !endings.empty() && std::ranges::find(endings, 1) == endings.end();
    }
    [[nodiscard]] bool is_first_ending(std::size_t bar) const {
        const std::vector<int>& endings = bars_[bar].bar->marks.endings;
        return !endings.empty() && !is_later_ending(bar);
    }

    // As written up to the end of each first ending; then again from before it, with the later one.
    [[nodiscard]] std::vector<std::vector<std::size_t>> paths() const {
        std::vector<std::vector<std::size_t>> out(1);
        for (std::size_t i = 0; i < bars_.size(); ++i) {
            if (i > 0 && is_later_ending(i) && !is_later_ending(i - 1)) {
                std::vector<std::size_t> before;
                for (const std::size_t bar : out.back()) {
                    if (!is_first_ending(bar)) before.push_back(bar);
                }
                out.push_back(std::move(before));
            }
            out.back().push_back(i);
        }
        return out;
    }

    std::vector<UnitChord> row_of(const std::vector<std::size_t>& path) {
        std::vector<UnitChord> row;
        Position at;
        bool is_silent = true;
        std::size_t before = 0;  // the bar before, on this way through the tune
        for (const std::size_t bar : path) {
            for (const SoundingChord& each : sounding_[bar]) {
                const Position place = at + (each.at - Position{});
                if (!is_silent) close(row, place, each.at == Position{} ? before : bar);
                const auto reading = readings_.find(each.inst);
                is_silent = reading == readings_.end();
                if (!is_silent) add(row, *reading->second, place, bar);
            }
            at += bars_[bar].length;
            if (!is_silent) close(row, at, bar);
            before = bar;
        }
        return row;
    }

    // What sounds up to here belongs to the last chord.
    static void close(std::vector<UnitChord>& row, Position place, std::size_t last_bar) {
        if (row.empty()) return;
        UnitChord& last = row.back();
        last.length = std::max(last.length, place - last.at);
        last.last_bar = std::max(last.last_bar, static_cast<int>(last_bar));
    }

    void add(std::vector<UnitChord>& row, const Reading& reading, Position place, std::size_t bar) const {
        UnitChord chord = chord_of(reading);
        const bool follows = !row.empty() && row.back().at + row.back().length == place;
        if (follows && is_same(row.back(), chord)) {
            if (row.back().readings.back() != &reading) row.back().readings.push_back(&reading);
            row.back().last_bar = static_cast<int>(bar);
            return;
        }
        chord.at = place;
        chord.first_bar = chord.last_bar = static_cast<int>(bar);
        chord.section = section_of_[bar];
        chord.bar_of_section = static_cast<int>(bar) - sections_[static_cast<std::size_t>(chord.section)];
        chord.follows = follows;
        row.push_back(std::move(chord));
    }

    std::vector<WrittenBar> bars_;
    std::vector<std::vector<SoundingChord>> sounding_;
    std::map<int, const Reading*> readings_;
    std::vector<int> sections_;  // first bar of each
    std::vector<int> section_of_;
    UnitRows out_;
};

}  // namespace

UnitFamily unit_family(const ChordSymbol& symbol) {
    switch (family(symbol)) {
        case ChordFamily::Major:
        case ChordFamily::Augmented:
            return has_tone(symbol, 10) ? UnitFamily::Dominant : UnitFamily::Major;
        case ChordFamily::Minor:
            return UnitFamily::Minor;
        case ChordFamily::Dominant:
            return UnitFamily::Dominant;
        case ChordFamily::HalfDiminished:
            return UnitFamily::HalfDiminished;
        case ChordFamily::Diminished:
            return UnitFamily::Diminished;
        case ChordFamily::Suspended:
            return has_tone(symbol, 10) ? UnitFamily::Dominant : UnitFamily::Major;
        case ChordFamily::Power:
            return UnitFamily::Major;
    }
    return UnitFamily::None;
}

UnitRows unit_chords(const Chart& chart, const Analysis& analysis) {
    return RowMaker{chart, analysis}.make();
}

}  // namespace shedbook
