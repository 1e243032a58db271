// A tune to practise: its units and drills, their music, and where the player stands with them.
#include <array>
#include <utility>

#include "json.h"
#include "listener.h"
#include "music.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/write/screen_data.h"
#include "shown.h"
#include "tune_names.h"

namespace shedbook {
namespace {

// The slips of a text chart with their places in it, for whoever cannot practise it yet.
[[noreturn]] void refuse_with_slips(const Desk& desk, const std::string& file, const Listener& listener) {
    const std::optional<StoredText> stored = desk.folder.read(file);
    Data::Array slips = listener.slips();
    if (stored && file.ends_with(".tune") && is_valid_utf8(stored->text)) {
        const TuneDraft draft = read_draft("tune", stored->text, {});
        slips = slips_of(draft.diagnostics, draft.is_pasted ? nullptr : &stored->text);
    }
    throw Refusal(422, "this tune has slips that must be mended first",
                  {{"slips", as_data(std::move(slips))}});
}

BookRequest book_asked(const Desk& desk, const std::string& file, const Ask& ask) {
    BookRequest out;
    out.tunes = {desk.folder.path_of(file)};
    out.part.instruments = {ask.word("instrument").empty() ? "piano" : ask.word("instrument")};
    out.part.range = ask.word("range");
    out.level.level = ask.number("level", 0);
    if (out.level.level != 0 && (out.level.level < kLowestLevel || out.level.level > kHighestLevel))
        throw Refusal(422, "levels go from 1 to 6");
    out.level.plan = ask.word("plan");
    // A plan is one that comes with the program: no file is named from a page.
    if (out.level.plan.ends_with(".toml")) throw Refusal(422, "there is no such plan");
    out.level.seed = static_cast<std::uint64_t>(ask.number("seed", 1));
    return out;
}

Answer practise(Desk& desk, const Ask& ask) {
    const std::string file = tune_file(desk, ask.word("tune"));
    const BookRequest request = book_asked(desk, file, ask);
    const Instrument& instrument = instrument_called(request.part.instruments.front());
    const std::string revision = desk.folder.read(file).value_or(StoredText{}).revision;
    const std::string asked = "book|" + file + "|" + revision + "|" + instrument.id + "|" +
                              request.part.range + "|" + std::to_string(request.level.level) + "|" +
                              request.level.plan + "|" + std::to_string(request.level.seed);
    const auto shown = desk.documents.get(asked, [&] {
        Listener listener;
        try {
            ShownDocument made = shown_document(open_book(request, listener));
            made.tune = made.document.head.title;
            made.described.emplace_back("says", as_data(listener.sentences()));
            return made;
        } catch (const InputError&) {
            refuse_with_slips(desk, file, listener);
        }
    });
    Data::Object out = answer_for(desk, *shown);
    out.emplace_back("instrument", instrument_as_data(instrument));
    out.emplace_back("level", as_data(std::int64_t{request.level.level}));
    out.emplace_back("plan", text_or_null(request.level.plan));
    return answered(std::move(out));
}

Answer tell_standings(Desk& desk, const Ask& ask) {
    return answered({{"standings", as_data(standings_of(desk, *desk.document(ask.word("document"))))}});
}

Answer send_music(Desk& desk, const Ask& ask) {
    const auto shown = desk.document(ask.word("document"));
    const std::string piece = ask.word("piece");
    const std::string section = ask.word("section");
    Data::Object pieces;
    for (const Block& block : shown->document.blocks) {
        const auto number = number_of(block);
        const std::vector<WrittenMusic>* music = music_of(block);
        const std::string name = number ? in_words(*number) : "changes";
        if (music == nullptr || (!number && !std::holds_alternative<LeadSheet>(block))) continue;
        const bool is_meant =
            section.empty() ? name == piece : number && std::to_string(number->section) == section;
        if (!is_meant) continue;
        pieces.emplace_back(
            name, as_data(Data::Object{{"musicxml", as_data(musicxml_of(shown->document.head, *music))},
                                       {"symbols", as_data(symbols_over(music->front()))},
                                       {"pickup", {music->front().measures.front().is_pickup}},
                                       {"words", as_data(bars_in_words(music->front()))}}));
    }
    if (pieces.empty()) throw Refusal(404, "there is no piece " + piece + section);
    return answered({{"pieces", as_data(std::move(pieces))}});
}

Answer make_sheet_shown(Desk& desk, const Ask& ask) {
    const Body body{ask};
    SheetRequest request;
    request.topics = {body.text("topic")};
    request.part.instruments = {body.has("instrument") ? body.text("instrument") : "piano"};
    request.drill.drills = body.texts("drills");
    if (request.drill.drills.empty()) request.drill.drills = {sheet_drills().front()};
    const std::string scale = body.text("scale");
    const std::string asked = "sheet|" + request.topics.front() + "|" + scale + "|" +
                              request.part.instruments.front() + "|" + join(request.drill.drills, ",");
    const auto shown = desk.documents.get(asked, [&] {
        Listener listener;
        try {
            return shown_document(open_sheet(request, scale, listener));
        } catch (const InputError&) {
            throw Refusal(422, "this is no chord and no scale",
                          {{"slips", as_data(Data::Array{listener.slips()})}});
        }
    });
    return answered(answer_for(desk, *shown));
}

}  // namespace

std::span<const Route> practise_routes() {
    static constexpr std::array<Route, 4> kRoutes{{
        {"GET", "/api/practise", practise},
        {"GET", "/api/standings", tell_standings},
        {"GET", "/api/music", send_music},
        {"POST", "/api/sheet", make_sheet_shown, true},
    }};
    return kRoutes;
}

}  // namespace shedbook
