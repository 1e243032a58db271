// Where the pages of whole books turn, as they are planned before anything is engraved.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "../../src/write/page_plan.h"
#include "shedbook/job/jobs.h"

namespace shedbook {
namespace {

class Silent : public Caller {
  public:
    void say(const Diagnostics& /*unheard*/) override {}
    void remark(const std::string& /*unheard*/) override {}
};

struct Player {
    std::string instrument;
    int level;
    std::string fingerings;
};

Document book_for(const Player& player, const std::string& tune) {
    BookRequest request;
    request.tunes = {std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts/" + tune + ".tune"};
    request.part.instruments = {player.instrument};
    request.part.fingerings = player.fingerings;
    request.level.level = player.level;
    Silent caller;
    return open_book(request, caller).document;
}

std::vector<std::string> all_tunes() {
    std::set<std::string> out;
    for (const auto& entry :
         std::filesystem::directory_iterator{std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts"}) {
        if (entry.path().extension() == ".tune") out.insert(entry.path().stem().string());
    }
    return {out.begin(), out.end()};
}

}  // namespace

TEST_CASE("no unit of two pages turns overleaf, whatever stands before it", "[job]") {
    const bool in_all = std::getenv("SHEDBOOK_TEST_ALL") != nullptr;
    const std::vector<Player> players{{"piano", 3, "none"},
                                      {"piano-both-hands", 3, "none"},
                                      {"alto-sax", 4, "none"},
                                      {"guitar", 3, "all"},
                                      {"viola", 0, "none"}};
    // Units of two pages stand here behind one of one page.
    const std::vector<std::string> few{"crooked-fence", "third-floor-third-door"};
    int openings = 0;
    for (const std::string& tune : in_all ? all_tunes() : few) {
        for (const Player& player : players) {
            const Document book = book_for(player, tune);
            const PagePlan plan = planned(contents_of(book), room_of(Paper::A4));
            for (const PlannedSection& section : plan.tunes.front().sections) {
                if (!section.is_unit() || section.pages != 2) continue;
                CAPTURE(tune, player.instrument, section.section()->number, section.first_page);
                CHECK(section.first_page % 2 == 0);
                ++openings;
            }
        }
    }
    CHECK(openings > 0);
}

}  // namespace shedbook
