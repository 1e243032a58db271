#include "section_pages.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <utility>

namespace shedbook {
namespace {

constexpr int kMostEmptyStaves = 2;
constexpr double kRounding = 0.3;  // a third of a system is found between the others

// In whole systems.
int systems_of(const PlannedSection& section) {
    const double room = std::accumulate(section.rooms.begin(), section.rooms.end(), 0.0);
    return static_cast<int>(std::ceil(room - kRounding));
}

int capacity(int pages, const PageRoom& room) {
    return room.with_head + (pages - 1) * room.without_head;
}

// Staves for a line of the player's own, so that no page stays half empty.
void fill_up(PlannedSection& section, int systems, int most, int thin) {
    const int wanted = section.pages == 1 ? thin + 1 : most - 3;
    section.empty_staves = std::clamp(wanted - systems, 0, kMostEmptyStaves);
    if (systems + section.empty_staves > most) section.empty_staves = 0;
}

// Whether the drills fit on so many pages, in order, none of them split but what is longer than a page.
bool fits(const PlannedSection& section, int pages, const PageRoom& room, double stretch) {
    int page = 1;
    double used = 0;
    for (const double drill : section.rooms) {
        const double most = (page == 1 ? room.with_head : room.without_head) + stretch;
        if (used > 0 && used + drill > most) {
            ++page;
            used = 0;
        }
        used += drill;
        for (; drill > room.without_head && used > room.without_head; used -= room.without_head) ++page;
        if (used > (page == 1 ? room.with_head : room.without_head) + stretch) return false;
    }
    return page <= pages;
}

// Pieces that begin a page, so that all pages are about as full, with so much on the last that shares it:
// nothing where the pages do not hold them.
std::optional<std::vector<std::size_t>> turns_of(const PlannedSection& section, const PageRoom& room,
                                                 double shared = 0) {
    const std::size_t pieces = section.rooms.size();
    const auto pages = static_cast<std::size_t>(section.pages);
    if (pieces < pages) return std::nullopt;
    struct Way {
        double cost = std::numeric_limits<double>::infinity();  // of the pages so far, their squares
        std::size_t from = 0;                                   // the first piece of the last of them
    };
    // By pages, and pieces on them.
    std::vector<std::vector<Way>> ways(pages + 1, std::vector<Way>(pieces + 1));
    ways[0][0].cost = 0;
    for (std::size_t page = 1; page <= pages; ++page) {
        const double most = (page == 1 ? room.with_head : room.without_head) + room.slack;
        for (std::size_t end = page; end <= pieces; ++end) {
            double used = page == pages ? shared : 0;
            for (std::size_t from = end; from-- > page - 1;) {
                used += section.rooms[from];
                if (used > most) break;
                const double cost = ways[page - 1][from].cost + used * used;
                if (cost < ways[page][end].cost) ways[page][end] = {cost, from};
            }
        }
    }
    if (std::isinf(ways[pages][pieces].cost)) return std::nullopt;
    std::vector<std::size_t> turns;
    std::size_t end = pieces;
    for (std::size_t page = pages; page > 1; --page) {
        end = ways[page][end].from;
        turns.insert(turns.begin(), end);
    }
    return turns;
}

// What is left of the last page is the player's own.
void turn_pages(PlannedSection& section, const PageRoom& room) {
    constexpr int kMostOfOwn = 2;
    const auto turns = turns_of(section, room);
    if (!turns) return;
    section.turns = *turns;
    const double used = std::accumulate(section.rooms.begin() + static_cast<std::ptrdiff_t>(turns->back()),
                                        section.rooms.end(), 0.0);
    section.empty_staves = std::clamp(room.thin - static_cast<int>(used), 0, kMostOfOwn);
}

// Of a section with its head, in systems.
double height_of(const PlannedSection& section) {
    return std::accumulate(section.rooms.begin(), section.rooms.end(), height_of_head(section));
}

bool is_topic(const PlannedSection& section) {
    return section.etude() == nullptr && !section.is_unit();
}

// A page that is being filled: the section that begins it, or that ends on it, and those that share it.
class SharedPage {
  public:
    // `fewer`: systems that had no room when it was set.
    SharedPage(PlannedSection& first, const PageRoom& room, double fewer, bool is_of_units)
        : first_{first}, room_{room}, fewer_{fewer}, is_of_units_{is_of_units} {
        room_.with_head -= static_cast<int>(fewer);
        room_.without_head -= static_cast<int>(fewer);
        if (first.pages == 1) used_ = height_of(first);
    }

