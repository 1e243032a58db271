#include "page_estimate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

#include "unit_pieces.h"

namespace shedbook {
namespace {

// Heights in systems of one staff. From measurement of 92 books: three in four come within two pages.
constexpr double kPage = 13.9;
constexpr double kBarsOfSystem = 4;   // 3.7 to 3.9 in 95 books
constexpr double kPageOfSystems = 9;  // of the whole form, with its chords and room between
constexpr double kPieceTitle = 0.45;
constexpr double kUnitHead = 1.8;
constexpr double kNotesHead = 2.5;
constexpr double kBarsOfUnit = 1;
constexpr double kSecondStaff = 1.1;
constexpr int kOtherPages = 3;  // the first, scales and functions, the log

// A unit that runs over its page by no more does without these, in this order.
constexpr double kLittleOver = 2.9;
constexpr std::array<std::string_view, 2> kMissedLeast{"cell", "targets"};

// By bars and not by the lines of this part: the books of an ensemble hold the same, under the same bar
// numbers.
double systems(const WrittenMusic& music) {
    return std::ceil(static_cast<double>(music.measures.size()) / kBarsOfSystem);
}

double height(const std::vector<WrittenMusic>& parts) {
    double out = 0;
    for (const WrittenMusic& music : parts)
        out += systems(music) * (1 + kSecondStaff * static_cast<double>(music.lower.size()));
    return out;
}

template <class Piece>
double height_of(const std::vector<Piece>& pieces) {
    double out = 0;
    for (const Piece& piece : pieces) out += height(piece.music) + kPieceTitle;
    return out;
}

int pages(double height, double page) {
    return static_cast<int>(std::ceil(height / page));
}

double height_of_notes(const std::vector<Drill>& drills) {
    return height_of(drills) + kNotesHead;
}

// Sections one after the other, none torn over a page that it does not fill.
class Packing {
  public:
    explicit Packing(double page = kPage) : page_{page} {}

    void add(double height) {
        if (height > left_) {
            pages_ += pages(height, page_);
            left_ = pages(height, page_) * page_;
        }
        left_ -= height;
    }
    [[nodiscard]] int count() const { return pages_; }
    [[nodiscard]] double left() const { return left_; }

