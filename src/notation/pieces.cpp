#include "shedbook/notation/pieces.h"

#include <utility>

namespace shedbook {
namespace {

template <class Piece>
concept HasMusic = requires(const Piece& piece) {
    piece.music;
};
template <class Piece>
concept HasNumber = requires(const Piece& piece) {
    piece.number.piece;
};

}  // namespace

const std::vector<WrittenMusic>* music_of(const Block& block) {
    return std::visit(
        [](const auto& piece) -> const std::vector<WrittenMusic>* {
            if constexpr (HasMusic<decltype(piece)>) return &piece.music;
            return nullptr;
        },
        block);
}

std::optional<PieceNumber> number_of(const Block& block) {
    return std::visit(
        [](const auto& piece) -> std::optional<PieceNumber> {
            if constexpr (HasNumber<decltype(piece)>) return piece.number;
            return std::nullopt;
        },
        block);
}

TempoBoxes boxes_of(const Block& block) {
    return std::visit(
        [](const auto& piece) -> TempoBoxes {
            if constexpr (HasNumber<decltype(piece)>) return piece.boxes;
            return {};
        },
        block);
}

Document recorded(const std::function<void(BlockSink&)>& assemble) {
    Recorder recorder;
    assemble(recorder);
    return std::move(recorder.document);
}

void hand_over(const Document& document, BlockSink& sink) {
    sink.begin(document.head);
    for (const Block& block : document.blocks) sink.take(block);
    sink.finish();
}

void PieceFilter::take(const Block& block) {
    if (const auto* start = std::get_if<SectionStart>(&block)) {
        section_ = *start;
    } else if (std::holds_alternative<SectionEnd>(block)) {
        section_.reset();
        if (std::exchange(is_section_open_, false)) to_.take(block);
    } else if (music_of(block) != nullptr && wanted_(block)) {
        if (section_) {
            to_.take(*std::exchange(section_, std::nullopt));
            is_section_open_ = true;
        }
        to_.take(block);
    }
}

void BarCount::take(const Block& block) {
    const std::vector<WrittenMusic>* music = music_of(block);
    const bool is_rhythm_part =
        std::holds_alternative<Changes>(block) || std::holds_alternative<UnitBars>(block);
    if (music != nullptr && !is_rhythm_part && !music->empty())
        bars_ += static_cast<int>(music->front().measures.size());
    to_.take(block);
}

}  // namespace shedbook