    [[nodiscard]] bool takes(const PlannedSection& section) const {
        if (section.pages != 1 || section.sitting != first_.sitting) return false;
        const bool is_alike = (first_.etude() != nullptr) == (section.etude() != nullptr);
        if (!is_alike && !is_of_units_) return false;
        const double shared = used_ + height_of(section);
        if (first_.pages > 1)
            return is_of_units_ && !first_.turns.empty() && turns_of(first_, room_, shared).has_value();
        constexpr double kTighter = 1;  // staves of units and etudes move together rather than turn the page
        const bool may_be_tighter =
            is_alike && (section.etude() != nullptr || (first_.is_unit() && section.is_unit()));
        return shared <= most_for(section) + (may_be_tighter ? kTighter : 0);
    }

    void take(PlannedSection& section, PlannedSection& before) {
        used_ += height_of(section);
        section.shares_page = true;
        before.empty_staves = 0;
        double on_page = used_;
        if (first_.pages > 1) {
            first_.turns = *turns_of(first_, room_, used_);
            const auto turn = static_cast<std::ptrdiff_t>(first_.turns.back());
            on_page = std::accumulate(first_.rooms.begin() + turn, first_.rooms.end(), used_);
        } else {
            first_.is_tight = first_.is_tight || used_ > most_for(section);
        }
        section.empty_staves =
            is_topic(section) ? std::clamp(room_.thin + 1 - static_cast<int>(on_page), 0, kMostEmptyStaves)
                              : 0;
    }

  private:
    [[nodiscard]] double most_for(const PlannedSection& section) const {
        constexpr double kHead = 1.2;
        const bool are_etudes = first_.etude() != nullptr && section.etude() != nullptr;
        return (are_etudes ? room_.etude + kHead - fewer_ : room_.without_head) + room_.slack;
    }

    PlannedSection& first_;
    PageRoom room_;
    double fewer_;
    bool is_of_units_;
    double used_ = 0;  // of its page; of the sections behind one of several pages
};

}  // namespace

double height_of_head(const PlannedSection& section) {
    constexpr double kHead = 1.2;
    constexpr double kHeadOfUnit = 0.9;
    return section.is_unit() ? kHeadOfUnit : kHead;
}

void give_pages(PlannedSection& section, PageRoom room, bool is_book, int fault) {
    const double tighter = section.is_unit() ? 1.5 : 1;
    section.is_tight = fault > 0;
    const int fewer = std::max(0, fault - 1);
    room.with_head -= fewer;
    room.without_head -= fewer;
    room.etude -= fewer;
    if (section.etude() != nullptr) {
        section.pages = (systems_of(section) + room.etude - 1) / room.etude;
        return;
    }
    const auto more = [&](int pages) {
        return pages == 1 ? 2 : pages + (is_book && room.two_sided && !section.is_unit() ? 2 : 1);
    };
    int pages = 1;
    const int most = static_cast<int>(section.rooms.size()) + 1;
    while (pages < most && !fits(section, pages, room, room.slack)) {
        // A page turn in the middle of a chord is worse than staves that stand close.
        if (room.two_sided && pages <= 2 && fits(section, pages, room, tighter)) {
            section.is_tight = true;
            break;
        }
        pages = more(pages);
    }
    section.pages = pages;
    if (section.is_tight) room.slack = std::max(room.slack, tighter);
    if (pages > 1) turn_pages(section, room);
    if (section.is_unit() || !section.turns.empty()) return;
    if (!section.is_tight) fill_up(section, systems_of(section), capacity(section.pages, room), room.thin);
}

void share_pages(std::vector<PlannedSection>& sections, const PageRoom& room, bool are_of_units,
                 const std::function<int(const PlannedSection&)>& fault_of) {
    for (std::size_t first = 0; first < sections.size();) {
        const double fewer = std::max(0, fault_of(sections[first]) - 1);
        SharedPage page{sections[first], room, fewer, are_of_units};
        std::size_t next = first + 1;
        for (; next < sections.size(); ++next) {
            if (!page.takes(sections[next])) break;
            page.take(sections[next], sections[next - 1]);
        }
        first = next;
    }
}

}  // namespace shedbook
