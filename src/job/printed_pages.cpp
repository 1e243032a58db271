#include "printed_pages.h"

#include <algorithm>
#include <set>
#include <utility>

#include "log_words.h"
#include "shedbook/io/errors.h"
#include "shedbook/log/place.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {

void PiecesSeen::begin(const DocumentHead& head) {
    pages_ = {head.code, head.title, "", {}};
    instrument_ = head.parts.empty() ? "" : head.parts.front().id;
    tune_ = tunes_.empty() ? nullptr : &tunes_.front();
    if (tunes_.size() == 1) pages_.tune = tune_->chart.id;
    to_.begin(head);
}

void PiecesSeen::take(const Block& block) {
    if (const auto* chapter = std::get_if<ChapterStart>(&block)) {
        const auto at =
            std::ranges::find_if(tunes_, [&](const Tune& tune) { return tune.chart.id == chapter->tune.id; });
        if (at != tunes_.end()) tune_ = &*at;
    }
    if (const auto* start = std::get_if<SectionStart>(&block)) {
        unit_ = nullptr;
        if (const auto* head = std::get_if<UnitHead>(&start->head)) open_unit(*head);
    }
    if (std::holds_alternative<SectionEnd>(block)) unit_ = nullptr;
    if (const auto* drill = std::get_if<Drill>(&block)) see(*drill);
    if (const auto* etude = std::get_if<Etude>(&block)) see(*etude);
    to_.take(block);
}

// A head names a unit by what its chords do there; it is known again by the places where it stands. How hard
// it is does not tell: that is of the key in which the part reads it.
void PiecesSeen::open_unit(const UnitHead& head) {
    if (tune_ == nullptr || head.places.empty()) return;
    const int before = first_bar_number(tune_->chart) - 1;
    const auto [units, is_new] = units_.try_emplace(tune_);
    if (is_new) units->second = units_of(tune_->chart, tune_->analysis).units;
    using Bars = std::multiset<std::pair<int, int>>;
    Bars wanted;
    for (const UnitHead::Place& place : head.places) wanted.insert({place.first_bar, place.last_bar});
    for (const PracticeUnit& unit : units->second) {
        Bars there;
        for (const UnitPlace& place : unit.places)
            there.insert({place.first_bar + before, place.last_bar + before});
        if (there != wanted) continue;
        const auto place =
            std::ranges::find(unit.places, head.places.front().first_bar - before, &UnitPlace::first_bar);
        root_ = place->key.tonic.semitone();
        unit_ = &unit;
        return;
    }
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
    if (unit_ != nullptr) {
        int root = root_;
        if (etude.place && tune_ != nullptr) {
            const int bar = etude.place->first_bar - first_bar_number(tune_->chart) + 1;
            for (const UnitPlace& place : unit_->places) {
                if (place.first_bar == bar) root = place.key.tonic.semitone();
            }
        }
        piece.item = {ItemKind::Unit, unit_id(unit_->kind), root, etude.id, instrument_};
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
