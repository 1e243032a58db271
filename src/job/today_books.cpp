#include "today_books.h"

#include <algorithm>
#include <string>
#include <utility>

#include "shedbook/notation/document_words.h"
#include "tune_book.h"

namespace shedbook {
namespace {

// What a book leaves out is said when it is made.
class NoListener : public Caller {
  public:
    void say(const Diagnostics& /*diagnostics*/) override {}
    void remark(const std::string& /*line*/) override {}
};

BookRequest book_for(const TodayRequest& request, const std::string& instrument) {
    BookRequest out;
    out.part = request.part;
    out.part.instruments = {instrument};
    out.tune = request.reading;
    out.level.level = request.level;
    return out;
}

}  // namespace

std::optional<UnitHead::Place> place_of(const PieceOfBook& piece) {
    const auto* etude = std::get_if<Etude>(&piece.block);
    if (etude != nullptr && etude->place) return etude->place;
    const auto* head = piece.head ? std::get_if<UnitHead>(&piece.head->head) : nullptr;
    if (head == nullptr || head->places.empty()) return std::nullopt;
    return head->places.front();
}

TuneBooks::TuneBooks(const std::vector<Tune>& tunes, const TodayRequest& request,
                     const std::string& instrument) {
    NoListener nobody;
    for (const Tune& tune : tunes) {
        try {
            add(open_book_of(tune, book_for(request, instrument), nobody));
        } catch (const UsageError&) {
            // There is no chord in it to make a book of.
        }
    }
    std::ranges::stable_sort(drills_, {}, [](const auto& drill) { return drill.first; });
}

void TuneBooks::add(BookOnScreen book) {
    std::optional<SectionStart> head;
    std::size_t place = 0;
    for (Block& block : book.document.blocks) {
        if (const auto* start = std::get_if<SectionStart>(&block)) head = *start;
        if (std::holds_alternative<SectionEnd>(block)) head.reset();
        const std::optional<PieceNumber> number = number_of(block);
        if (!number) continue;
        const auto seen = std::ranges::find(book.pages.pieces, in_words(*number), &PrintedPiece::number);
        if (seen == book.pages.pieces.end()) continue;
        if (seen->item.kind == ItemKind::Scale)
            drills_.emplace_back(static_cast<std::size_t>(number->piece), seen->item);
        pieces_.try_emplace(seen->item, PieceOfBook{std::move(block), head, seen->boxes, place++});
    }
}

const PieceOfBook* TuneBooks::find(const Item& item) const {
    const auto found = pieces_.find(item);
    return found == pieces_.end() ? nullptr : &found->second;
}

std::vector<Item> TuneBooks::drills_on_scales() const {
    std::vector<Item> out;
    out.reserve(drills_.size());
    for (const auto& drill : drills_) out.push_back(drill.second);
    return out;
}

}  // namespace shedbook
