#include "shedbook/write/page_order.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <utility>

#include "page_plan.h"

namespace shedbook {
namespace {

using Sections = std::vector<PlannedSection>;

int number_of(const PlannedSection& section) {
    return section.etude() != nullptr ? section.etude()->number.section : section.section()->number;
}

bool is_on_notes(const PlannedSection& section) {
    return section.section() != nullptr && !section.is_unit();
}

// What a player would rather not have, in points.
constexpr double kOnePage = 3;        // one more in the book
constexpr double kTurnedUnit = 8;     // two pages that belong together, one behind the other
constexpr double kPageOfChanges = 1;  // beside what it costs as a page: the scale table torn
constexpr double kWhitePage = 4;      // of the table, as much of it as is white
constexpr double kPageFromUnit = 1;   // between a set of notes and the unit that it follows
constexpr double kBeforeUnit = 1.5;   // that set in front of its unit
constexpr double kOutOfPlace = 3;     // a unit or an etude before one that it follows

// Finds an order of the sections of one tune by moving some of them, a step at a time, as long as the pages
// become better.
class OrderOfTune {
  public:
    OrderOfTune(PagePlan& plan, std::size_t tune) : plan_{plan}, tune_{tune} {
        const PlannedSection* unit = nullptr;
        const SittingStart* sitting = nullptr;
        for (const PlannedSection& section : sections()) {
            if (section.sitting != sitting) unit = nullptr;
            sitting = section.sitting;
            if (section.is_unit()) unit = &section;
            if (is_on_notes(section) && unit != nullptr) unit_of_[section.key] = unit->key;
        }
    }

    // Some orders are better than all that a step leads to: there are two to begin with.
    void find() {
        const Sections as_written = sections();
        const double of_first = improve();
        Sections first = std::exchange(sections(), as_written);
        put_notes_last();
        if (improve() >= of_first) sections() = std::move(first);
    }

  private:
    struct Points {
        double all = 0;
        bool has_turned_unit = false;
    };
    static constexpr std::size_t kMostAtOnce = 3;

    [[nodiscard]] Sections& sections() const { return plan_.tunes[tune_].sections; }

    // The points of what it comes to.
    double improve() {
        Points now = points(sections());
        constexpr int kMostSteps = 24;
        for (int step = 0; step < kMostSteps; ++step) {
            std::optional<Sections> best;
            for (std::size_t from = 0; from < sections().size(); ++from) {
                for (std::size_t count = 1; count <= kMostAtOnce; ++count) {
                    if (!may_move(from, count, now)) break;
                    try_places(from, count, now, best);
                }
            }
            if (!best) break;
            sections() = *std::move(best);
        }
        return now.all;
    }

    // Behind the units of their sitting.
    void put_notes_last() {
        for (auto at = sections().begin(); at != sections().end();) {
            const auto end = std::find_if(at, sections().end(), [&](const PlannedSection& section) {
                return section.sitting != at->sitting || section.etude() != nullptr;
            });
            std::stable_partition(at, end, std::not_fn(is_on_notes));
            at = end == at ? at + 1 : end;
        }
    }

    // Units and etudes keep their order unless one would turn overleaf.
    [[nodiscard]] bool may_move(std::size_t from, std::size_t count, const Points& now) const {
        if (from + count > sections().size()) return false;
        const PlannedSection& last = sections()[from + count - 1];
        if (last.sitting != sections()[from].sitting) return false;
        return is_on_notes(last) || now.has_turned_unit;
    }

    void try_places(std::size_t from, std::size_t count, Points& best_yet,
                    std::optional<Sections>& best) const {
        for (std::size_t to = 0; to + count <= sections().size(); ++to) {
            if (to == from) continue;
            const std::size_t reached = to < from ? to : to + count - 1;
            if (sections()[reached].sitting != sections()[from].sitting) continue;
            Sections tried = sections();
            const auto at = [&](std::size_t i) { return tried.begin() + static_cast<std::ptrdiff_t>(i); };
            if (to < from)
                std::rotate(at(to), at(from), at(from + count));
            else
                std::rotate(at(from), at(from + count), at(to + count));
            constexpr double kLeast = 0.1;
            const Points points = this->points(tried);
            if (points.all > best_yet.all - kLeast) continue;
            best_yet = points;
            best = std::move(tried);
        }
    }

    [[nodiscard]] Points points(const Sections& order) const {
        PagePlan tried = plan_;
        tried.tunes[tune_].sections = order;
        tried = planned(std::move(tried), room_of(Paper::A4));
        const PlannedTune& tune = tried.tunes[tune_];
        Points out;
        out.all = kOnePage * tried.log_page + kPageOfChanges * tune.changes_pages + white_beside_table(tune);
        std::map<int, const PlannedSection*> by_key;
        for (const PlannedSection& section : tune.sections) by_key[section.key] = &section;
        int last_key = -1;
        for (const PlannedSection& section : tune.sections) {
            if (section.pages > 1 && section.first_page % 2 == 1) {
                out.all += kTurnedUnit;
                out.has_turned_unit = true;
            }
            if (!is_on_notes(section)) {
                if (section.key < last_key) out.all += kOutOfPlace;
                last_key = std::max(last_key, section.key);
            } else if (const auto unit = unit_of_.find(section.key); unit != unit_of_.end()) {
                out.all += points_between(*by_key.at(unit->second), section);
            }
        }
        return out;
    }

