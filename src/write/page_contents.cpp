#include <algorithm>
#include <utility>
#include <variant>

#include "lilypond_music.h"
#include "page_plan.h"

namespace shedbook {
namespace {

// Of a line of a unit, in systems. What follows its first system has no heading above it, and a row of
// fingerings mostly lies in the white between: from measurement. Drills reach higher and lower than such
// lines.
double room_in_unit(const WrittenMusic& music) {
    constexpr double kNoHeading = 0.3;
    constexpr double kRowInWhite = 0.15;
    if (!music.lower.empty()) return room_on_page(music);
    const int systems = count_systems(music);
    return room_on_page(music) - kNoHeading * (systems - 1) -
           (music.fingerings.empty() ? 0 : kRowInWhite * systems);
}

// One walk over the blocks of a document.
class Collector {
  public:
    explicit Collector(PagePlan& plan) : plan_{plan} {}

    void operator()(const Cover& cover) { plan_.cover = &cover; }
    void operator()(const Caution& caution) { plan_.caution = &caution; }
    void operator()(const PlanTable& table) { plan_.tables.push_back(&table); }
    void operator()(const LogPage& /*on the last page*/) { plan_.has_log = true; }
    void operator()(const ChapterStart& start) {
        if (start.number > 1) plan_.tunes.emplace_back();
        tune().title = start.chapters > 1 ? start.tune.title : plan_.head->title;
    }
    void operator()(const ChapterEnd& /*the next one starts itself*/) {}
    void operator()(const SittingStart& start) {
        plan_.sittings.push_back(&start);
        sitting_ = &start;
    }
    void operator()(const SittingEnd& /*what follows belongs to none*/) { sitting_ = nullptr; }
    void operator()(const AnswersStart& /*named like a sitting*/) { sitting_ = &answers(); }
    void operator()(const AnswersEnd& /*what follows belongs to none*/) { sitting_ = nullptr; }
    void operator()(const SectionStart& start) { add(&start); }
    void operator()(const SectionEnd& /*nothing stands between*/) {}
    void operator()(const Drill& drill) {
        constexpr double kRowOfChords = 0.13;  // in systems, from measurement
        PlannedSection& section = tune().sections.back();
        const WrittenMusic& music = drill.music.front();
        section.drills.push_back(&drill);
        const double spared = says_its_chords(*section.section(), music) ? kRowOfChords : 0;
        section.rooms.push_back(room_on_page(music) - spared * count_systems(music));
    }
    void operator()(const Etude& etude) {
        const WrittenMusic& music = etude.music.front();
        if (etude.number.piece == 0) {
            add(&etude);
            tune().sections.back().rooms.push_back(room_on_page(music));
        } else {
            tune().sections.back().lines.push_back(&etude);
            tune().sections.back().rooms.push_back(room_in_unit(music));
        }
    }
    void operator()(const Changes& changes) { tune().changes = &changes; }
    void operator()(const UnitBars& bars) {
        constexpr double kWords = 0.35;  // of a system, for what stands below the staff
        tune().sections.back().bars = &bars;
        tune().sections.back().rooms.push_back(room_on_page(bars.music.front()) + kWords);
    }
    void operator()(const LeadSheet& sheet) { plan_.lead_sheet = &sheet; }
    void operator()(const TuneOverview& overview) { tune().overview = &overview; }
    void operator()(const ScaleTable& table) { tune().scales = &table; }

  private:
    static const SittingStart& answers() {
        static const SittingStart kAnswers{"Answers", "", ""};
        return kAnswers;
    }
    [[nodiscard]] PlannedTune& tune() { return plan_.tunes.back(); }
    void add(std::variant<const SectionStart*, const Etude*> what) {
        PlannedSection section;
        section.what = what;
        section.key = sections_++;
        section.sitting = sitting_;
        section.is_answer = sitting_ == &answers();
        tune().sections.push_back(std::move(section));
    }

    PagePlan& plan_;
    int sections_ = 0;
    const SittingStart* sitting_ = nullptr;
};

}  // namespace

const Etude* PlannedSection::etude() const {
    const auto* const out = std::get_if<const Etude*>(&what);
    return out != nullptr ? *out : nullptr;
}

const SectionStart* PlannedSection::section() const {
    const auto* const out = std::get_if<const SectionStart*>(&what);
    return out != nullptr ? *out : nullptr;
}

const WrittenMusic& PlannedSection::first_music() const {
    return drills.empty() ? lines.front()->music.front() : drills.front()->music.front();
}

bool PlannedSection::is_unit() const {
    return section() != nullptr && std::holds_alternative<UnitHead>(section()->head);
}

int PlannedTune::page_of(int section) const {
    const auto at = std::ranges::find_if(sections, [&](const PlannedSection& planned) {
        return planned.section() != nullptr && planned.section()->number == section;
    });
    return at != sections.end() ? at->first_page : 0;
}

bool PlannedTune::drills_some_scales() const {
    if (scales == nullptr) return false;
    const auto has_drills = [](const ScaleTable::Row& row) { return row.section != 0; };
    return std::ranges::any_of(scales->rows, has_drills) && !std::ranges::all_of(scales->rows, has_drills);
}

bool says_its_chords(const SectionStart& section, const WrittenMusic& music) {
    const auto* topic = std::get_if<TopicHead>(&section.head);
    const auto is_in_head = [&](const ChordMark& mark) { return mark.symbol == topic->parts.front().symbol; };
    return topic != nullptr && topic->parts.front().symbol && std::ranges::all_of(music.chords, is_in_head);
}

PagePlan contents_of(const Document& document) {
    PagePlan out;
    out.head = &document.head;
    out.tunes.emplace_back();
    out.tunes.back().title = document.head.title;
    Collector collector{out};
    for (const Block& block : document.blocks) std::visit(collector, block);
    return out;
}

}  // namespace shedbook
