#include "desk.h"

#include <chrono>
#include <ctime>

#include "ask.h"
#include "shedbook/log/place.h"
#include "shedbook/write/quickest_font.h"

namespace shedbook {

// Whoever practises waits for the sound: unless a sound font is named, the quickest one is taken.
Desk::Desk(const ServeOptions& asked) : options{asked}, folder{asked.folder} {
    if (options.sound_font.empty()) options.sound_font = quickest_sound_font();
}

std::shared_ptr<const ShownDocument> Desk::document(const std::string& id) {
    for (Documents* kept : {&documents, &drafts}) {
        if (auto found = kept->find(id)) return found;
    }
    throw Refusal(410, "this was put away meanwhile; ask for it again");
}

std::string Desk::log_file() const {
    return shedbook::log_file(options.data, data_environment());
}

LogPlace Desk::log_place() const {
    LogPlace out;
    out.data = options.data;
    out.player = options.player;
    out.now = std::time(nullptr);
    std::tm here{};
    const std::time_t now = out.now;
    localtime_r(&now, &here);
    out.today = std::chrono::year{here.tm_year + 1900} /
                std::chrono::month{static_cast<unsigned>(here.tm_mon + 1)} /
                std::chrono::day{static_cast<unsigned>(here.tm_mday)};
    return out;
}

}  // namespace shedbook
