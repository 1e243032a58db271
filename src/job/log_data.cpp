#include "shedbook/job/log_data.h"

#include <algorithm>
#include <cstdint>
#include <string>
#include <utility>

#include "shedbook/book/book.h"
#include "shedbook/io/as_data.h"

namespace shedbook {
namespace {

Data row_as_data(const ProgressRow& row) {
    Data::Array cells;
    for (const ProgressRow::Cell& cell : row.cells) {
        cells.push_back(Data{Data::Object{{"work", Data{cell.work}},
                                          {"state", Data{std::string{to_word(cell.state)}}},
                                          {"clean_tempo", Data{std::int64_t{cell.tempo}}},
                                          {"goal", Data{std::int64_t{cell.goal}}},
                                          {"due", cell.due ? Data{date_text(*cell.due)} : Data{}}}});
    }
    return Data{Data::Object{{"name", Data{row.name}},
                             {"group", Data{row.group}},
                             {"kind", Data{std::string{to_word(row.item.kind)}}},
                             {"subject", Data{row.item.subject}},
                             {"root", row.item.root == kNoRoot ? Data{} : Data{std::int64_t{row.item.root}}},
                             {"share", Data{std::int64_t{row.share}}},
                             {"drills", Data{std::move(cells)}}}};
}

Data number_or_null(int number) {
    return number == 0 ? Data{} : Data{std::int64_t{number}};
}

}  // namespace

Data::Object item_as_data(const Item& item) {
    return {{"kind", as_data(to_word(item.kind))},
            {"subject", as_data(item.subject)},
            {"root", item.root == kNoRoot ? Data{} : as_data(item.root)},
            {"work", as_data(item.work)},
            {"instrument", as_data(item.instrument)}};
}

Data item_called(const PrintedPages& pages, const std::string& number) {
    const auto found = std::ranges::find(pages.pieces, number, &PrintedPiece::number);
    return found == pages.pieces.end() ? Data{} : Data{item_as_data(found->item)};
}

Data::Object planned_piece_as_data(const PlannedPiece& piece, const TonicsAsWritten& tonics) {
    Data::Object out{{"what", Data{std::string{to_word(piece.what)}}},
                     {"minutes", Data{std::int64_t{piece.minutes}}}};
    if (piece.what == PieceOfDay::Break) return out;
    out.emplace_back("kind", Data{std::string{to_word(piece.item.kind)}});
    out.emplace_back("subject", Data{piece.item.subject});
    out.emplace_back("root", piece.item.root == kNoRoot ? Data{} : Data{std::int64_t{piece.item.root}});
    out.emplace_back("work", Data{piece.item.work});
    out.emplace_back("name", Data{name_of(piece.item, tonics)});
    out.emplace_back("start", number_or_null(piece.tempo.start));
    out.emplace_back("step", number_or_null(piece.tempo.step));
    out.emplace_back("goal", number_or_null(piece.tempo.goal));
    out.emplace_back("why", Data{piece.why});
    return out;
}

Data::Object today_as_data(const Today& today) {
    Data::Array pieces;
    for (const PlannedPiece& piece : today.plan.pieces)
        pieces.push_back(Data{planned_piece_as_data(piece, today.tonics)});
    Data::Array notes;
    for (const std::string& note : today.notes) notes.push_back(Data{note});
    return {{"day", Data{date_text(today.day)}},
            {"instrument", Data{today.instrument}},
            {"minutes", Data{std::int64_t{today.plan.minutes()}}},
            {"pieces", Data{std::move(pieces)}},
            {"waiting", Data{std::int64_t{today.plan.waiting}}},
            {"notes", Data{std::move(notes)}},
            {"caution", Data{std::string{kCaution}}}};
}

Data::Object progress_as_data(const ProgressReport& report) {
    Data::Array rows;
    for (const ProgressRow& row : report.rows) rows.push_back(row_as_data(row));
    Data::Array notes;
    for (const std::string& note : report.notes) notes.push_back(Data{note});
    return {{"title", Data{report.title}},
            {"instrument", Data{report.instrument}},
            {"share", Data{std::int64_t{report.share}}},
            {"rows", Data{std::move(rows)}},
            {"notes", Data{std::move(notes)}}};
}

}  // namespace shedbook
