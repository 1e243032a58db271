// Books, sheets, lead sheets and class sets as files, made in the background.
#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include "json.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "shedbook/book/roster.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/job/words.h"
#include "tune_names.h"

namespace shedbook {
namespace {

constexpr std::array<std::string_view, 9> kForms{"pdf",  "mxl", "musicxml", "mid", "wav",
                                                 "flac", "svg", "png",      "html"};

std::string form_asked(const Body& body) {
    std::string out = body.has("as") ? body.text("as") : "pdf";
    if (std::ranges::find(kForms, out) == kForms.end())
        throw Refusal(422, "nothing is made as '" + out + "'");
    return out;
}

std::vector<std::string> instruments_asked(const Body& body) {
    std::vector<std::string> out = body.texts("instruments");
    if (out.empty()) throw Refusal(422, "for which instrument?");
    for (const std::string& name : out) static_cast<void>(instrument_called(name));
    return out;
}

OutputRequest output_asked(const Body& body, const std::string& file, const std::string& form) {
    OutputRequest out;
    out.file = file;
    if (form == "pdf" || form == "svg" || form == "png") out.paper = body.text("paper");
    return out;
}

LevelRequest level_asked(const Body& body) {
    LevelRequest out;
    out.level = body.number("level");
    if (out.level != 0 && (out.level < kLowestLevel || out.level > kHighestLevel))
        throw Refusal(422, "levels go from 1 to 6");
    out.plan = body.text("plan");
    if (!out.plan.empty() && find_plan(out.plan) == nullptr)
        throw Refusal(422, "there is no plan '" + out.plan + "'");
    out.seed = static_cast<std::uint64_t>(std::max(0, body.number("seed", 1)));
    return out;
}

// A name for files: that of the tune.
std::string stem_of(const std::string& file) {
    return std::filesystem::path{file}.stem().string();
}

PaperWork book_work(Desk& desk, const Body& body) {
    BookRequest request;
    const std::string file = tune_file(desk, body.text("tune"));
    request.tunes = {desk.folder.path_of(file)};
    request.part.instruments = instruments_asked(body);
    request.part.range = body.text("range");
    request.part.fingerings = body.text("fingerings");
    request.level = level_asked(body);
    const std::string form = form_asked(body);
    request.output = output_asked(body, "", form);
    return [request, form, stem = stem_of(file)](const std::string& folder, Caller& caller) {
        BookRequest own = request;
        own.output.file = folder + "/" + stem + "." + form;
        static_cast<void>(make_book(own, caller));
        return PaperResult{};
    };
}

PaperWork sheet_work(Desk& /*of no tune*/, const Body& body) {
    SheetRequest request;
    request.topics = body.texts("topics");
    request.unit = body.text("unit");
    request.part.instruments = instruments_asked(body);
    request.drill.drills = body.texts("drills");
    request.keys = body.text("keys");
    const std::string form = form_asked(body);
    request.output = output_asked(body, "", form);
    return [request, form](const std::string& folder, Caller& caller) {
        SheetRequest own = request;
        own.output.file = folder + "/sheet." + form;
        static_cast<void>(make_sheet(own, caller));
        return PaperResult{};
    };
}

PaperWork lead_work(Desk& desk, const Body& body) {
    ConvertRequest request;
    const std::string file = tune_file(desk, body.text("tune"));
    request.input = desk.folder.path_of(file);
    request.part.instruments = body.texts("instruments");
    const std::string form = form_asked(body);
    request.output = output_asked(body, "", form);
    request.output.paper.clear();
    return [request, form, stem = stem_of(file)](const std::string& folder, Caller& caller) {
        ConvertRequest own = request;
        own.output.file = folder + "/" + stem + "." + form;
        static_cast<void>(convert(own, caller));
        return PaperResult{};
    };
}

PaperWork class_work(Desk& desk, const Body& body) {
    ClassRequest request;
    const std::string roster = roster_file(desk, body.text("roster"));
    request.roster = desk.folder.path_of(roster);
    request.tune = desk.folder.path_of(tune_file(desk, body.text("tune")));
    request.ending = form_asked(body);
    request.paper = body.text("paper");
    request.score = body.text("score");
    request.no_score = body.flag("no_score");
    request.keep_going = true;
    return [request](const std::string& folder, Caller& caller) {
        ClassRequest own = request;
        own.folder = folder;
        return PaperResult{make_class(own, caller).rows};
    };
}

PaperWork today_work(Desk& desk, const Body& body) {
    TodayRequest request;
    request.place = desk.log_place();
    request.minutes = body.number("minutes", request.minutes);
    request.level = body.number("level", request.level);
    if (request.level < kLowestLevel || request.level > kHighestLevel)
        throw Refusal(422, "levels go from 1 to 6");
    request.gig = body.text("gig");
    if (body.has("instrument")) request.part.instruments = {instrument_called(body.text("instrument")).id};
    for (const std::string& tune : body.texts("tunes"))
        request.tunes.push_back(desk.folder.path_of(tune_file(desk, tune)));
    const std::string form = form_asked(body);
    request.output = output_asked(body, "", form);
    return [request, form](const std::string& folder, Caller& caller) {
        TodayRequest own = request;
        own.output.file = folder + "/today." + form;
        static_cast<void>(today(own, caller));
        return PaperResult{};
    };
}

struct PaperKind {
    std::string_view word;
    PaperWork (*work)(Desk&, const Body&);
};
constexpr std::array<PaperKind, 5> kKinds{{{"book", book_work},
                                           {"sheet", sheet_work},
                                           {"lead", lead_work},
                                           {"class", class_work},
                                           {"today", today_work}}};

Answer order_paper(Desk& desk, const Ask& ask) {
    const Body body{ask};
    const std::string make = body.text("make");
    const auto* kind = std::ranges::find(kKinds, make, &PaperKind::word);
    if (kind == kKinds.end()) throw Refusal(422, "what is to be made: book, sheet, lead, class or today?");
    PaperOrder order;
    order.make = make;
    order.of = body.has("tune") ? body.text("tune") : join(body.texts("topics"), ", ");
    // A class has many files; the zip of them is called by the class and the tune.
    if (make == "class") order.pack = stem_of(body.text("roster")) + "-" + stem_of(body.text("tune"));
    order.request = body.data();
    order.work = kind->work(desk, body);
    const std::int64_t id = desk.paper.add(std::move(order));
    Answer out = answered({}, 202);
    out.body = write_json(desk.paper.describe(id)) + "\n";
    return out;
}

std::int64_t job_number(std::string_view word) {
    std::int64_t out = 0;
    constexpr std::size_t kMostDigits = 12;
    for (const char c : word) {
        if (!is_digit(c) || word.size() > kMostDigits) throw Refusal(404, "nothing of that number is made");
        out = 10 * out + (c - '0');
    }
    return out;
}

std::int64_t id_asked(const Ask& ask) {
    return job_number(ask.path[2]);
}

Answer described_job(Desk& desk, std::int64_t id) {
    const Data job = desk.paper.describe(id);
    if (job.is_null()) throw Refusal(404, "nothing of that number is made");
    return {200, "application/json", write_json(job) + "\n"};
}

Answer list_paper(Desk& desk, const Ask& /*all of it*/) {
    return answered({{"jobs", as_data(desk.paper.describe_all())}});
}

Answer tell_paper(Desk& desk, const Ask& ask) {
    return described_job(desk, id_asked(ask));
}

Answer stop_paper(Desk& desk, const Ask& ask) {
    desk.paper.stop(id_asked(ask));
    return described_job(desk, id_asked(ask));
}

Answer remove_paper(Desk& desk, const Ask& ask) {
    if (!desk.paper.remove(id_asked(ask))) throw Refusal(404, "nothing of that number is made");
    return answered({});
}

// RFC 6266, with the name in UTF-8 as RFC 8187 has it.
std::string attachment(const std::string& name) {
    constexpr std::string_view kHex = "0123456789ABCDEF";
    std::string out = "attachment; filename*=UTF-8''";
    for (const char c : name) {
        const auto byte = static_cast<unsigned char>(c);
        if (is_letter(c) || is_digit(c) || c == '-' || c == '.' || c == '_') {
            out += c;
        } else {
            out += {'%', kHex[byte >> 4U], kHex[byte & 0xFU]};
        }
    }
    return out;
}

Answer send_paper(Desk& desk, const Ask& ask) {
    const std::string& name = ask.path[4];
    const std::string file = desk.paper.file_of(id_asked(ask), name);
    if (file.empty()) throw Refusal(404, "there is no such file");
    Answer out{200, name.ends_with(".pdf") ? "application/pdf" : "application/octet-stream", ""};
    out.headers.emplace_back("Content-Disposition", attachment(name));
    out.file = file;
    return out;
}

// All files of one or several sets as one.
Answer send_pack(Desk& desk, const Ask& ask) {
    std::vector<std::int64_t> ids;
    const std::string asked = ask.word("jobs");
    for (const std::string_view word : split(asked, ',')) ids.push_back(job_number(word));
    if (ids.size() > kForms.size()) throw Refusal(422, "one set of each kind goes into a zip");
    const PaperQueue::Pack pack = desk.paper.packed(ids);
    if (pack.file.empty()) throw Refusal(404, "these are not ready, or do not go together");
    Answer out{200, "application/zip", ""};
    out.headers.emplace_back("Content-Disposition", attachment(pack.name + ".zip"));
    out.file = pack.file;
    return out;
}

}  // namespace

std::span<const Route> paper_routes() {
    static constexpr std::array<Route, 7> kRoutes{{
        {"POST", "/api/paper", order_paper},
        {"GET", "/api/paper", list_paper},
        {"GET", "/api/paper/zip", send_pack},
        {"GET", "/api/paper/*", tell_paper},
        {"DELETE", "/api/paper/*", remove_paper},
        {"POST", "/api/paper/*/stop", stop_paper},
        {"GET", "/api/paper/*/files/*", send_paper},
    }};
    return kRoutes;
}

}  // namespace shedbook
