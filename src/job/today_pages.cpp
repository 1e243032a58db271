#include "today_pages.h"

#include <algorithm>
#include <optional>
#include <set>
#include <utility>

#include "log_words.h"
#include "shedbook/base/text.h"
#include "shedbook/book/etude.h"
#include "shedbook/book/unit_sheet.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/pieces.h"
#include "tunes.h"

namespace shedbook {
namespace {

// A few boxes from where to begin up to the goal.
TempoBoxes boxes_for(const TempoSteps& tempo) {
    constexpr int kMostBoxes = 5;
    TempoBoxes out;
    out.from_memory = true;
    if (tempo.goal == 0) return out;
    const int steps = (tempo.goal - tempo.start + tempo.step - 1) / tempo.step;
    const int stride = std::max(1, (steps + kMostBoxes - 2) / (kMostBoxes - 1));
    for (int at = tempo.start; at < tempo.goal; at += stride * tempo.step) out.tempos.push_back(at);
    out.tempos.push_back(tempo.goal);
    return out;
}

// A document as one section of another: its pieces alone, under the other's number.
class AsSection : public BlockSink {
  public:
    AsSection(int number, TempoBoxes boxes, BlockSink& to)
        : number_{number}, boxes_{std::move(boxes)}, to_{to} {}
    void begin(const DocumentHead& /*head*/) override {}
    void finish() override {}
    void take(const Block& block) override {
        if (std::holds_alternative<SectionEnd>(block)) return to_.take(block);
        if (const auto* start = std::get_if<SectionStart>(&block)) {
            SectionStart own = *start;
            own.number = number_;
            return to_.take(std::move(own));
        }
        if (const auto* drill = std::get_if<Drill>(&block)) {
            Drill own = *drill;
            own.number.section = number_;
            if (!boxes_.tempos.empty()) own.boxes = boxes_;
            has_piece_ = true;
            return to_.take(std::move(own));
        }
    }
    [[nodiscard]] bool has_piece() const { return has_piece_; }

  private:
    int number_;
    TempoBoxes boxes_;
    BlockSink& to_;
    bool has_piece_ = false;
};

class DayOnPaper {
  public:
    DayOnPaper(const PagesOfDay& day, const std::vector<BookPart>& parts, std::size_t which, BlockSink& sink,
               Diagnostics& diagnostics)
        : day_{day}, parts_{parts}, which_{which}, sink_{sink}, diagnostics_{diagnostics} {}

    void add(const PlannedPiece& piece) {
        if (const PieceOfBook* booked = day_.books.find(piece.item)) return add_booked(piece, *booked);
        switch (piece.item.kind) {
            case ItemKind::Scale:
                return add_scale(piece);
            case ItemKind::Unit:
                return add_unit(piece);
            case ItemKind::Etude:
                return add_form(piece);
        }
    }

    [[nodiscard]] const std::vector<PrintedPiece>& pieces() const { return pieces_; }

  private:
    void remember(const PlannedPiece& piece, const PieceNumber& number) {
        remember(piece, number, boxes_for(piece.tempo));
    }
    void remember(const PlannedPiece& piece, const PieceNumber& number, const TempoBoxes& boxes) {
        pieces_.push_back({in_words(number), piece.item, boxes.tempos, boxes.from_memory});
    }

    void add_booked(const PlannedPiece& piece, const PieceOfBook& booked) {
        ++number_;
        if (booked.head) sink_.take(head_of(piece, booked));
        const PieceNumber number{number_, booked.head ? 1 : 0};
        Block block = booked.block;
        if (auto* drill = std::get_if<Drill>(&block)) {
            drill->number = number;
            drill->boxes.from_memory = true;  // a day asks for it, whatever its book does
            remember(piece, number, drill->boxes);
        } else if (auto* etude = std::get_if<Etude>(&block)) {
            etude->number = number;
            etude->place.reset();
            remember(piece, number, etude->boxes);
        }
        sink_.take(block);
        if (booked.head) sink_.take(SectionEnd{});
    }

    // That of its section, with the place of this piece alone.
    [[nodiscard]] SectionStart head_of(const PlannedPiece& piece, const PieceOfBook& booked) const {
        SectionStart out = *booked.head;
        out.number = number_;
        auto* head = std::get_if<UnitHead>(&out.head);
        const std::optional<UnitHead::Place> place = place_of(booked);
        if (head == nullptr || !place) return out;
        head->again = 0;
        const bool is_elsewhere = head->places.empty() || *place != head->places.front();
        head->places = {*place};
        const auto unit = unit_of(piece.item);
        if (!is_elsewhere || unit == day_.units.end()) return out;
        head->name = unit_name(unit->kind, place->key.mode);
        head->here = unit->place.here;
        head->grade = grade_of(unit->place.difficulty);
        head->why = unit->place.why;
        return out;
    }

    [[nodiscard]] std::vector<UnitOfTune>::const_iterator unit_of(const Item& item) const {
        return std::ranges::find_if(day_.units, [&](const UnitOfTune& unit) {
            return unit_id(unit.kind, unit.place.key.mode) == item.subject &&
                   unit.place.key.tonic.semitone() == item.root;
        });
    }

