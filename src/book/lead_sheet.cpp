#include "shedbook/book/lead_sheet.h"

#include <algorithm>
#include <cstdlib>
#include <utility>
#include <vector>

#include "bar_values.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/sounding_bars.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/notation/line_breaks.h"

namespace shedbook {
namespace {

constexpr int kBarsASystem = 4;
constexpr int kRoom = 52 * kNoteWeight;

// A page holds no more than what can be played.
std::vector<std::vector<SoundingChord>> chords_of_bars(const std::vector<WrittenBar>& bars) {
    try {
        return sounding_bars(bars);
    } catch (const TooMuchToPlay& much) {
        throw UnwritableMusic{"bar " + std::to_string(much.bar() + 1) + ": " + much.what()};
    }
}

class LeadSheetMaker {
  public:
    LeadSheetMaker(const Chart& chart, const Instrument& instrument, Prefer prefer, Diagnostics& diagnostics)
        : chart_{chart},
          instrument_{instrument},
          prefer_{prefer},
          diagnostics_{diagnostics},
          bars_{written_bars(chart)} {}

    WrittenMusic make(bool wants_melody) {
        wants_melody_ = wants_melody;
        collect();
        NotateOptions notation;
        notation.instrument = &instrument_;
        notation.meter = bars_.front().meter;
        notation.key = chart_.key.value_or(Key{});
        notation.chords = std::move(symbols_);
        notation.bars = std::move(plan_);
        notation.prefer = prefer_;
        WrittenMusic music = notate(line_, notation);
        mark_form(music);
        mark_repeats(music);
        set_order_of_play(music);
        music.shows_bar_numbers = true;
        music.feel = chart_.feel;
        if (chart_.tempo)
            music.tempo = TempoMark{*chart_.tempo, note_value(bars_.front().meter.beat_length())};
        return music;
    }

  private:
    void collect() {
        has_melody_ = wants_melody_ &&
                      std::ranges::any_of(bars_, [](const WrittenBar& b) { return !b.bar->melody.empty(); });
        const std::vector<std::vector<SoundingChord>> sounding = chords_of_bars(bars_);
        TiedMelody melody;
        Position at;
        for (std::size_t i = 0; i < bars_.size(); ++i) {
            const WrittenBar& bar = bars_[i];
            const bool pickup = bar.bar->is_pickup && i == 0;
            plan_.push_back(
                {bar.length, pickup ? bar.meter : meter_of_bar(bar.length, bar.meter, i + 1), pickup});
            for (const SoundingChord& each : sounding[i]) add_chord(each, at);
            if (has_melody_) melody.add(*bar.bar, at);
            at += bar.length;
        }
        line_.length = at - Position{};
        for (const PlacedMelodyNote& note : melody.notes())
            line_.notes.push_back({note.pitch, note.at, note.length});
        if (!has_melody_) line_.open.push_back({Position{}, line_.length});
        part_doubled_places(at);
        if (has_melody_) move_into_range();
    }

    void add_chord(const SoundingChord& sounding, Position bar_start) {
        const PlacedChord& chord = *sounding.chord;
        const auto before = symbols_.empty() ? std::nullopt : std::optional{symbols_.back().at};
        const Position at = struck_at(bar_start + (sounding.at - Position{}), sounding.push(), before);
        symbols_.push_back({at, chord.symbol, chord.is_optional});
    }

    void part_doubled_places(Position end_of_tune) {
        std::vector<Position> struck;
        for (const PlacedSymbol& symbol : symbols_) struck.push_back(symbol.at);
        const std::vector<ShareOfTime> shares = part_time(struck, end_of_tune);
        for (std::size_t i = 0; i < symbols_.size(); ++i) symbols_[i].at = shares[i].at;
    }

    // The melody of a concert chart may lie outside the instrument: whole octaves bring it as near as can be.
    void move_into_range() {
        const PitchRange range = sounding_range(instrument_, instrument_.practical);
        const bool reads_concert_pitch = instrument_.transposition == Transposition{};
        const PitchRange widest = sounding_range(instrument_, instrument_.full);
        if (line_.notes.empty() || is_within(line_, reads_concert_pitch ? widest : range)) return;
        int best = 0;
        int fewest = static_cast<int>(line_.notes.size()) + 1;
        for (int octaves : {0, -1, 1, -2, 2, -3, 3}) {
            const ConcertLine moved = transposed(line_, octaves * kOctave);
            const auto outside = static_cast<int>(std::ranges::count_if(
                moved.notes, [&](const LineNote& note) { return !range.holds(note.pitch); }));
            if (outside < fewest) {
                fewest = outside;
                best = octaves;
            }
        }
        line_ = transposed(std::move(line_), best * kOctave);
        if (best != 0) {
            diagnostics_.note_at(chart_.name(), "the melody is moved by " + std::to_string(std::abs(best)) +
                                                    (best > 0 ? " octave(s) up" : " octave(s) down") +
                                                    " to lie on the " + instrument_.name);
        }
        if (fewest > 0) {
            diagnostics_.warning_at(
                chart_.name(),
                std::to_string(fewest) + " melody notes lie outside the range of the " + instrument_.name);
        }
    }

    // A bar written as % over slashes.
    void mark_repeats(WrittenMusic& music) const {
        for (std::size_t i = 0; i < bars_.size() && i < music.measures.size(); ++i)
            music.measures[i].repeats_before = !has_melody_ && bars_[i].bar->simile == 1;
    }

