#include "day_order.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace shedbook {
namespace {

// Those from here on are worth coming back to.
constexpr int kMinutesToSplit = 5;

// A piece in two visits, the second with what it does not say twice.
std::pair<PlannedPiece, PlannedPiece> in_two(const PlannedPiece& piece) {
    PlannedPiece first = piece;
    PlannedPiece second = piece;
    first.minutes = (piece.minutes + 1) / 2;
    second.minutes = piece.minutes / 2;
    second.why = "once more, after something else";
    return {std::move(first), std::move(second)};
}

bool are_alike(const PlannedPiece& a, const PlannedPiece& b) {
    return (a.item.subject == b.item.subject && a.item.root == b.item.root) || a.item.work == b.item.work;
}

// Takes the next piece that differs from the last one; where there is none, the next.
std::vector<PlannedPiece> apart(std::vector<PlannedPiece> pieces) {
    std::vector<PlannedPiece> out;
    while (!pieces.empty()) {
        auto next =
            out.empty() ? pieces.begin() : std::ranges::find_if(pieces, [&](const PlannedPiece& piece) {
                return !are_alike(piece, out.back());
            });
        if (next == pieces.end())
            next = std::ranges::find_if(
                pieces, [&](const PlannedPiece& piece) { return piece.item != out.back().item; });
        if (next == pieces.end()) next = pieces.begin();
        out.push_back(std::move(*next));
        pieces.erase(next);
    }
    return out;
}

std::vector<PlannedPiece> mixed_up(const std::vector<PlannedPiece>& pieces) {
    std::vector<PlannedPiece> first;
    std::vector<PlannedPiece> second;
    for (const PlannedPiece& piece : pieces) {
        if (piece.minutes < kMinutesToSplit || pieces.size() < 2) {
            first.push_back(piece);
            continue;
        }
        auto [now, later] = in_two(piece);
        first.push_back(std::move(now));
        second.push_back(std::move(later));
    }
    first.insert(first.end(), std::make_move_iterator(second.begin()), std::make_move_iterator(second.end()));
    return apart(std::move(first));
}

// What comes back first, then the unit, then what is new: as a teacher's page has it.
int turn_of(const PlannedPiece& piece) {
    switch (piece.what) {
        case PieceOfDay::Back:
            return 0;
        case PieceOfDay::Again:
            return 1;
        case PieceOfDay::Unit:
            return 2;
        default:
            return 3;
    }
}

void add_breaks(std::vector<PlannedPiece>& pieces, int breaks, int minutes_of_break) {
    int playing = 0;
    for (const PlannedPiece& piece : pieces) playing += piece.minutes;
    int played = 0;
    int done = 0;
    for (std::size_t i = 0; i + 1 < pieces.size() && done < breaks; ++i) {
        played += pieces[i].minutes;
        if (played * (breaks + 1) < playing * (done + 1)) continue;
        PlannedPiece rest;
        rest.what = PieceOfDay::Break;
        rest.minutes = minutes_of_break;
        ++done;
        pieces.insert(pieces.begin() + static_cast<std::ptrdiff_t>(++i), rest);
    }
}

}  // namespace

std::vector<PlannedPiece> in_order_of_day(std::vector<PlannedPiece> pieces, bool mixed, int breaks,
                                          int minutes_of_break) {
    const auto is_form = [](const PlannedPiece& piece) { return piece.what == PieceOfDay::Form; };
    std::vector<PlannedPiece> forms;
    std::ranges::copy_if(pieces, std::back_inserter(forms), is_form);
    std::erase_if(pieces, is_form);
    std::ranges::stable_sort(pieces, {}, turn_of);
    std::vector<PlannedPiece> out = mixed ? mixed_up(pieces) : std::move(pieces);
    out.insert(out.end(), forms.begin(), forms.end());
    add_breaks(out, breaks, minutes_of_break);
    return out;
}

}  // namespace shedbook
