#include "shedbook/book/map_of_tune.h"

#include <algorithm>
#include <map>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/harmony/units.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

constexpr std::size_t kBarsAPhrase = 4;

// Where a written chord stands: its phrase and its place in it.
struct Place {
    std::size_t phrase = 0;
    Rational at;
    friend bool operator<(const Place& a, const Place& b) {
        return a.phrase != b.phrase ? a.phrase < b.phrase : a.at < b.at;
    }
};

std::string signs_of(const BarMarks& marks) {
    std::vector<std::string> out;
    for (const FormSignRow& row : form_signs()) {
        if (marks.signs.has(row.sign)) out.emplace_back(row.printed);
    }
    return join(out, ", ");
}

std::string ending_of(const BarMarks& marks) {
    return marks.ending_start ? numbers_of_ending(marks) + "." : "";
}

class MapMaker {
  public:
    explicit MapMaker(const Tune& tune) : tune_{tune} {}

    FormMap make() {
        const Chart& chart = tune_.chart;
        map_.title = chart.name();
        map_.about = with_signs(to_string(tune_.analysis.home));
        if (tune_.analysis.form == "blues") map_.about += ", blues";
        lay_out_bars();
        place_chords();
        draw_regions();
        draw_leads();
        draw_units();
        return std::move(map_);
    }

  private:
    void lay_out_bars() {
        const Section* section = nullptr;
        const std::vector<WrittenBar> bars = written_bars(tune_.chart);
        const int first_number = first_bar_number(tune_.chart);
        for (const WrittenBar& written : bars) {
            const bool new_section = written.section != section;
            if (new_section || map_.phrases.back().bars.size() == kBarsAPhrase) {
                map_.phrases.emplace_back();
                if (new_section) map_.phrases.back().label = written.section->label;
                section = written.section;
            }
            MapPhrase& phrase = map_.phrases.back();
            const BarMarks& marks = written.bar->marks;
            MapBar bar;
            bar.number = std::to_string(written.index + first_number);
            bar.repeat_start = marks.repeat_start;
            bar.repeat_end = marks.repeat_end > 0;
            bar.double_bar = marks.double_bar;
            bar.ending = ending_of(marks);
            bar.signs = signs_of(marks);
            bars_.push_back(
                {map_.phrases.size() - 1, Rational{static_cast<std::int64_t>(phrase.bars.size())}});
            lengths_.push_back(written.length);
            phrase.bars.push_back(std::move(bar));
        }
    }

    // First place of each written symbol, by its number.
    void place_chords() {
        for (const ChordSpan& span : tune_.timeline.chords) {
            const auto bar = static_cast<std::size_t>(span.bar);
            if (bar >= bars_.size() || places_.contains(span.inst)) continue;
            Place place = bars_[bar];
            if (lengths_[bar] > Duration{}) place.at += (span.in_bar - Position{}) / lengths_[bar];
            places_.emplace(span.inst, place);
            if (!span.symbol) map_.phrases[place.phrase].chords.push_back({place.at, "N.C.", {}, {}});
        }
        for (const Reading& reading : tune_.analysis.readings) {
            const auto at = places_.find(reading.inst);
            if (at == places_.end()) continue;
            readings_.emplace_back(at->second, &reading);
            symbols_[reading.inst] = with_signs(to_string(reading.symbol));
            map_.phrases[at->second.phrase].chords.push_back(
                {at->second.at, with_signs(to_string(reading.symbol)), with_signs(reading.numeral),
                 with_signs(to_string(reading.scale.scale))});
        }
        std::ranges::sort(readings_, [](const auto& a, const auto& b) { return a.first < b.first; });
        for (MapPhrase& phrase : map_.phrases) std::ranges::stable_sort(phrase.chords, {}, &MapChord::at);
    }

    void draw_regions() {
        for (std::size_t i = 0; i < readings_.size();) {
            std::size_t j = i + 1;
            while (j < readings_.size() && readings_[j].second->key == readings_[i].second->key) ++j;
            const Place end = j < readings_.size() ? readings_[j].first : last_place();
            add_region(&MapPhrase::regions, readings_[i].first, end,
                       with_signs(to_string(readings_[i].second->key)));
            i = j;
        }
    }

    [[nodiscard]] Place last_place() const {
        return {map_.phrases.size() - 1,
                Rational{static_cast<std::int64_t>(map_.phrases.back().bars.size())}};
    }

    void add_region(std::vector<MapRegion> MapPhrase::*regions, const Place& from, const Place& to,
                    const std::string& label) {
        for (std::size_t p = from.phrase; p <= to.phrase; ++p) {
            const Rational end{static_cast<std::int64_t>(map_.phrases[p].bars.size())};
            MapRegion region{p == from.phrase ? from.at : Rational{0}, p == to.phrase ? to.at : end, label,
                             p < to.phrase && !(p + 1 == to.phrase && to.at == Rational{0}), p > from.phrase};
            if (region.from < region.to) (map_.phrases[p].*regions).push_back(std::move(region));
        }
    }

    void draw_leads() {
        for (const auto& [place, reading] : readings_) {
            if (!reading->target || reading->function != Function::Dominant) continue;
            const auto to = places_.find(*reading->target);
            if (to == places_.end()) continue;
            MapLead lead{place.at, std::nullopt, symbols_[*reading->target]};
            if (to->second.phrase == place.phrase && place.at < to->second.at) lead.to = to->second.at;
            map_.phrases[place.phrase].leads.push_back(std::move(lead));
        }
    }

    // Lone chords are no bracket: they are what stands between.
    void draw_units() {
        const TuneUnits found = units_of(tune_.chart, tune_.analysis);
        for (const BarDifficulty& bar : found.bars) {
            const Place& place = bars_[static_cast<std::size_t>(bar.bar) - 1];
            map_.phrases[place.phrase].bars[static_cast<std::size_t>(place.at.floor())].grade =
                grade_of(bar.difficulty);
        }
        for (const PracticeUnit& unit : found.units) {
            if (unit.kind == UnitKind::LoneChord) continue;
            for (const UnitPlace& place : unit.places) {
                const Key& key = place.name.empty() ? place.key : place.named_in;
                const std::string at_home =
                    place.name.empty() ? unit_name(unit.kind, place.key.mode) : place.name;
                const std::string label = key == tune_.analysis.home ? at_home : unit_name(unit.kind, place);
                const auto last = static_cast<std::size_t>(place.last_bar);
                add_region(&MapPhrase::units, bars_[static_cast<std::size_t>(place.first_bar) - 1],
                           last < bars_.size() ? bars_[last] : last_place(), with_signs(label));
            }
        }
    }

    const Tune& tune_;
    FormMap map_;
    std::vector<Place> bars_;
    std::vector<Duration> lengths_;
    std::map<int, Place> places_;
    std::map<int, std::string> symbols_;  // of written chords
    std::vector<std::pair<Place, const Reading*>> readings_;
};

}  // namespace

FormMap map_of_tune(const Tune& tune) {
    return MapMaker{tune}.make();
}

}  // namespace shedbook
