// What the books of a day's tunes have of its items: a drill is the same on a page of the book and on one of
// the day, in its notes and in its boxes.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/log_requests.h"
#include "shedbook/log/day_plan.h"

namespace shedbook {

struct PieceOfBook {
    Block block;                       // a drill or an etude
    std::optional<SectionStart> head;  // of its section; a run through the form has none
    std::vector<int> boxes;            // tempos, rising
    std::size_t place = 0;             // in its book, from 0
};

// The bars of a piece on a unit as pages count them; none of other pieces.
[[nodiscard]] std::optional<UnitHead::Place> place_of(const PieceOfBook& piece);

class TuneBooks {
  public:
    TuneBooks() = default;
    // For the first of the request's instruments, at its level, a book for each tune; of two that have an
    // item the first counts.
    TuneBooks(const std::vector<Tune>& tunes, const TodayRequest& request, const std::string& instrument);

    [[nodiscard]] const PieceOfBook* find(const Item& item) const;
    // Drills on scales: the first on each scale of a book, then the second ones.
    [[nodiscard]] std::vector<Item> drills_on_scales() const;

  private:
    void add(BookOnScreen book);

    std::map<Item, PieceOfBook> pieces_;
    std::vector<std::pair<std::size_t, Item>> drills_;  // each with its place within its section
};

}  // namespace shedbook
