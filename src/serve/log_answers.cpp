// The practice log: ticks in, undo, what was entered, the day and what is mastered.
#include <algorithm>
#include <array>
#include <ostream>
#include <sstream>
#include <utility>

#include "json.h"
#include "listener.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/job/log_data.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/log/exchange.h"
#include "shedbook/log/log_book.h"
#include "shown.h"
#include "tune_names.h"

namespace shedbook {
namespace {

constexpr const char* kSourceOfTicks = "page";
constexpr int kUsualLast = 50;
constexpr int kMostLast = 1000;

std::optional<int> number_said(const Body& body, const std::string& name) {
    return body.has(name) ? std::optional{body.number(name)} : std::nullopt;
}

Item item_said(const Data& data) {
    const auto text = [&](const char* name) {
        const Data* found = data.find(name);
        return found == nullptr ? std::string{} : found->as_string().value_or("");
    };
    Item out;
    const auto kind = from_word<ItemKind>(text("kind"));
    if (!kind) throw Refusal(422, "an item is a scale, a unit or an etude");
    out.kind = *kind;
    out.subject = text("subject");
    out.work = text("work");
    out.instrument = text("instrument");
    const Data* root = data.find("root");
    if (root != nullptr) {
        const std::int64_t number = root->as_int().value_or(kNoRoot);
        if (number < kNoRoot || number > 11) throw Refusal(422, "a root is 0 to 11");
        out.root = static_cast<int>(number);
    }
    return out;
}

// The piece of a document, or an item by itself.
PrintedPiece piece_said(Desk& desk, const Body& body, std::string& tune) {
    if (const Data* item = body.find("item")) {
        tune = body.text("tune");
        return {"", item_said(*item), {}};
    }
    const auto shown = desk.document(body.text("document"));
    const PrintedPiece* piece = piece_called(*shown, body.text("piece"));
    if (piece == nullptr) throw Refusal(404, "there is no piece " + body.text("piece"));
    tune = shown->pages.tune;
    return *piece;
}

Answer tick(Desk& desk, const Ask& ask) {
    const Body body{ask};
    const LogPlace place = desk.log_place();
    Entry entry;
    const PrintedPiece piece = piece_said(desk, body, entry.tune);
    entry.item = piece.item;
    if (!piece.boxes.empty()) entry.goal = piece.boxes.back();
    entry.day = place.today;
    entry.tempo = number_said(body, "tempo");
    if (body.has("goal")) entry.goal = body.number("goal");
    entry.right = number_said(body, "right");
    entry.wrong = number_said(body, "wrong");
    entry.from_memory = body.flag("memory");
    entry.seconds = body.number("seconds");
    entry.note = body.text("note");
    entry.source = kSourceOfTicks;
    const Entered entered = enter(std::move(entry), place);
    return answered({{"id", as_data(entered.id)},
                     {"name", as_data(name_as_read(entered.entry.item))},
                     {"standing", standing_of(desk, piece)}},
                    201);
}

Answer undo_tick(Desk& desk, const Ask& ask) {
    const std::string& id = ask.path[2];
    constexpr std::size_t kMostDigits = 15;
    std::int64_t number = 0;
    for (const char c : id) {
        if (!is_digit(c) || id.size() > kMostDigits) throw Refusal(404, "there is no such entry");
        number = 10 * number + (c - '0');
    }
    const LogPlace place = desk.log_place();
    const Record removed = remove_entry(number, place);
    PrintedPiece piece{"", removed.entry.item, {}};
    // The boxes are those of the page on which the tick was undone.
    if (!ask.word("document").empty()) {
        const auto shown = desk.document(ask.word("document"));
        const auto there = std::ranges::find(shown->pages.pieces, piece.item, &PrintedPiece::item);
        if (there != shown->pages.pieces.end()) piece = *there;
    }
    return answered(
        {{"standing", standing_of(desk, piece)}, {"item", as_data(item_as_data(removed.entry.item))}});
}

Answer show_log(Desk& desk, const Ask& ask) {
    ShowRequest request;
    request.place = desk.log_place();
    request.last = std::min(kMostLast, std::max(1, ask.number("last", kUsualLast)));
    request.json = true;
    request.instrument = ask.word("instrument");
    Listener listener;
    std::ostringstream out;
    write_records_json(
        [&](const std::function<void(const Record&)>& take) { show_entries(request, take, listener); }, out,
        true);
    return {200, "application/json", "{\"entries\":" + std::string{trimmed(out.str())} + "}\n"};
}

Answer take_in_ticks(Desk& desk, const Ask& ask) {
    const TemporaryFolder folder;
    const std::string file = folder.path() + "/ticks";
    write_atomically(file, [&](std::ostream& out) { out << ask.body; });
    Listener listener;
    try {
        const ImportCount count = import_log(file, desk.log_place(), listener);
        return answered({{"added", size_as_data(count.added)},
                         {"versions", size_as_data(count.versions)},
                         {"known", size_as_data(count.known)}});
    } catch (const InputError&) {
        throw Refusal(422, "these are no ticks that can be taken in",
                      {{"slips", as_data(Data::Array{listener.slips()})}});
    }
}

TodayRequest day_asked(const Desk& desk, const Ask& ask) {
    TodayRequest out;
    out.place = desk.log_place();
    out.minutes = ask.number("minutes", out.minutes);
    out.level = ask.number("level", out.level);
    if (out.level < 1 || out.level > 6) throw Refusal(422, "levels go from 1 to 6");
    out.gig = ask.word("gig");
    out.on = ask.word("on");
    out.seed = static_cast<std::uint64_t>(ask.number("seed", 1));
    if (!ask.word("instrument").empty()) out.part.instruments = {ask.word("instrument")};
    const std::string tunes = ask.word("tunes");
    for (const std::string_view name : split(tunes, ',')) {
        if (!trimmed(name).empty())
            out.tunes.push_back(desk.folder.path_of(tune_file(desk, std::string{trimmed(name)})));
    }
    return out;
}

// The plan as the command prints it, each item with the piece that it is in the document.
Data::Object day_as_data(const DayOnScreen& day, const PrintedPages& pages) {
    Data::Object out = today_as_data(day.today);
    Data::Array pieces;
    for (const PlannedPiece& planned : day.today.plan.pieces) {
        Data::Object piece = planned_piece_as_data(planned, day.today.tonics);
        const bool is_break = planned.what == PieceOfDay::Break;
        const auto found = std::ranges::find(pages.pieces, planned.item, &PrintedPiece::item);
        const bool is_there = !is_break && found != pages.pieces.end();
        piece.emplace_back("piece", is_there ? as_data(found->number) : Data{});
        piece.emplace_back("boxes", is_there ? as_data(found->boxes) : Data{});
        piece.emplace_back("read", is_break ? Data{} : as_data(name_as_read(planned.item, day.today.tonics)));
        pieces.push_back(as_data(std::move(piece)));
    }
    const auto place = std::ranges::find(out, "pieces", [](const auto& member) { return member.first; });
    if (place != out.end()) place->second = as_data(std::move(pieces));
    return out;
}

Answer tell_today(Desk& desk, const Ask& ask) {
    const TodayRequest request = day_asked(desk, ask);
    Listener listener;
    const DayOnScreen day = open_day(request, listener);
    std::string asked = "day|" + std::to_string(request.level) + "|" + std::to_string(request.seed) + "|" +
                        day.pieces.document.head.code + "|" + day.today.instrument;
    for (const std::string& tune : request.tunes) asked += "|" + tune + "|" + revision_of(read_file(tune));
    const auto shown = desk.documents.get(asked, [&] { return shown_document(day.pieces); });
    Data::Object out = answer_for(desk, *shown);
    for (auto& member : day_as_data(day, shown->pages)) out.push_back(std::move(member));
    for (auto& [name, value] : out) {
        if (name == "instrument") value = instrument_as_data(*find_instrument(day.today.instrument));
    }
    out.emplace_back("says", as_data(listener.sentences()));
    return answered(std::move(out));
}

std::string last_instrument(const Desk& desk) {
    LogBook log{desk.log_file(), {.for_reading = true, .on_network = {}}};
    return log.last_instrument(desk.options.player.empty() ? kMe : desk.options.player);
}

ProgressRequest progress_asked(const Desk& desk, const Ask& ask) {
    ProgressRequest out;
    out.place = desk.log_place();
    if (!ask.word("player").empty()) out.place.player = ask.word("player");  // a student
    out.instrument = ask.word("instrument");
    out.level = ask.number("level", 0);
    out.what = ask.word("what");
    if (!ask.word("tune").empty()) out.what = desk.folder.path_of(tune_file(desk, ask.word("tune")));
    return out;
}

Answer tell_progress(Desk& desk, const Ask& ask) {
    Listener listener;
    const ProgressRequest request = progress_asked(desk, ask);
    if (request.instrument.empty() && last_instrument(desk).empty())
        return answered({{"title", as_data("")},
                         {"instrument", Data{}},
                         {"share", as_data(0)},
                         {"rows", as_data(Data::Array{})},
                         {"notes", as_data(Data::Array{})}});
    return answered(progress_as_data(progress(request, listener)));
}

Answer draw_progress(Desk& desk, const Ask& ask) {
    const TemporaryFolder folder;
    ProgressRequest request = progress_asked(desk, ask);
    request.output = folder.path() + "/progress.svg";
    Listener listener;
    static_cast<void>(progress(request, listener));
    return {200, "image/svg+xml", read_file(request.output)};
}

}  // namespace

std::span<const Route> log_routes() {
    static constexpr std::array<Route, 7> kRoutes{{
        {"POST", "/api/log", tick},
        {"GET", "/api/log", show_log},
        {"DELETE", "/api/log/*", undo_tick},
        {"POST", "/api/log/import", take_in_ticks},
        {"GET", "/api/today", tell_today},
        {"GET", "/api/progress", tell_progress},
        {"GET", "/api/progress.svg", draw_progress},
    }};
    return kRoutes;
}

}  // namespace shedbook
