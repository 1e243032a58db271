#include "unit_chapter.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <iterator>
#include <string>
#include <string_view>
#include <utility>

#include "blues_pages.h"
#include "melody_pages.h"
#include "note_sets.h"
#include "page_estimate.h"
#include "scales_under_changes.h"
#include "shedbook/base/grade.h"
#include "shedbook/book/etude.h"
#include "shedbook/harmony/units.h"
#include "shedbook/notation/document_words.h"
#include "topics.h"
#include "tune_chapter.h"
#include "unit_bars.h"
#include "unit_choice.h"
#include "unit_lines.h"
#include "unit_pieces.h"
#include "unit_sittings.h"

namespace shedbook {
namespace {

// How much of the book there is room for: the hardest units have an opening each, the others a few lines.
struct Budget {
    std::size_t bars;  // of the tune, at most
    std::size_t openings;
    std::size_t shorts;
    std::size_t sets;
};
constexpr std::array<Budget, 3> kBudgets{{{16, 2, 3, 3}, {48, 4, 6, 4}, {SIZE_MAX, 3, 8, 4}}};
constexpr int kMostPages = 17;  // by estimate, which is three too low at times

// So many of the book's drills on a set of notes.
constexpr std::size_t kDrillsOnFirst = 3;
constexpr std::size_t kDrillsOnOthers = 2;
constexpr std::string_view kArpeggios = "arpeggios";  // family

class UnitChapter {
  public:
    // Makes all pieces, so that what comes first can name those that there are.
    UnitChapter(const Tune& tune, const Ensemble& ensemble, const BookOptions& options,
                DrillSectionMaker& sections, BlockSink& sink, Diagnostics& diagnostics)
        : tune_{tune},
          ensemble_{ensemble},
          options_{options},
          sections_{sections},
          sink_{sink},
          diagnostics_{diagnostics},
          pieces_{tune, ensemble, options, diagnostics} {
        BookOptions all = options;
        all.most_chords = std::nullopt;
        const std::vector<WrittenBar> written = written_bars(tune.chart);
        const std::size_t bars = written.size();
        bars_ = static_cast<int>(bars);
        first_number_ = first_bar_number(tune.chart);
        budget_ = *std::ranges::find_if(kBudgets, [&](const Budget& budget) { return bars <= budget.bars; });
        units_ = units_as_read();
        choice_ = choose_units(units_, pieces_, options, budget_.openings);
        sets_ = note_sets(topics_of(tune, all, diagnostics), key_of(tune), needs());
        changes_ = changes_of(tune_, ensemble_, options_.prefer);
        sittings_ = options.plan != nullptr ? of_plan(*options.plan) : std::vector{all_in_one()};
    }

    void write(int& number) {
        for (UnitSitting& sitting : sittings_) {
            put_notes_behind_units(sitting);
            sitting.number_from(number);
        }
        sink_.take(overview());
        if (options_.plan != nullptr) sink_.take(table_of_plan());
        Changes changes = changes_;
        name_all_scales(changes.music, {});
        sink_.take(std::move(changes));
        sink_.take(scale_table());
        for (UnitSitting& sitting : sittings_) write_sitting(sitting);
        for (Etude& melody : melody_pages(tune_, ensemble_, options_, diagnostics_)) {
            melody.number = {++number, 0};
            sink_.take(std::move(melody));
        }
    }

  private:
    [[nodiscard]] const BookPart& first_part() const { return ensemble_.parts[ensemble_.written.front()]; }

    // As the part reads it: its keys, and what is hard in them.
    [[nodiscard]] TuneUnits units_as_read() const {
        const Interval by = written_interval(*first_part().instrument, key_of(tune_), {}, options_.prefer);
        TuneUnits out = units_of(transposed(tune_.chart, by), transposed(tune_.analysis, by));
        const Instrument& leader = *ensemble_.parts.front().instrument;
        weigh_alike(out, tune_, written_interval(leader, key_of(tune_), {}, options_.prefer));
        return out;
    }

