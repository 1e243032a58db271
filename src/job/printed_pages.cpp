#include "printed_pages.h"

#include <utility>

#include "log_words.h"
#include "shedbook/harmony/units.h"
#include "shedbook/io/errors.h"
#include "shedbook/log/place.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {

void PiecesSeen::begin(const DocumentHead& head) {
    pages_ = {head.code, head.title, "", {}};
    instrument_ = head.parts.empty() ? "" : head.parts.front().id;
    if (tunes_.size() == 1) pages_.tune = tunes_.front().chart.id;
    to_.begin(head);
}

void PiecesSeen::take(const Block& block) {
    if (const auto* start = std::get_if<SectionStart>(&block)) {
        const auto* head = std::get_if<UnitHead>(&start->head);
        unit_ = head == nullptr ? std::nullopt : std::optional{*head};
    }
    if (std::holds_alternative<SectionEnd>(block)) unit_ = std::nullopt;
    if (const auto* drill = std::get_if<Drill>(&block)) see(*drill);
    if (const auto* etude = std::get_if<Etude>(&block)) see(*etude);
    to_.take(block);
}

void PiecesSeen::see(const Drill& drill) {
    const Scale& scale = drill.topic.scale;
    pages_.pieces.push_back(
        {in_words(drill.number),
         {ItemKind::Scale, std::string{scale.type->id}, scale.tonic.semitone(), drill.id, instrument_},
         drill.boxes.tempos,
         drill.boxes.from_memory});
}

void PiecesSeen::see(const Etude& etude) {
    PrintedPiece piece{in_words(etude.number), {}, etude.boxes.tempos, etude.boxes.from_memory};
    const auto kind = unit_ ? from_word<UnitKind>(unit_->kind) : std::nullopt;
    if (kind && !unit_->places.empty()) {
        const UnitHead::Place& place = etude.place ? *etude.place : unit_->places.front();
        piece.item = {ItemKind::Unit, unit_id(*kind, place.key.mode), place.tonic.semitone(), etude.id,
                      instrument_};
    } else {
        piece.item = {ItemKind::Etude, etude.tune.id, kNoRoot, etude.id, instrument_};
    }
    // A tune without a file, as standard input, has no id to be known by.
    if (!piece.item.subject.empty()) pages_.pieces.push_back(std::move(piece));
}

PrintedPages pages_of(const Document& document, const std::vector<Tune>& tunes) {
    class Nowhere : public BlockSink {
        void begin(const DocumentHead& /*head*/) override {}
        void take(const Block& /*block*/) override {}
        void finish() override {}
    };
    Nowhere nowhere;
    PiecesSeen seen{tunes, nowhere};
    hand_over(document, seen);
    return seen.pages();
}

void keep_pages(const std::vector<PrintedPages>& all, Caller& caller) {
    try {
        const std::string folder = pages_folder(log_file("", data_environment()));
        for (const PrintedPages& pages : all) {
            if (!pages.code.empty() && !pages.pieces.empty()) save_pages(folder, pages);
        }
    } catch (const FileError& error) {
        caller.remark(
            "the ticks of these pages cannot be typed later, as the table of their pieces is not kept: " +
            std::string{error.what()});
    }
}

}  // namespace shedbook