    static double white_beside_table(const PlannedTune& tune) {
        constexpr double kRowsOfPage = 11;  // of the table, two scales each
        if (!tune.table_apart) return 0;
        const double rows = std::ceil(static_cast<double>(tune.scales->rows.size()) / 2);
        return kWhitePage * std::max(0.0, tune.table_pages - rows / kRowsOfPage);
    }

    static double points_between(const PlannedSection& unit, const PlannedSection& notes) {
        const int behind = notes.first_page - (unit.first_page + unit.pages - 1);
        if (notes.first_page < unit.first_page)
            return kBeforeUnit + kPageFromUnit * (unit.first_page - notes.first_page);
        return kPageFromUnit * std::max(0, behind);
    }

    PagePlan& plan_;
    std::size_t tune_;
    std::map<int, int> unit_of_;  // of sets of notes, by keys
};

// Blocks [first, end) that are one section.
struct Run {
    std::size_t first = 0;
    std::size_t end = 0;
    int number = 0;
};

// Of the pages to practise; answers have the same numbers again.
std::vector<Run> sections_of(const Document& document) {
    std::vector<Run> out;
    bool is_open = false;
    for (std::size_t i = 0; i < document.blocks.size(); ++i) {
        const Block& block = document.blocks[i];
        if (std::holds_alternative<AnswersStart>(block)) return out;
        const auto* etude = std::get_if<Etude>(&block);
        if (const auto* start = std::get_if<SectionStart>(&block)) {
            out.push_back({i, i, start->number});
            is_open = true;
        } else if (std::holds_alternative<SectionEnd>(block)) {
            out.back().end = i + 1;
            is_open = false;
        } else if (etude != nullptr && !is_open) {
            out.push_back({i, i + 1, etude->number.section});
        }
    }
    return out;
}

using NewNumbers = std::map<int, int>;  // by old ones

void renumber(Block& block, const NewNumbers& numbers) {
    const auto put = [&](int& number) {
        if (const auto found = numbers.find(number); found != numbers.end()) number = found->second;
    };
    if (auto* start = std::get_if<SectionStart>(&block)) {
        put(start->number);
        if (auto* unit = std::get_if<UnitHead>(&start->head)) put(unit->again);
    } else if (auto* drill = std::get_if<Drill>(&block)) {
        put(drill->number.section);
    } else if (auto* etude = std::get_if<Etude>(&block)) {
        put(etude->number.section);
    } else if (auto* table = std::get_if<ScaleTable>(&block)) {
        for (ScaleTable::Row& row : table->rows) put(row.section);
    } else if (auto* overview = std::get_if<TuneOverview>(&block)) {
        for (TuneOverview::Row& row : overview->units) put(row.section);
        const auto others = std::ranges::find(overview->units, 0, &TuneOverview::Row::section);
        std::stable_sort(overview->units.begin(), others,
                         [](const auto& a, const auto& b) { return a.section < b.section; });
    }
}

}  // namespace

PageOrder page_order(const Document& document) {
    PagePlan plan = contents_of(document);
    PageOrder out;
    for (std::size_t t = 0; t < plan.tunes.size(); ++t) {
        if (plan.is_book() && plan.tunes[t].overview != nullptr) OrderOfTune{plan, t}.find();
        for (const PlannedSection& section : plan.tunes[t].sections) {
            if (!section.is_answer) out.push_back(number_of(section));
        }
    }
    return out;
}

Document in_page_order(Document document, const PageOrder& order) {
    const std::vector<Run> runs = sections_of(document);
    std::map<int, const Run*> by_number;
    for (const Run& run : runs) by_number[run.number] = &run;
    const bool are_the_same =
        order.size() == runs.size() && by_number.size() == runs.size() &&
        std::ranges::all_of(order, [&](int number) { return by_number.contains(number); });
    if (!are_the_same) return document;
    NewNumbers numbers;
    for (std::size_t i = 0; i < runs.size(); ++i) numbers[order[i]] = runs[i].number;
    Document out{document.head, {}};
    out.blocks.reserve(document.blocks.size());
    std::size_t next = 0;
    for (std::size_t at = 0; at < document.blocks.size();) {
        const bool is_section = next < runs.size() && runs[next].first == at;
        const Run from = is_section ? *by_number.at(order[next]) : Run{at, at + 1, 0};
        for (std::size_t i = from.first; i < from.end; ++i) {
            out.blocks.push_back(std::move(document.blocks[i]));
            renumber(out.blocks.back(), numbers);
        }
        at = is_section ? runs[next++].end : at + 1;
    }
    return out;
}

}  // namespace shedbook