    // A book without a plan, as long as its budget says.
    [[nodiscard]] UnitSitting all_in_one() {
        UnitSitting out;
        for (const std::size_t i : by_bars_served(choice_, is_for_beginners(options_))) {
            if (out.units.size() == choice_.openings + budget_.shorts) break;
            const bool has_opening = out.units.size() < choice_.openings;
            const PracticeUnit& unit = *choice_.chosen[i].unit;
            std::vector<Etude> lines = has_opening ? pieces_.opening(unit) : pieces_.few(unit);
            if (!lines.empty()) out.units.push_back({i, has_opening, std::move(lines)});
        }
        std::ranges::sort(out.units, {}, &UnitSitting::OnUnit::unit);
        for (std::size_t i = 0; i < sets_.size() && i < budget_.sets; ++i) {
            std::vector<Drill> made = drills_on(i, i == 0 ? kDrillsOnFirst : kDrillsOnOthers);
            if (!made.empty()) out.notes.push_back({i, std::move(made)});
        }
        UnitLines lines{ensemble_, options_, diagnostics_};
        for (const LineOfUnit& each : lines_on_form(is_blues(units_), is_first_level(options_))) {
            if (!options_.with_line) break;
            if (std::optional<Etude> etude = lines.make(tune_, each, {}))
                out.form.push_back(*std::move(etude));
        }
        keep_to_pages(out, changes_.music.front(), kMostPages,
                      {[&](std::size_t unit) { return pieces_.few(*choice_.chosen[unit].unit); },
                       [&](std::size_t unit) { return bars_of_all_places(*choice_.chosen[unit].unit); },
                       is_for_beginners(options_)});
        fill_pages(out, [&](std::size_t unit, const std::string& kind) {
            return pieces_.of_kinds(*choice_.chosen[unit].unit, {kind});
        });
        fill_page_of_notes(out, sets_.size(),
                           [&](std::size_t set) { return drills_on(set, kDrillsOnOthers); });
        return out;
    }

    // What the chords of the units ask for.
    [[nodiscard]] NoteNeeds needs() const {
        NoteNeeds out{{}, is_for_beginners(options_), {}};
        if (is_blues(units_)) out.blues_on = tune_.analysis.home.tonic;
        for (const Reading& reading : tune_.analysis.readings) {
            const bool is_in_unit =
                std::ranges::any_of(choice_.chosen, [&](const UnitChoice::Chosen& chosen) {
                    return std::ranges::any_of(chosen.unit->places, [&](const UnitPlace& place) {
                        return std::ranges::find(place.chords, reading.inst) != place.chords.end();
                    });
                });
            if (is_in_unit) out.of_units.push_back(&reading);
        }
        return out;
    }

    // The first so many drills on a set of notes; who begins has the chord of an unusual scale.
    [[nodiscard]] std::vector<Drill> drills_on(std::size_t set, std::size_t count) {
        std::vector<const DrillTemplate*> drills = options_.drills;
        if (sets_[set].is_rare && is_for_beginners(options_))
            std::erase_if(drills, [](const DrillTemplate* drill) { return drill->family != kArpeggios; });
        if (set == 0 && is_blues(units_)) drills = with_blues_scale(std::move(drills));
        drills.resize(std::min(drills.size(), count));
        return sections_.drills_of(sets_[set].topics.front(), {drills, {}, options_.tempos, options_.memory});
    }

    [[nodiscard]] std::vector<UnitSitting> of_plan(const BookPlan& plan) {
        std::vector<const PracticeUnit*> units;
        for (const UnitChoice::Chosen& chosen : choice_.chosen) units.push_back(chosen.unit);
        return UnitSittingMaker{tune_, ensemble_, options_, sections_, diagnostics_}.make(plan, units, sets_);
    }

    // What the plan does with its units and scales, sitting by sitting.
    [[nodiscard]] PlanTable table_of_plan() const {
        PlanTable out{options_.plan->title, {}};
        for (const UnitSitting& sitting : sittings_) {
            PlanTable::Row row{*sitting.start, {}, {}, sitting.drills, {}};
            for (const UnitSitting::OnUnit& on_unit : sitting.units)
                row.units.push_back(pieces_.head_of(*choice_.chosen[on_unit.unit].unit));
            for (const UnitSitting::OnNotes& on_notes : sitting.notes)
                row.topics.push_back(in_first_part(sets_[on_notes.set].topics.front()));
            out.rows.push_back(std::move(row));
        }
        return out;
    }