  private:
    double page_;
    int pages_ = 0;
    double left_ = 0;
};

double height_of_opening(const UnitSitting::OnUnit& on_unit) {
    return height_of(on_unit.lines) + kBarsOfUnit;
}

void take_out(UnitSitting::OnUnit& on_unit, std::string_view kind) {
    std::erase_if(on_unit.lines, [&](const Etude& line) { return line.id == kind && !line.place; });
    int number = 0;
    for (Etude& line : on_unit.lines) line.number.piece = ++number;
}

// The first opening keeps its two pages: it is the hardest place.
void fit_on_one_page(UnitSitting& book) {
    for (std::size_t i = 1; i < book.units.size(); ++i) {
        UnitSitting::OnUnit& on_unit = book.units[i];
        const double over = height_of_opening(on_unit) - kPage;
        if (!on_unit.shows_bars || over <= 0 || over > kLittleOver) continue;
        for (const std::string_view kind : kMissedLeast) {
            if (height_of_opening(on_unit) > kPage) take_out(on_unit, kind);
        }
    }
}

// Bars of the tune that no other unit of the book has.
int bars_for_itself(const UnitSitting& book, std::size_t of, const UnitsOfBook& units) {
    std::set<int> bars = units.bars(book.units[of].unit);
    for (std::size_t i = 0; i < book.units.size(); ++i) {
        if (i == of) continue;
        for (const int bar : units.bars(book.units[i].unit)) bars.erase(bar);
    }
    return static_cast<int>(bars.size());
}

// With at most so many bars for itself.
bool leave_out_short(UnitSitting& book, const UnitsOfBook& units, int most) {
    std::optional<std::size_t> least;
    int fewest = most;
    for (std::size_t i = book.units.size(); i-- > 0 && !book.units[i].shows_bars;) {
        const int bars = bars_for_itself(book, i, units);
        if (bars > fewest || (bars == fewest && least)) continue;
        least = i;
        fewest = bars;
        if (units.last_goes_first) break;
    }
    if (!least) return false;
    book.units.erase(book.units.begin() + static_cast<std::ptrdiff_t>(*least));
    return true;
}

bool leave_out_notes(UnitSitting& book) {
    constexpr std::size_t kFewest = 2;
    if (book.notes.size() <= kFewest) return false;
    book.notes.pop_back();
    return true;
}

bool shorten_opening(UnitSitting& book, const UnitsOfBook& units) {
    const auto openings = std::ranges::count_if(book.units, &UnitSitting::OnUnit::shows_bars);
    if (openings < 2) return false;
    UnitSitting::OnUnit& last = book.units[static_cast<std::size_t>(openings) - 1];
    last.shows_bars = false;
    last.lines = units.short_lines(last.unit);
    return true;
}

// Sections [first, end) that stand on one page, and the room that is left there.
struct SharedPage {
    std::size_t first = 0;
    std::size_t end = 0;
    double left = 0;
};

// Estimates are rough: sections that come to a little more than a page may share one all the same, and so
// much of a page may be filled by more.
constexpr double kMayShare = 1.15 * kPage;
constexpr double kFilled = 0.82 * kPage;

std::vector<SharedPage> shared_pages(const std::vector<double>& heights) {
    std::vector<SharedPage> out;
    double used = 0;
    for (std::size_t i = 0; i < heights.size(); ++i) {
        if (out.empty() || used + heights[i] > kMayShare) {
            out.push_back({i, i, 0});
            used = 0;
        }
        used += heights[i];
        out.back().end = i + 1;
        out.back().left = kFilled - used;
    }
    return out;
}

// What an opening has and a short unit has not: where it stands there.
struct MoreOfUnit {
    std::string_view kind;
    std::string_view after;  // the kind before it; empty: behind all at this place
};
constexpr std::array<MoreOfUnit, 4> kMoreOfUnit{{{"arpeggios-up", "guide-tones"},
                                                 {"targets", "unbroken-scale"},
                                                 {kArpeggiosElsewhere, ""},
                                                 {"composed", ""}}};
constexpr double kLeastLine = 1 + kPieceTitle;

bool has_kind(const UnitSitting::OnUnit& on_unit, std::string_view kind) {
    return std::ranges::any_of(on_unit.lines,
                               [&](const Etude& line) { return line.id == kind && !line.place; });
}

// Behind the lines at the same place, or behind the kind that it follows.
void put_in(UnitSitting::OnUnit& on_unit, Etude line, std::string_view after) {
    const auto is_here = [&](const Etude& each) { return each.place == line.place; };
    auto at = std::ranges::find_if(on_unit.lines.rbegin(), on_unit.lines.rend(), is_here).base();
    const auto follows = [&](const Etude& each) { return is_here(each) && each.id == after; };
    if (const auto before = std::ranges::find_if(on_unit.lines, follows); before < at) at = before + 1;
    on_unit.lines.insert(at, std::move(line));
    int number = 0;
    for (Etude& each : on_unit.lines) each.number.piece = ++number;
}

void fill_with_lines(UnitSitting& book, std::size_t first_short, SharedPage page,
                     const MoreLines& more_lines) {
    for (const MoreOfUnit& each : kMoreOfUnit) {
        for (std::size_t i = page.first; i < page.end && page.left >= kLeastLine; ++i) {
            UnitSitting::OnUnit& on_unit = book.units[first_short + i];
            if (has_kind(on_unit, each.kind)) continue;
            std::vector<Etude> made = more_lines(on_unit.unit, std::string{each.kind});
            if (made.empty() || height_of(made) > page.left) continue;
            page.left -= height_of(made);
            for (Etude& line : made) put_in(on_unit, std::move(line), each.after);
        }
    }
}

}  // namespace

int estimated_pages(const UnitSitting& book, const WrittenMusic& changes) {
    int out = kOtherPages + pages(systems(changes), kPageOfSystems);
    Packing shorts;
    for (const UnitSitting::OnUnit& on_unit : book.units) {
        if (on_unit.shows_bars) {
            out += pages(height_of_opening(on_unit), kPage);
        } else {
            shorts.add(height_of(on_unit.lines) + kUnitHead);
        }
    }
    Packing notes;
    for (const UnitSitting::OnNotes& on_notes : book.notes) notes.add(height_of_notes(on_notes.drills));
    out += shorts.count() + notes.count();
    for (const Etude& line : book.form) out += pages(height(line.music), kPageOfSystems);
    return out;
}

void fill_pages(UnitSitting& book, const MoreLines& more_lines) {
    const auto first =
        std::ranges::find(book.units, false, &UnitSitting::OnUnit::shows_bars) - book.units.begin();
    std::vector<double> heights;
    for (auto at = book.units.begin() + first; at != book.units.end(); ++at)
        heights.push_back(height_of(at->lines) + kUnitHead);
    for (const SharedPage& page : shared_pages(heights))
        fill_with_lines(book, static_cast<std::size_t>(first), page, more_lines);
}

void fill_page_of_notes(UnitSitting& book, std::size_t sets, const MoreNotes& more_notes) {
    if (book.notes.empty()) return;
    Packing packed{kMayShare};
    std::size_t last = 0;
    for (const UnitSitting::OnNotes& on_notes : book.notes) {
        packed.add(height_of_notes(on_notes.drills));
        last = std::max(last, on_notes.set);
    }
    for (std::size_t set = last + 1; set < sets; ++set) {
        std::vector<Drill> made = more_notes(set);
        const double height = height_of_notes(made);
        if (made.empty() || height > packed.left()) continue;
        packed.add(height);
        book.notes.push_back({set, std::move(made)});
    }
}

void keep_to_pages(UnitSitting& book, const WrittenMusic& changes, int most, const UnitsOfBook& units) {
    constexpr int kFewBars = 3;
    constexpr int kAnyBars = std::numeric_limits<int>::max();
    const auto leaves_few_bars = [&] { return leave_out_short(book, units, kFewBars); };
    const auto leaves_any = [&] { return leave_out_short(book, units, kAnyBars); };
    const auto leaves_notes = [&] { return leave_out_notes(book); };
    const auto shortens_opening = [&] { return shorten_opening(book, units); };
    // In turn, so that no kind of page goes before the others have given something.
    const std::vector<std::function<bool()>> steps{leaves_few_bars, leaves_notes, leaves_few_bars,
                                                   shortens_opening};
    fit_on_one_page(book);
    const auto is_too_long = [&] { return estimated_pages(book, changes) > most; };
    for (bool changed = true; changed && is_too_long();) {
        changed = false;
        for (const std::function<bool()>& step : steps) {
            if (is_too_long()) changed = step() || changed;
        }
        if (!changed && is_too_long()) changed = leaves_any();
    }
}

}  // namespace shedbook
