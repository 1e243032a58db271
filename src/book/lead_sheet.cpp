#include "shedbook/book/lead_sheet.h"

#include <algorithm>
#include <cstdlib>
#include <utility>
#include <vector>

#include "bar_values.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/timeline.h"

namespace shedbook {
namespace {

constexpr int kBarsASystem = 4;

SignKind kind_of(Jump jump) {
    const bool to_segno =
        jump == Jump::DalSegno || jump == Jump::DalSegnoAlFine || jump == Jump::DalSegnoAlCoda;
    return to_segno ? SignKind::DalSegno : SignKind::DaCapo;
}

// The chords of each written bar, signs for repeated bars written out: with the chord that sounds on into the
// bar that is repeated, and without what lies behind the end of a shorter one.
std::vector<std::vector<PlacedChord>> chords_of_bars(const std::vector<WrittenBar>& bars) {
    std::vector<std::vector<PlacedChord>> out;
    std::vector<std::optional<PlacedChord>> sounding_at_start;
    std::optional<PlacedChord> sounding;
    for (std::size_t i = 0; i < bars.size(); ++i) {
        sounding_at_start.push_back(sounding);
        const auto back = static_cast<std::size_t>(bars[i].bar->simile);
        std::vector<PlacedChord> chords = bars[i].bar->chords;
        if (back > 0 && back <= i) {
            chords = out[i - back];
            const std::optional<PlacedChord>& before = sounding_at_start[i - back];
            if (before && !chords.empty() && chords.front().at > Position{})
                chords.insert(chords.begin(), *before);
            std::erase_if(chords,
                          [&](const PlacedChord& chord) { return chord.at - Position{} >= bars[i].length; });
        }
        if (!chords.empty()) {
            sounding = chords.back();
            sounding->at = Position{};
            sounding->push = {};
        }
        out.push_back(std::move(chords));
    }
    return out;
}

// Symbols that stand at one place share the time up to the next one, as when the tune is played.
void part_doubled_places(std::vector<PlacedSymbol>& symbols, Position end_of_tune) {
    for (std::size_t i = 0; i < symbols.size();) {
        std::size_t j = i + 1;
        while (j < symbols.size() && symbols[j].at == symbols[i].at) ++j;
        const Position end = j < symbols.size() ? symbols[j].at : end_of_tune;
        const Duration share = (end - symbols[i].at) * Rational{1, static_cast<std::int64_t>(j - i)};
        for (std::size_t k = i + 1; k < j; ++k) symbols[k].at = symbols[k - 1].at + share;
        i = j;
    }
}

std::string name_of(const Chart& chart) {
    if (!chart.title.empty()) return chart.title;
    return chart.id.empty() ? "this tune" : chart.id;
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
        std::vector<std::vector<PlacedChord>> chords = chords_of_bars(bars_);
        Position at;
        for (std::size_t i = 0; i < bars_.size(); ++i) {
            const WrittenBar& bar = bars_[i];
            const bool pickup = bar.bar->is_pickup && i == 0;
            plan_.push_back(
                {bar.length, pickup ? bar.meter : meter_of_bar(bar.length, bar.meter, i + 1), pickup});
            for (const PlacedChord& chord : chords[i]) add_chord(chord, at);
            if (has_melody_) add_melody(*bar.bar, at);
            at += bar.length;
        }
        line_.length = at - Position{};
        if (!has_melody_) line_.open.push_back({Position{}, line_.length});
        part_doubled_places(symbols_, at);
        if (has_melody_) move_into_range();
        say_what_is_lost();
    }

    void add_chord(const PlacedChord& chord, Position bar_start) {
        optional_chords_ += chord.is_optional ? 1 : 0;
        fixed_scales_ += chord.fixed_scale ? 1 : 0;
        const Position written = bar_start + (chord.at - Position{});
        // A pushed chord stands where it is struck, if nothing else stands there.
        const Position struck = written - chord.push;
        const bool is_free = symbols_.empty() || symbols_.back().at < struck;
        symbols_.push_back({struck >= Position{} && is_free ? struck : written, chord.symbol});
    }

