// What to play today.
#include <algorithm>
#include <memory>
#include <utility>

#include "goals.h"
#include "level_request.h"
#include "log_words.h"
#include "output.h"
#include "parts.h"
#include "printed_pages.h"
#include "shedbook/base/text.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/log/place.h"
#include "shedbook/log/standing.h"
#include "today_offers.h"
#include "today_pages.h"

namespace shedbook {
namespace {

std::string player_of(const TodayRequest& request) {
    return player_called(request.place.player);
}

// What the log knew when the day began: a day on a screen is not laid out anew by what is ticked on it.
std::vector<KnownItem> as_it_began(LogBook& log, const std::string& player, Day day,
                                   std::vector<KnownItem> known) {
    for (KnownItem& one : known) {
        if (one.standing.last != day) continue;
        std::vector<Entry> before = log.entries_of(player, one.item);
        std::erase_if(before, [day](const Entry& entry) { return entry.day >= day; });
        one.standing = standing_of(before);
    }
    std::erase_if(known, [](const KnownItem& one) { return one.standing.entries == 0; });
    return known;
}

// What the log knows and can be played; the rest is said.
std::vector<KnownItem> known_here(std::vector<KnownItem> out, std::vector<std::string>& notes) {
    std::vector<std::string> gone;
    std::erase_if(out, [&](const KnownItem& known) {
        if (is_phrase(known.item)) return true;
        if (is_known_here(known.item)) return false;
        gone.push_back(name_of(known.item));
        return true;
    });
    if (!gone.empty()) {
        constexpr std::size_t kShown = 3;
        const std::size_t count = gone.size();
        if (count > kShown) gone.resize(kShown);
        notes.push_back("in the log and not known here any more, so not planned: " + join(gone, "; ") +
                        (count > kShown ? " and " + std::to_string(count - kShown) + " more" : ""));
    }
    return out;
}

void note_days_ahead(const std::vector<KnownItem>& known, Day day, std::vector<std::string>& notes) {
    const auto ahead =
        std::ranges::count_if(known, [&](const KnownItem& k) { return k.standing.last > day; });
    if (ahead > 0)
        notes.push_back(std::to_string(ahead) + (ahead == 1 ? " item has an entry" : " items have entries") +
                        " of a later day: they wait for it");
}

std::string instrument_of(const TodayRequest& request, LogBook& log) {
    if (request.part.instruments.size() > 1) throw UsageError("today is for one instrument at a time");
    if (!request.part.instruments.empty()) return instrument_called(request.part.instruments.front()).id;
    std::string last = log.last_instrument(player_of(request));
    if (last.empty() || find_instrument(last) == nullptr)
        throw UsageError(
            "on which instrument? --for alto-sax; 'shedbook list instruments' shows what there is");
    return last;
}

std::optional<Day> gig_of(const TodayRequest& request, Day day) {
    if (request.gig.empty()) return std::nullopt;
    const Day gig = day_called(request.gig, day);
    if (gig < day)
        throw UsageError("the gig of " + date_text(gig) + " is over; leave out --gig, or say a later day");
    return gig;
}

// What the pages of the day are about, for their code.
std::string contents_of(const Today& today) {
    std::string out = today.instrument;
    for (const PlannedPiece& piece : today.plan.pieces)
        out += "|" + name_of(piece.item) + std::to_string(piece.tempo.start);
    return out;
}

void check_minutes(const TodayRequest& request) {
    if (request.minutes < kFewestMinutes || request.minutes > kMostMinutes)
        throw UsageError("--minutes takes " + std::to_string(kFewestMinutes) + " to " +
                         std::to_string(kMostMinutes) + ", not " + std::to_string(request.minutes));
}

// A plan with what it was made of. The units point to the tunes beside them.
struct DayInHand {
    std::vector<Tune> tunes;
    std::vector<UnitOfTune> units;
    TuneBooks books;
    Today today;
};

// What a book has keeps the boxes of the book.
void take_tempos(const TuneBooks& books, const std::vector<KnownItem>& known, DayPlan& plan) {
    for (PlannedPiece& piece : plan.pieces) {
        const PieceOfBook* booked = piece.what == PieceOfDay::Break ? nullptr : books.find(piece.item);
        if (booked == nullptr) continue;
        const auto standing = std::ranges::find(known, piece.item, &KnownItem::item);
        piece.tempo = tempo_steps(standing == known.end() ? Standing{} : standing->standing, booked->boxes);
    }
}

enum class PlanOf { Now, Morning };

std::unique_ptr<DayInHand> plan_in_hand(const TodayRequest& request, PlanOf when, Caller& caller) {
    check_minutes(request);
    auto day = std::make_unique<DayInHand>();
    Today& out = day->today;
    std::vector<Tune>& tunes = day->tunes;
    out.day = day_called(request.on, request.place.today);
    const std::optional<Day> gig = gig_of(request, out.day);
    if (!request.tunes.empty())
        tunes = load_tunes(request.tunes, as_at_level(request.reading, request.level), caller);
    LogBook log{log_file(request.place.data, data_environment()), {.for_reading = true, .on_network = {}}};
    out.instrument = instrument_of(request, log);
    day->units = units_of_tunes(tunes);
    DayWishes wishes;
    wishes.today = out.day;
    wishes.minutes = request.minutes;
    wishes.level = request.level;
    wishes.gig = gig;
    wishes.seed = request.seed;
    std::vector<KnownItem> known = log.standings(player_of(request), out.instrument);
    if (when == PlanOf::Morning) known = as_it_began(log, player_of(request), out.day, std::move(known));
    wishes.known = known_here(std::move(known), out.notes);
    note_days_ahead(wishes.known, out.day, out.notes);
    if (!tunes.empty()) wishes.for_gig = needed_by(tunes, day->units, wishes.known);
    day->books = TuneBooks{tunes, request, out.instrument};
    wishes.units = unit_offers(day->units, out.instrument, request.level, day->books);
    wishes.forms = form_offers(tunes, out.instrument, wishes.known);
    wishes.fresh = fresh_offers(tunes, out.instrument, request.level, wishes.known, day->books);
    out.plan = plan_day(wishes);
    take_tempos(day->books, wishes.known, out.plan);
    out.tonics = tonics_of(tunes, day->units, out.instrument);
    return day;
}

std::vector<BookPart> parts_of_day(const TodayRequest& request, const Today& today, Caller& caller) {
    PartRequest part = request.part;
    part.instruments = {today.instrument};
    if (part.range.empty()) part.range = level(request.level).range;
    return parts_of(part, caller);
}

PagesOfDay pages_of_day(const DayInHand& day, const TodayRequest& request) {
    const std::string title = "Today, " + day_in_words(day.today.day, Day{});
    return {title,
            page_code(title + contents_of(day.today)),
            day.today.plan.pieces,
            day.tunes,
            day.units,
            day.books,
            day.today.tonics,
            request.level};
}

}  // namespace

Today today(const TodayRequest& request, Caller& caller) {
    const std::unique_ptr<DayInHand> day = plan_in_hand(request, PlanOf::Now, caller);
    if (request.output.file.empty()) return std::move(day->today);
    const std::vector<BookPart> parts = parts_of_day(request, day->today, caller);
    const PagesOfDay pages = pages_of_day(*day, request);
    PrintedPages printed;
    day->today.files = write_parts(
        request.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& said) {
            printed = assemble_day(pages, parts, which, sink, said);
        },
        caller);
    keep_pages({printed}, caller);
    return std::move(day->today);
}

DayOnScreen open_day(const TodayRequest& request, Caller& caller) {
    const std::unique_ptr<DayInHand> day = plan_in_hand(request, PlanOf::Morning, caller);
    const std::vector<BookPart> parts = parts_of_day(request, day->today, caller);
    const PagesOfDay pages = pages_of_day(*day, request);
    DayOnScreen out;
    Diagnostics said;
    out.pieces.document =
        recorded([&](BlockSink& sink) { out.pieces.pages = assemble_day(pages, parts, 0, sink, said); });
    caller.say(said);
    out.today = std::move(day->today);
    return out;
}

}  // namespace shedbook