    [[nodiscard]] TopicInPart in_first_part(const SectionTopic& topic) const {
        return in_part(topic, *first_part().instrument, options_.prefer);
    }

    [[nodiscard]] TuneOverview overview() const {
        TuneOverview out;
        std::vector<Grade> grades(static_cast<std::size_t>(bars_), Grade::Easy);
        for (const BarDifficulty& bar : units_.bars)
            grades[static_cast<std::size_t>(bar.bar) - 1] = grade_of(bar.difficulty);
        const Section* section = nullptr;
        for (const WrittenBar& bar : written_bars(tune_.chart)) {
            if (bar.section != section) out.sections.push_back({bar.section->label, {}});
            section = bar.section;
            const BarMarks& marks = bar.bar->marks;
            out.sections.back().bars.push_back(
                {bar.index + first_number_, grades[static_cast<std::size_t>(bar.index)], marks.repeat_start,
                 marks.repeat_end > 0, marks.ending_start ? numbers_of_ending(marks) : "",
                 !marks.endings.empty()});
        }
        const std::vector<PlayedBar>& played = tune_.timeline.bars;
        for (std::size_t i = 0; i < played.size(); ++i) {
            const bool begins =
                i == 0 || played[i].section != played[i - 1].section || played[i].bar < played[i - 1].bar;
            if (begins)
                out.played.push_back(tune_.chart.sections[static_cast<std::size_t>(played[i].section)].label);
        }
        out.easiest_first = is_for_beginners(options_);
        out.played_bars = static_cast<int>(played.size()) - (1 - first_number_);
        // Those that have pages come first.
        std::vector<TuneOverview::Row> others;
        for (std::size_t i = 0; i < choice_.chosen.size(); ++i) {
            const int number = first_section(&UnitSitting::units, &UnitSitting::OnUnit::unit, i);
            std::vector<TuneOverview::Row>& rows = number > 0 ? out.units : others;
            rows.push_back({number, pieces_.head_of(*choice_.chosen[i].unit)});
            for (const PracticeUnit* unit : choice_.chosen[i].also)
                rows.push_back({number, pieces_.head_of(*unit)});
        }
        std::ranges::move(others, std::back_inserter(out.units));
        for (const PracticeUnit* unit : choice_.left_out) out.units.push_back({0, pieces_.head_of(*unit)});
        return out;
    }

    // The number of the first section on a unit, or on a set of notes; 0: there is none.
    template <class Section>
    [[nodiscard]] int first_section(std::vector<Section> UnitSitting::*sections, std::size_t Section::*index,
                                    std::size_t of) const {
        for (const UnitSitting& sitting : sittings_) {
            for (const Section& section : sitting.*sections) {
                if (section.*index == of) return section.number;
            }
        }
        return 0;
    }

    void name_all_scales(std::vector<WrittenMusic>& parts, ShownBars shown) const {
        for (std::size_t i = 0; i < parts.size(); ++i) {
            const Instrument& instrument = *ensemble_.parts[ensemble_.written[i]].instrument;
            name_scales(parts[i], tune_, written_interval(instrument, key_of(tune_), {}, options_.prefer),
                        shown);
        }
    }

    [[nodiscard]] UnitBars bars_of(const PracticeUnit& unit) const {
        const std::pair<int, int> shown = pieces_.bars_to_show(unit);
        UnitBars out = bars_with_ways(changes_.music, pieces_.bars_to_play(unit), shown);
        const std::size_t a_system = shown_bars_a_system(out.music.front().measures.size());
        name_all_scales(out.music,
                        {static_cast<std::size_t>(shown.first - 1), std::max(a_system, ShownBars{}.a_line)});
        return out;
    }

    [[nodiscard]] ScaleTable scale_table() const {
        ScaleTable out;
        for (std::size_t i = 0; i < sets_.size(); ++i) {
            const int section = first_section(&UnitSitting::notes, &UnitSitting::OnNotes::set, i);
            const TopicInPart drilled = in_first_part(sets_[i].topics.front());
            for (const SectionTopic& topic : sets_[i].topics) {
                ScaleTable::Row row{section, in_first_part(topic),
                                    reason_in_table(topic, *first_part().instrument, options_.prefer),
                                    topic.bars};
                if (section > 0 && row.topic.scale != drilled.scale) row.drilled_as = drilled.scale;
                out.rows.push_back(std::move(row));
            }
        }
        return out;
    }

