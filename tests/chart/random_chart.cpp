#include "chart/random_chart.h"

#include <algorithm>
#include <array>
#include <string>

#include "../../src/chart/settle.h"

namespace shedbook {
namespace {

class ChartMaker {
  public:
    ChartMaker(std::uint32_t seed, const RandomChartOptions& options) : chance_{seed}, options_{options} {}

    Chart run() {
        make_headers();
        const int sections = 1 + chance_.below(4);
        for (int i = 0; i < sections; ++i) add_section(i);
        make_pickup();
        add_jump();
        if (options_.has_comments) add_comments();
        settle(chart_);
        return chart_;
    }

  private:
    template <class T, std::size_t kCount>
    const T& one_of(const std::array<T, kCount>& list) {
        return list[static_cast<std::size_t>(chance_.below(static_cast<int>(kCount)))];
    }

    PitchClass any_note() { return PitchClass::from_fifths(chance_.below(15) - 7); }

    Meter any_meter() {
        static const std::array<Meter, 9> kMeters{Meter{4, 4}, Meter{3, 4},         Meter{6, 8},
                                                  Meter{5, 4}, Meter{2, 2},         Meter{12, 8},
                                                  Meter{7, 8}, Meter{5, 4, {2, 3}}, Meter{2, 4}};
        return chance_.one_in(2) ? Meter{4, 4} : one_of(kMeters);
    }

    Key any_key() { return {any_note(), static_cast<Mode>(chance_.below(8))}; }

    void make_headers() {
        static const std::array<std::string, 4> kTitles{"Tin Roof", "Öl & Wasser: zwei",
                                                        "\"Quoted\" \\ title", "A; semicolon"};
        chart_.id = "random";
        chart_.title = one_of(kTitles);
        if (chance_.one_in(2)) chart_.composer = "Nobody at all";
        if (chance_.one_in(2)) chart_.key = any_key();
        if (!chance_.one_in(4)) chart_.meter = any_meter();
        if (chance_.one_in(2)) chart_.tempo = 40 + chance_.below(200);
        if (chance_.one_in(2)) chart_.feel = "medium swing; not too fast";
        if (chance_.one_in(4)) chart_.written_for = "tenor-sax";
        if (chance_.one_in(4)) chart_.other_headers.emplace_back("Lyrics by", "somebody: else");
        meter_ = chart_.meter.value_or(Meter{});
    }

    ChordSymbol any_symbol() {
        ChordSymbol out;
        out.root = any_note();
        const auto kinds = chord_kinds();
        out.kind = &kinds[static_cast<std::size_t>(chance_.below(static_cast<int>(kinds.size())))];
        if (chance_.one_in(6)) out.bass = any_note();
        if (out.bass == out.root) out.bass.reset();
        return out;
    }

    Position any_place(Duration length) {
        static const std::array<int, 4> kBinary{1, 2, 4, 8};
        static const std::array<int, 6> kParts{1, 2, 3, 4, 6, 5};
        const int parts = options_.has_thirds ? one_of(kParts) : one_of(kBinary);
        const Rational units = length / meter_.unit_length();
        const int steps = std::max(1, static_cast<int>((units * Rational{parts}).floor()));
        return Position{} + meter_.unit_length() * Rational{chance_.below(steps), parts};
    }

    void add_chords(Bar& bar, Duration length) {
        const int count = chance_.one_in(3) ? 0 : 1 + chance_.below(4);
        for (int i = 0; i < count; ++i) {
            PlacedChord chord;
            if (i > 0 || chance_.one_in(5)) chord.at = any_place(length);
            if (!chance_.one_in(12)) {
                chord.symbol = any_symbol();
                if (chance_.one_in(6)) {
                    const auto types = scale_types();
                    const auto& type =
                        types[static_cast<std::size_t>(chance_.below(static_cast<int>(types.size())))];
                    chord.fixed_scale = Scale{chance_.one_in(3) ? any_note() : chord.symbol->root, &type};
                }
            }
            if (chance_.one_in(8)) chord.push = kEighth;
            chord.is_optional = chance_.one_in(8);
            bar.chords.push_back(chord);
        }
        std::ranges::stable_sort(bar.chords, {}, &PlacedChord::at);
        if (bar.chords.empty() && bars_ > 1 && chance_.one_in(2)) bar.simile = 1;
    }

    void add_melody(Bar& bar, Duration length) {
        static const std::array<Duration, 3> kLengths{kQuarter, kEighth, Duration{Rational{1, 12}}};
        Duration at;
        while (at < length) {
            MelodyNote note;
            note.at = Position{} + at;
            note.length = std::min(one_of(kLengths), length - at);
            if (!chance_.one_in(5)) note.pitch = Pitch{any_note(), 3 + chance_.below(3)};
            note.is_tied_on = note.pitch && chance_.one_in(8);
            at += note.length;
            bar.melody.push_back(note);
        }
    }

    Bar any_bar() {
        Bar bar;
        if (chance_.one_in(10)) {
            bar.meter = meter_ = any_meter();
        }
        if (chance_.one_in(16)) bar.key = any_key();
        Duration length = meter_.bar_length();
        if (chance_.one_in(20)) {
            length = meter_.unit_length() * Rational{1 + chance_.below(9)};
            bar.length = length;
        }
        add_chords(bar, length);
        if (options_.has_melody) add_melody(bar, length);
        int turn = bars_ % 7 - 5;
        for (const FormSignRow& row : form_signs()) {
            if (row.seat != SignSeat::Bar && turn++ == 0) bar.marks.signs.put(row.sign);
        }
        ++bars_;
        return bar;
    }