    void add_scale(const PlannedPiece& piece) {
        const std::optional<Scale> scale = scale_of(piece.item, day_.tonics);
        const DrillTemplate* drill = find_drill(piece.item.work);
        if (!scale || drill == nullptr) return say_missing(piece, "it is not known here");
        SheetTopic topic;
        topic.scale.scale = *scale;
        topic.scale.notes = spelled(*scale);
        BookOptions options;
        options.drills = {drill};
        options.etude.level = day_.level;
        const Document sheet = recorded(
            [&](BlockSink& to) { assemble_sheet({topic}, parts_, which_, options, to, diagnostics_); });
        // A section without its drill would be an empty one.
        if (std::ranges::none_of(sheet.blocks,
                                 [](const Block& b) { return std::holds_alternative<Drill>(b); }))
            return say_missing(piece, "it does not fit the range");
        AsSection section{++number_, boxes_for(piece.tempo), sink_};
        hand_over(sheet, section);
        remember(piece, {number_, 1});
    }

    std::optional<Etude> line(const Tune& tune, const PlannedPiece& piece,
                              std::optional<std::pair<int, int>> bars) {
        EtudeRequest request;
        request.kind = piece.item.work;
        request.level = day_.level;
        request.bars = bars;
        request.once = bars.has_value();
        EtudeMaker maker{parts_, request};
        if (!maker.fits_part(which_)) return std::nullopt;
        std::optional<Etude> out = maker.make(tune, {which_});
        if (out) out->boxes = boxes_for(piece.tempo);
        return out;
    }

    void add_unit(const PlannedPiece& piece) {
        const auto unit = unit_of(piece.item);
        if (unit != day_.units.end()) {
            const UnitPlace& place = unit->place;
            return add_line(piece, *unit->tune, std::pair{place.first_bar, place.last_bar}, unit->kind,
                            place);
        }
        // Of a tune that was not named: the plainest form of such a unit.
        const auto unit_meant = unit_with_id(piece.item.subject);
        const auto plain = std::ranges::find_if(plain_units(), [&](const PlainUnit& u) {
            return UnitInMode{u.kind, u.chart.key.value_or(Key{}).mode} == unit_meant;
        });
        if (plain == plain_units().end()) return say_missing(piece, "name its tune with --tune");
        const int own = plain->chart.key.value_or(Key{}).tonic.semitone();
        const Tune tune = tune_of(chart_of(*plain, (piece.item.root - own + 12) % 12, Prefer::Fewest));
        UnitPlace place;
        place.key = key_of(tune);
        place.first_bar = place.last_bar = 0;
        add_line(piece, tune, std::nullopt, plain->kind, place);
    }

    void add_line(const PlannedPiece& piece, const Tune& tune, std::optional<std::pair<int, int>> bars,
                  UnitKind kind, const UnitPlace& place) {
        std::optional<Etude> etude = line(tune, piece, bars);
        if (!etude) return say_missing(piece, "it does not fit the range");
        const Instrument& instrument = *parts_[which_].instrument;
        const Interval by = written_interval(instrument, key_of(tune), {});
        UnitHead head;
        head.name = unit_name(kind, place.key.mode);
        head.kind = to_word(kind);
        head.here = place.here;
        head.places.push_back({Key{place.key.tonic + by, place.key.mode}, place.first_bar, place.last_bar});
        head.places.back().tonic = place.key.tonic;
        head.grade = grade_of(place.difficulty);
        head.why = place.why;
        sink_.take(SectionStart{++number_, std::move(head)});
        etude->number = {number_, 1};
        remember(piece, etude->number);
        sink_.take(*std::move(etude));
        sink_.take(SectionEnd{});
    }

    void add_form(const PlannedPiece& piece) {
        const auto tune = std::ranges::find_if(
            day_.tunes, [&](const Tune& each) { return each.chart.id == piece.item.subject; });
        if (tune == day_.tunes.end()) return say_missing(piece, "name its tune with --tune");
        std::optional<Etude> etude = line(*tune, piece, std::nullopt);
        if (!etude) return say_missing(piece, "it does not fit the range");
        etude->number = {++number_, 0};
        remember(piece, etude->number);
        sink_.take(*std::move(etude));
    }

    void say_missing(const PlannedPiece& piece, const std::string& why) {
        diagnostics_.note_at(name_of(piece.item, day_.tonics), "is not printed: " + why);
    }

    const PagesOfDay& day_;
    const std::vector<BookPart>& parts_;
    std::size_t which_;
    BlockSink& sink_;
    Diagnostics& diagnostics_;
    int number_ = 0;
    std::vector<PrintedPiece> pieces_;
};

}  // namespace

PrintedPages assemble_day(const PagesOfDay& day, const std::vector<BookPart>& parts, std::size_t which,
                          BlockSink& sink, Diagnostics& diagnostics) {
    sink.begin({day.title, "", {*parts[which].instrument}, day.code});
    sink.take(Caution{std::string{kCaution}});
    DayOnPaper paper{day, parts, which, sink, diagnostics};
    std::set<Item> seen;
    for (const PlannedPiece& piece : day.pieces) {
        if (piece.what != PieceOfDay::Break && seen.insert(piece.item).second) paper.add(piece);
    }
    sink.finish();
    return {day.code, day.title, day.tunes.size() == 1 ? day.tunes.front().chart.id : "", paper.pieces()};
}

}  // namespace shedbook