    // Whoever meets a chord in a unit finds its scale next to it.
    void put_notes_behind_units(UnitSitting& sitting) const {
        const auto needs = [&](const UnitSitting::OnUnit& on_unit, const NoteSet& set) {
            const PracticeUnit& unit = *choice_.chosen[on_unit.unit].unit;
            const std::vector<int>& chords = pieces_.drilled_place(unit).chords;
            return std::ranges::any_of(chords, [&](int chord) {
                const auto reading = std::ranges::find(tune_.analysis.readings, chord, &Reading::inst);
                return reading != tune_.analysis.readings.end() && has_notes_of(set, reading->scale.notes);
            });
        };
        for (UnitSitting::OnNotes& on_notes : sitting.notes) {
            const auto first = std::ranges::find_if(sitting.units, [&](const UnitSitting::OnUnit& on_unit) {
                return needs(on_unit, sets_[on_notes.set]);
            });
            if (first != sitting.units.end())
                on_notes.behind = static_cast<std::size_t>(first - sitting.units.begin()) + 1;
        }
    }

    void write_sitting(UnitSitting& sitting) {
        if (sitting.start) sink_.take(*sitting.start);
        for (const UnitSitting::Section& section : sitting.sections()) {
            if (auto* const* on_unit = std::get_if<UnitSitting::OnUnit*>(&section)) {
                write_unit(**on_unit);
            } else {
                write_notes(*std::get<UnitSitting::OnNotes*>(section), sitting.memory);
            }
        }
        for (Etude& line : sitting.form) sink_.take(std::move(line));
        if (sitting.start) sink_.take(SittingEnd{});
    }

    void write_unit(UnitSitting::OnUnit& on_unit) {
        const PracticeUnit& unit = *choice_.chosen[on_unit.unit].unit;
        UnitHead head = pieces_.head_of(unit);
        const int first = first_section(&UnitSitting::units, &UnitSitting::OnUnit::unit, on_unit.unit);
        head.again = first == on_unit.number ? 0 : first;
        sink_.take(SectionStart{on_unit.number, std::move(head)});
        if (on_unit.shows_bars) sink_.take(bars_of(unit));
        for (Etude& line : on_unit.lines) sink_.take(std::move(line));
        sink_.take(SectionEnd{});
    }

    void write_notes(UnitSitting::OnNotes& on_notes, Memory memory) {
        const std::vector<SectionTopic>& topics = sets_[on_notes.set].topics;
        SectionTopic leading = topics.front();
        leading.number = on_notes.number;
        SectionStart start = sections_.start_of(leading, memory);
        auto& head = std::get<TopicHead>(start.head);
        for (std::size_t i = 1; i < topics.size(); ++i) head.shares.push_back(in_first_part(topics[i]));
        sink_.take(std::move(start));
        for (Drill& drill : on_notes.drills) sink_.take(std::move(drill));
        sink_.take(SectionEnd{});
    }

    const Tune& tune_;
    const Ensemble& ensemble_;
    const BookOptions& options_;
    DrillSectionMaker& sections_;
    BlockSink& sink_;
    Diagnostics& diagnostics_;
    UnitPieces pieces_;
    std::vector<NoteSet> sets_;
    TuneUnits units_;  // written
    Changes changes_;
    UnitChoice choice_;
    std::vector<UnitSitting> sittings_;
    Budget budget_ = kBudgets.front();
    int bars_ = 0;  // of the tune
    int first_number_ = 1;
};

}  // namespace

void write_unit_chapters(const std::vector<Tune>& tunes, const Ensemble& ensemble, const BookOptions& options,
                         BlockSink& sink, Diagnostics& diagnostics) {
    DrillSectionMaker sections{ensemble, options, sink, diagnostics};
    int number = 0;
    for (std::size_t i = 0; i < tunes.size(); ++i) {
        sink.take(
            ChapterStart{name_of(tunes[i].chart), static_cast<int>(i) + 1, static_cast<int>(tunes.size())});
        UnitChapter{tunes[i], ensemble, options, sections, sink, diagnostics}.write(number);
        sink.take(ChapterEnd{});
    }
}

}  // namespace shedbook
