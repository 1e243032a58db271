#include "printed_pages.h"

#include <optional>
#include <string>
#include <utility>

#include "log_words.h"
#include "shedbook/harmony/units.h"
#include "shedbook/io/errors.h"
#include "shedbook/log/place.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {

namespace {

class PiecesSeen {
  public:
    PiecesSeen(const DocumentHead& head, const std::vector<Tune>& tunes)
        : pages_{head.code, head.title, "", {}},
          instrument_{head.parts.empty() ? "" : head.parts.front().id} {
        if (tunes.size() == 1) pages_.tune = tunes.front().chart.id;
    }

    void see(const Block& block) {
        if (const auto* start = std::get_if<SectionStart>(&block)) {
            const auto* head = std::get_if<UnitHead>(&start->head);
            unit_ = head == nullptr ? std::nullopt : std::optional{*head};
        }
        if (std::holds_alternative<SectionEnd>(block)) unit_ = std::nullopt;
        if (const auto* drill = std::get_if<Drill>(&block)) see(*drill);
        if (const auto* etude = std::get_if<Etude>(&block)) see(*etude);
    }
    [[nodiscard]] PrintedPages pages() && { return std::move(pages_); }

  private:
    void see(const Drill& drill) {
        const Scale& scale = drill.topic.scale;
        pages_.pieces.push_back(
            {in_words(drill.number),
             {ItemKind::Scale, std::string{scale.type->id}, scale.tonic.semitone(), drill.id, instrument_},
             drill.boxes.tempos,
             drill.boxes.from_memory});
    }

    void see(const Etude& etude) {
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

    PrintedPages pages_;
    std::string instrument_;
    std::optional<UnitHead> unit_;  // of this section
};

}  // namespace

PrintedPages pages_of(const Document& document, const std::vector<Tune>& tunes) {
    PiecesSeen seen{document.head, tunes};
    for (const Block& block : document.blocks) seen.see(block);
    return std::move(seen).pages();
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
