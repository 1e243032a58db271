// Who is served and what there is: the state, what changed, the lists to pick from.
#include <array>

#include "json.h"
#include "routes.h"
#include "shedbook/io/errors.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/lists.h"
#include "shedbook/log/log_book.h"
#include "shedbook/write/writers.h"

namespace shedbook {
namespace {

// A number that changes with everything that is entered; null where there is no log to be had.
Data log_news(const Desk& desk) {
    try {
        LogBook log{desk.log_file(), {.for_reading = true, .on_network = {}}};
        return as_data(log.state());
    } catch (const MachineError&) {
        return {};
    }
}

Data news_of(Desk& desk) {
    return as_data(Data::Object{{"log", log_news(desk)},
                                {"tunes", as_data(desk.folder.state())},
                                {"paper", as_data(desk.paper.state())}});
}

Answer tell_state(Desk& desk, const Ask& ask) {
    const std::string sound = missing_for_sound(desk.options.sound_font);
    const std::string pages = missing_for_pages();
    const LogPlace place = desk.log_place();
    return answered(
        {{"version", as_data(SHEDBOOK_VERSION)},
         {"folder", as_data(desk.folder.name())},
         {"player", as_data(place.player.empty() ? std::string{kMe} : place.player)},
         {"guest", {ask.is_guest}},
         {"today", as_data(date_text(place.today))},
         {"has", as_data(Data::Object{{"sound", {sound.empty()}}, {"pages", {pages.empty()}}})},
         {"missing", as_data(Data::Object{{"sound", text_or_null(sound)}, {"pages", text_or_null(pages)}})},
         {"news", news_of(desk)}});
}

Answer tell_news(Desk& desk, const Ask& /*nothing is asked*/) {
    return answered({{"news", news_of(desk)}});
}

Answer tell_words(Desk& /*the same for all*/, const Ask& /*nothing is asked*/) {
    return answered({{"instruments", as_data(instruments_as_data())},
                     {"levels", as_data(levels_as_data())},
                     {"plans", as_data(plans_as_data())},
                     {"drills", as_data(drills_as_data())},
                     {"etudes", as_data(etudes_as_data())},
                     {"scales", as_data(scales_as_data())},
                     {"rhythms", as_data(rhythms_as_data())},
                     {"forms", as_data(form_names())},
                     {"papers", as_data(words_of<Paper>())}});
}

}  // namespace

std::span<const Route> state_routes() {
    static constexpr std::array<Route, 3> kRoutes{{
        {"GET", "/api/state", tell_state},
        {"GET", "/api/news", tell_news},
        {"GET", "/api/words", tell_words},
    }};
    return kRoutes;
}

}  // namespace shedbook