    void set_order_of_play(WrittenMusic& music) const {
        Diagnostics unused;  // signs that contradict each other were reported where the chart was read
        for (const int bar : order_of_play(chart_, unused).value_or(std::vector<int>{})) {
            music.played.push_back(static_cast<std::size_t>(bar));
        }
    }

    void mark_form(WrittenMusic& music) {
        std::vector<bool> line_starts(music.measures.size(), false);
        int in_system = 0;
        std::size_t section_start = 0;
        const Section* section = nullptr;
        bool open_repeat = false;
        std::size_t implied_start = bars_[0].bar->is_pickup ? 1 : 0;
        for (std::size_t i = 0; i < bars_.size() && i < music.measures.size(); ++i) {
            const BarMarks& marks = bars_[i].bar->marks;
            Measure& measure = music.measures[i];
            if (bars_[i].section != section) {
                section = bars_[i].section;
                section_start = i;
                if (!section->label.empty()) measure.signs_before.push_back({std::nullopt, section->label});
            }
            const bool pickup_system = i > 0 && bars_[i - 1].bar->is_pickup && i == section_start + 1;
            if (i > 0 && !pickup_system && (i == section_start || in_system == kBarsASystem)) {
                line_starts[i] = true;
                in_system = 0;
            }
            if (!bars_[i].bar->is_pickup) ++in_system;
            if (marks.repeat_start) open_repeat = true;
            measure.repeat_start = marks.repeat_start;
            const bool is_first_ending =
                marks.ending_start && std::ranges::find(marks.endings, 1) != marks.endings.end();
            if ((marks.repeat_end > 0 || is_first_ending) && !open_repeat) {
                // A repeat without a beginning goes back to where the last one ended; the file says so.
                music.measures[implied_start].repeat_start = true;
                open_repeat = true;
            }
            mark_bar(i, measure);
            if (marks.repeat_end > 0) {
                if (marks.endings.empty()) open_repeat = false;
                implied_start = i + 1;
            }
            if (measure.ending && measure.ending->open) open_repeat = false;
        }
        break_lines(music, parted(music, std::move(line_starts), kRoom));
    }

    void mark_bar(std::size_t i, Measure& measure) const {
        const BarMarks& marks = bars_[i].bar->marks;
        for (const FormSignRow& row : form_signs()) {
            if (!marks.signs.has(row.sign)) continue;
            (row.side == SignSide::Left ? measure.signs_before : measure.signs_after)
                .push_back({row.sign, {}});
        }
        measure.repeat_end = marks.repeat_end;
        if (marks.double_bar) measure.right = Barline::Double;
        if (marks.endings.empty()) return;
        Ending ending;
        ending.numbers = numbers_of_ending(marks);
        ending.starts = marks.ending_start || i == 0 || bars_[i - 1].bar->marks.endings != marks.endings;
        const BarMarks* next = i + 1 < bars_.size() ? &bars_[i + 1].bar->marks : nullptr;
        ending.stops = next == nullptr || next->ending_start || next->endings != marks.endings;
        // A first ending leads back, even where the file shuts its bracket before the repeat sign.
        const bool leads_back = std::ranges::find(marks.endings, 1) != marks.endings.end();
        ending.open = ending.stops && marks.repeat_end == 0 && !leads_back;
        measure.ending = ending;
    }

    const Chart& chart_;
    const Instrument& instrument_;
    Prefer prefer_;
    Diagnostics& diagnostics_;
    std::vector<WrittenBar> bars_;
    ConcertLine line_;
    std::vector<PlacedSymbol> symbols_;
    std::vector<NotateOptions::BarPlan> plan_;
    bool wants_melody_ = true;
    bool has_melody_ = false;
};

// A pickup is bar 0.
void count_bars(WrittenMusic& music) {
    int number = music.measures.empty() || !music.measures.front().is_pickup ? 1 : 0;
    for (Measure& measure : music.measures) measure.number = number++;
}

}  // namespace

void assemble_lead_sheet(const Chart& chart, const Instrument& instrument, Prefer prefer, BlockSink& sink,
                         Diagnostics& diagnostics) {
    LeadSheet sheet;
    sheet.music.push_back(LeadSheetMaker{chart, instrument, prefer, diagnostics}.make(true));
    sink.begin({chart.name(), chart.composer, {instrument}, ""});
    sink.take(std::move(sheet));
    sink.finish();
}

WrittenMusic rhythm_part(const Chart& chart, const Instrument& instrument, Prefer prefer) {
    Diagnostics unused;  // of the melody, which is not here
    WrittenMusic out = LeadSheetMaker{chart, instrument, prefer, unused}.make(false);
    count_bars(out);
    return out;
}

std::optional<WrittenMusic> melody_part(const Chart& chart, const Instrument& instrument, Prefer prefer,
                                        Diagnostics& diagnostics) {
    const std::vector<WrittenBar> bars = written_bars(chart);
    if (std::ranges::all_of(bars, [](const WrittenBar& bar) { return bar.bar->melody.empty(); }))
        return std::nullopt;
    WrittenMusic out = LeadSheetMaker{chart, instrument, prefer, diagnostics}.make(true);
    count_bars(out);
    return out;
}

}  // namespace shedbook