    void add_section(int index) {
        Section section;
        static const std::array<std::string, 5> kLabels{"A", "B2", "Out & in", "Ünder", ""};
        section.label = one_of(kLabels);
        add_plain_bars(section, 1 + chance_.below(5));
        if (chance_.one_in(2)) add_repeat(section);
        if (chance_.one_in(4)) add_plain_bars(section, 1 + chance_.below(3));
        if (bars_ > 2 && chance_.one_in(4)) add_two_bar_repeat(section);
        if (chance_.one_in(3)) section.bars.back().marks.double_bar = true;
        // A section without bars has nothing but its name.
        if (index > 0 && chance_.one_in(12)) chart_.sections.push_back({"Empty", {}});
        chart_.sections.push_back(std::move(section));
    }

    void add_plain_bars(Section& section, int count) {
        for (int i = 0; i < count; ++i) section.bars.push_back(any_bar());
    }

    void add_two_bar_repeat(Section& section) {
        for (int i = 0; i < 2; ++i) {
            Bar bar;
            bar.simile = 2;
            section.bars.push_back(bar);
            ++bars_;
        }
    }

    void add_repeat(Section& section) {
        const std::size_t begin = section.bars.size();
        add_plain_bars(section, 1 + chance_.below(4));
        if (chance_.one_in(2) || begin > 0) section.bars[begin].marks.repeat_start = true;
        const int endings = chance_.below(3);
        if (endings == 0) {
            section.bars.back().marks.repeat_end = 2 + chance_.below(3);
            return;
        }
        int number = 1;
        for (int i = 0; i <= endings; ++i) {
            const std::size_t first = section.bars.size();
            add_plain_bars(section, 1 + chance_.below(3));
            std::vector<int> numbers{number++};
            if (chance_.one_in(4)) numbers.push_back(number++);
            for (std::size_t k = first; k < section.bars.size(); ++k) section.bars[k].marks.endings = numbers;
            section.bars[first].marks.ending_start = true;
            if (i < endings) section.bars.back().marks.repeat_end = 2;
        }
    }

    void make_pickup() {
        if (!chance_.one_in(4)) return;
        Bar pickup;
        pickup.is_pickup = true;
        const Meter meter = chart_.meter.value_or(Meter{});
        pickup.length = meter.unit_length() * Rational{1 + chance_.below(meter.beats - 1)};
        if (chance_.one_in(2)) {
            PlacedChord chord;
            chord.symbol = any_symbol();
            pickup.chords.push_back(chord);
        }
        std::vector<Bar>& bars = chart_.sections.front().bars;
        // Repeats of the first bars would reach into the pickup; the bars keep what they stand for.
        for (std::size_t i = 0; i < std::min<std::size_t>(2, bars.size()); ++i) bars[i].simile = 0;
        bars.insert(bars.begin(), pickup);
    }

    void add_jump() {
        std::vector<Bar*> bars;
        for (Section& section : chart_.sections) {
            for (Bar& bar : section.bars) bars.push_back(&bar);
        }
        if (bars.size() < 4 || !chance_.one_in(2)) return;
        const bool to_segno = chance_.one_in(2);
        if (to_segno) bars.front()->marks.signs.put(FormSign::Segno);
        // Without brackets around them the signs are always reached.
        const auto is_free = [](const Bar* bar) { return bar->marks.endings.empty() && bar->simile == 0; };
        const std::size_t jump = bars.size() - 2;
        if (!is_free(bars[1]) || !is_free(bars[jump]) || !is_free(bars.back())) return;
        switch (chance_.below(3)) {
            case 0:
                bars[jump]->marks.signs.put(to_segno ? FormSign::DalSegno : FormSign::DaCapo);
                break;
            case 1:
                bars[1]->marks.signs.put(FormSign::Fine);
                bars.back()->marks.signs.put(to_segno ? FormSign::DalSegnoAlFine : FormSign::DaCapoAlFine);
                break;
            default:
                bars[1]->marks.signs.put(FormSign::ToCoda);
                bars.back()->marks.signs.put(FormSign::Coda);
                bars[jump]->marks.signs.put(to_segno ? FormSign::DalSegnoAlCoda : FormSign::DaCapoAlCoda);
                break;
        }
    }

    void add_comments() {
        if (chance_.one_in(4)) chart_.comments = {"about the tune", ""};
        if (chance_.one_in(4)) chart_.closing_comments = {"the end"};
        for (Section& section : chart_.sections) {
            if (chance_.one_in(6) && !section.label.empty()) section.comments = {"a section; indeed"};
            if (chance_.one_in(6)) section.remark = "said softly";
            for (Bar& bar : section.bars) {
                if (chance_.one_in(20) && bar.simile != 2) bar.comments = {"above", "| not a bar |"};
                if (chance_.one_in(20) && bar.simile != 2) bar.remark = "beside";
            }
        }
    }

    Chance chance_;
    RandomChartOptions options_;
    Chart chart_;
    Meter meter_;
    int bars_ = 0;
};

}  // namespace

Chart random_chart(std::uint32_t seed, const RandomChartOptions& options) {
    return ChartMaker{seed, options}.run();
}

}  // namespace shedbook