    void add_melody(const Bar& bar, Position bar_start) {
        for (const MelodyNote& note : bar.melody) {
            if (!note.pitch) {
                tied_ = false;
                continue;
            }
            const Position at = bar_start + (note.at - Position{});
            if (tied_ && !line_.notes.empty() && line_.notes.back().pitch == *note.pitch) {
                line_.notes.back().length += note.length;
            } else {
                line_.notes.push_back({*note.pitch, at, note.length});
            }
            tied_ = note.is_tied_on;
        }
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
            diagnostics_.note_at(name_of(chart_), "the melody is moved by " + std::to_string(std::abs(best)) +
                                                      (best > 0 ? " octave(s) up" : " octave(s) down") +
                                                      " to lie on the " + instrument_.name);
        }
        if (fewest > 0) {
            diagnostics_.warning_at(
                name_of(chart_),
                std::to_string(fewest) + " melody notes lie outside the range of the " + instrument_.name);
        }
    }

    void say_what_is_lost() {
        std::vector<std::string> lost;
        if (optional_chords_ > 0) lost.emplace_back("the brackets of optional chords");
        if (fixed_scales_ > 0) lost.emplace_back("fixed scales");
        if (lost.empty()) return;
        diagnostics_.warning_at(name_of(chart_), "a MusicXML part cannot carry " + join(lost, ", ") +
                                                     ": they are left out of it");
    }

    void set_order_of_play(WrittenMusic& music) const {
        Diagnostics unused;  // signs that contradict each other were reported where the chart was read
        for (const int bar : order_of_play(chart_, unused).value_or(std::vector<int>{})) {
            music.played.push_back(static_cast<std::size_t>(bar));
        }
    }

    void mark_form(WrittenMusic& music) {
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
                if (!section->label.empty())
                    measure.signs_before.push_back({SignKind::SectionLabel, section->label});
            }
            const bool pickup_system = i > 0 && bars_[i - 1].bar->is_pickup && i == section_start + 1;
            if (i > 0 && !pickup_system && (i == section_start || in_system == kBarsASystem)) {
                measure.new_system = true;
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
    }

    void mark_bar(std::size_t i, Measure& measure) const {
        const BarMarks& marks = bars_[i].bar->marks;
        if (marks.segno) measure.signs_before.push_back({SignKind::Segno, {}});
        if (marks.coda) measure.signs_before.push_back({SignKind::Coda, {}});
        if (marks.to_coda) measure.signs_after.push_back({SignKind::ToCoda, "To Coda"});
        if (marks.fine) measure.signs_after.push_back({SignKind::Fine, "Fine"});
        if (marks.jump) measure.signs_after.push_back({kind_of(*marks.jump), to_string(*marks.jump)});
        measure.repeat_end = marks.repeat_end;
        if (marks.double_bar) measure.right = Barline::Double;
        if (marks.endings.empty()) return;
        Ending ending;
        std::vector<std::string> numbers;
        for (const int number : marks.endings) numbers.push_back(std::to_string(number));
        ending.numbers = join(numbers, ", ");
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
    bool tied_ = false;
    int optional_chords_ = 0;
    int fixed_scales_ = 0;
};

}  // namespace

void assemble_lead_sheet(const Chart& chart, const Instrument& instrument, Prefer prefer, BlockSink& sink,
                         Diagnostics& diagnostics) {
    LeadSheet sheet;
    sheet.music.push_back(LeadSheetMaker{chart, instrument, prefer, diagnostics}.make(true));
    sink.begin({chart.title.empty() ? chart.id : chart.title, chart.composer, {instrument}, ""});
    sink.take(std::move(sheet));
    sink.finish();
}

WrittenMusic rhythm_part(const Chart& chart, const Instrument& instrument, Prefer prefer) {
    Diagnostics unused;  // what a file cannot carry is no loss on this page
    return LeadSheetMaker{chart, instrument, prefer, unused}.make(false);
}

}  // namespace shedbook
