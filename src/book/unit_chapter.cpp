#include "unit_chapter.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>

#include "melody_pages.h"
#include "scales_under_changes.h"
#include "shedbook/base/grade.h"
#include "shedbook/book/etude.h"
#include "shedbook/drill/degree.h"
#include "shedbook/harmony/units.h"
#include "shedbook/notation/document_words.h"
#include "topics.h"
#include "tune_chapter.h"
#include "unit_bars.h"
#include "unit_lines.h"
#include "unit_pieces.h"

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
constexpr int kLongestUnit = 8;  // bars; what is longer is practised with the form

constexpr std::array<LineOfUnit, 2> kForm{{{"guide-tones"}, {"composed"}}};
// So many of the book's drills on a set of notes.
constexpr std::size_t kDrillsOnCommonest = 4;
constexpr std::size_t kDrillsOnOthers = 2;

// Topics whose scales have the same notes; the first is the one that sounds longest.
struct NoteSet {
    std::vector<SectionTopic> topics;
    Duration sounding;
    std::vector<Drill> drills;  // none: it has no section
    int number = 0;             // of its section; 0: it has none
};

std::vector<NoteSet> note_sets(std::vector<SectionTopic> topics) {
    std::map<unsigned long, std::size_t> known;
    std::vector<NoteSet> out;
    for (SectionTopic& topic : topics) {
        const auto [at, is_new] =
            known.try_emplace(sounds_above(topic.scale.notes, {}).to_ulong(), out.size());
        if (is_new) out.emplace_back();
        NoteSet& set = out[at->second];
        set.sounding += topic.sounding;
        set.topics.push_back(std::move(topic));
    }
    for (NoteSet& set : out)
        std::ranges::stable_sort(set.topics, std::ranges::greater{}, &SectionTopic::sounding);
    std::ranges::stable_sort(out, std::ranges::greater{}, &NoteSet::sounding);
    return out;
}

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
          lines_{ensemble, options, diagnostics},
          pieces_{tune, ensemble, options, diagnostics} {
        BookOptions all = options;
        all.most_chords = std::nullopt;
        const std::vector<WrittenBar> written = written_bars(tune.chart);
        const std::size_t bars = written.size();
        bars_ = static_cast<int>(bars);
        first_number_ = first_bar_number(tune.chart);
        budget_ = *std::ranges::find_if(kBudgets, [&](const Budget& budget) { return bars <= budget.bars; });
        sets_ = note_sets(topics_of(tune, all, diagnostics));
        put_rarest_second();
        for (std::size_t i = 0; i < sets_.size() && i < budget_.sets; ++i) {
            std::vector<const DrillTemplate*> drills = options.drills;
            drills.resize(std::min(drills.size(), i == 0 ? kDrillsOnCommonest : kDrillsOnOthers));
            sets_[i].drills =
                sections.drills_of(sets_[i].topics.front(), {drills, {}, options.tempos, options.memory});
        }
        choose_units();
    }

    void write(int& number) {
        number_sections(number);
        sink_.take(overview());
        Changes changes = changes_of(tune_, ensemble_, options_.prefer);
        for (std::size_t i = 0; i < changes.music.size(); ++i) {
            const Instrument& instrument = *ensemble_.parts[ensemble_.written[i]].instrument;
            name_scales(changes.music[i], tune_,
                        written_interval(instrument, key_of(tune_), {}, options_.prefer));
        }
        changes_ = changes.music;
        sink_.take(std::move(changes));
        sink_.take(scale_table());
        for (Chosen& chosen : chosen_) write_unit(chosen);
        for (NoteSet& set : sets_) write_set(set);
        for (const LineOfUnit& each : kForm) {
            if (!options_.with_line) break;
            std::optional<Etude> etude = lines_.make(tune_, each, {});
            if (!etude) continue;
            etude->number = {++number, 0};
            sink_.take(*std::move(etude));
        }
        for (Etude& melody : melody_pages(tune_, ensemble_, options_, diagnostics_)) {
            melody.number = {++number, 0};
            sink_.take(std::move(melody));
        }
    }

  private:
    struct Chosen {
        const PracticeUnit* unit;
        bool has_opening;
        std::vector<Etude> lines;
        int section = 0;
        std::vector<const PracticeUnit*> also = {};  // units that are drilled in the same bars
    };

    [[nodiscard]] const BookPart& first_part() const { return ensemble_.parts[ensemble_.written.front()]; }

    // After the commonest notes those that lie furthest from the key: nobody has them in the fingers.
    void put_rarest_second() {
        if (sets_.empty()) return;
        const Key key = key_of(tune_);
        std::ranges::stable_sort(
            sets_.begin() + 1, sets_.end(), std::ranges::greater{}, [&](const NoteSet& set) {
                return std::ranges::count_if(set.topics.front().scale.notes,
                                             [&](PitchClass note) { return !is_in_signature(key, note); });
            });
    }

    // The hardest first; what is longer than a phrase belongs to the form.
    void choose_units() {
        // As the part reads it: its keys, and what is hard in them.
        const Interval by = written_interval(*first_part().instrument, key_of(tune_), {}, options_.prefer);
        units_ = units_of(transposed(tune_.chart, by), transposed(tune_.analysis, by));
        const Instrument& leader = *ensemble_.parts.front().instrument;
        weigh_alike(units_, tune_, written_interval(leader, key_of(tune_), {}, options_.prefer));
        std::vector<const PracticeUnit*> units;
        for (const PracticeUnit& unit : units_.units) {
            if (unit.kind == UnitKind::LoneChord) continue;
            const UnitPlace& place = unit.hardest_place();
            const bool is_short = place.last_bar - place.first_bar < kLongestUnit;
            (is_short ? units : left_out_).push_back(&unit);
        }
        std::ranges::stable_sort(units, std::ranges::greater{},
                                 [](const PracticeUnit* unit) { return unit->hardest_place().difficulty; });
        openings_ = std::min(openings_for(units), budget_.openings);
        // Two facing pages, and then single ones.
        const auto last = units.begin() + static_cast<std::ptrdiff_t>(openings_);
        std::stable_partition(units.begin(), last, [](const PracticeUnit* unit) {
            return !UnitPieces::other_keys(*unit).empty();
        });
        for (const PracticeUnit* unit : units) {
            const auto twin = std::ranges::find_if(chosen_, [&](const Chosen& other) {
                return pieces_.bars_to_play(*other.unit) == pieces_.bars_to_play(*unit);
            });
            if (twin != chosen_.end()) {
                twin->also.push_back(unit);
                continue;
            }
            const bool has_opening = chosen_.size() < openings_;
            const bool has_room = chosen_.size() < openings_ + budget_.shorts;
            std::vector<Etude> lines;
            if (has_room) lines = has_opening ? pieces_.opening(*unit) : pieces_.few(*unit);
            if (lines.empty()) {
                left_out_.push_back(unit);
            } else {
                chosen_.push_back({unit, has_opening, std::move(lines)});
            }
        }
    }

    // Those that are hard; where none is, those that are not easy; and one at least. The hardest come first.
    [[nodiscard]] static std::size_t openings_for(const std::vector<const PracticeUnit*>& units) {
        for (const Grade least : {Grade::Hard, Grade::Light}) {
            const auto count = std::ranges::count_if(units, [&](const PracticeUnit* unit) {
                return grade_of(unit->hardest_place().difficulty) >= least;
            });
            if (count > 0) return static_cast<std::size_t>(count);
        }
        return std::min<std::size_t>(units.size(), 1);
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
                 marks.repeat_end > 0, marks.ending_start ? numbers_of_ending(marks) : ""});
        }
        for (const Chosen& chosen : chosen_) {
            out.units.push_back({chosen.section, pieces_.head_of(*chosen.unit)});
            for (const PracticeUnit* unit : chosen.also)
                out.units.push_back({chosen.section, pieces_.head_of(*unit)});
        }
        for (const PracticeUnit* unit : left_out_) out.units.push_back({0, pieces_.head_of(*unit)});
        return out;
    }

    void number_sections(int& number) {
        for (Chosen& chosen : chosen_) {
            chosen.section = ++number;
            for (Etude& line : chosen.lines) line.number.section = number;
        }
        for (NoteSet& set : sets_) {
            if (set.drills.empty()) continue;
            set.number = ++number;
            set.topics.front().number = number;
            for (Drill& drill : set.drills) drill.number.section = number;
        }
    }

    [[nodiscard]] ScaleTable scale_table() const {
        ScaleTable out;
        for (const NoteSet& set : sets_) {
            for (const SectionTopic& topic : set.topics)
                out.rows.push_back({set.number, in_part(topic, *first_part().instrument, options_.prefer),
                                    reason_in_part(topic, *first_part().instrument, options_.prefer),
                                    topic.bars});
        }
        return out;
    }

    void write_set(NoteSet& set) {
        if (set.drills.empty()) return;
        SectionStart start = sections_.start_of(set.topics.front());
        auto& head = std::get<TopicHead>(start.head);
        for (std::size_t i = 1; i < set.topics.size(); ++i)
            head.shares.push_back(in_part(set.topics[i], *first_part().instrument, options_.prefer));
        sink_.take(std::move(start));
        for (Drill& drill : set.drills) sink_.take(std::move(drill));
        sink_.take(SectionEnd{});
    }

    void write_unit(Chosen& chosen) {
        sink_.take(SectionStart{chosen.section, pieces_.head_of(*chosen.unit)});
        if (chosen.has_opening) sink_.take(bars_with_ways(changes_, pieces_.bars_to_play(*chosen.unit)));
        for (Etude& line : chosen.lines) sink_.take(std::move(line));
        sink_.take(SectionEnd{});
    }

    const Tune& tune_;
    const Ensemble& ensemble_;
    const BookOptions& options_;
    DrillSectionMaker& sections_;
    BlockSink& sink_;
    Diagnostics& diagnostics_;
    UnitLines lines_;
    UnitPieces pieces_;
    std::vector<NoteSet> sets_;
    TuneUnits units_;                    // written
    std::vector<WrittenMusic> changes_;  // of each part
    std::vector<Chosen> chosen_;
    std::vector<const PracticeUnit*> left_out_;
    Budget budget_ = kBudgets.front();
    int bars_ = 0;  // of the tune
    int first_number_ = 1;
    std::size_t openings_ = 0;
};

}  // namespace

void write_unit_chapters(const std::vector<Tune>& tunes, const Ensemble& ensemble, const BookOptions& options,
                         BlockSink& sink, Diagnostics& diagnostics) {
    // Drills stand in the key of the tune, as the lines of units do.
    BookOptions with_keys = options;
    with_keys.signatures = true;
    DrillSectionMaker sections{ensemble, with_keys, sink, diagnostics};
    int number = 0;
    for (std::size_t i = 0; i < tunes.size(); ++i) {
        sink.take(
            ChapterStart{name_of(tunes[i].chart), static_cast<int>(i) + 1, static_cast<int>(tunes.size())});
        UnitChapter{tunes[i], ensemble, options, sections, sink, diagnostics}.write(number);
        sink.take(ChapterEnd{});
    }
}

}  // namespace shedbook
