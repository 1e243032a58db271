#include <catch2/catch.hpp>
#include <map>
#include <thread>
#include <vector>

#include "served.h"
#include "shedbook/log/log_book.h"

namespace shedbook {
namespace {

std::string tick_body(const std::string& document, const std::string& more) {
    return "{\"document\":\"" + document + "\",\"piece\":\"1.1\"" + more + "}";
}

}  // namespace

TEST_CASE("a tick is in the log before it is answered, and can be undone", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply page = browser.get("/api/practise?tune=four-pegs&instrument=flute&level=3");
    const std::string document = page.text("document");
    const std::int64_t box = page.number("sections.0.pieces.0.boxes.0");
    const std::string before = browser.get("/api/news").text("news.tunes");
    const std::int64_t log_before = browser.get("/api/news").number("news.log");
    const Reply ticked =
        browser.post("/api/log", tick_body(document, ",\"tempo\":" + std::to_string(box) + ",\"right\":1"));
    REQUIRE(ticked.status == 201);
    CHECK(ticked.number("standing.ticked.0") == box);
    CHECK(browser.get("/api/news").number("news.log") > log_before);
    CHECK(browser.get("/api/news").text("news.tunes") == before);
    {
        LogBook log{served.log(), {.for_reading = true, .on_network = {}}};
        const auto record = log.find(ticked.number("id"));
        REQUIRE(record);
        CHECK(record->entry.tempo == static_cast<int>(box));
        CHECK(record->entry.tune == "four-pegs");
        CHECK(record->entry.item.instrument == "flute");
    }
    const Reply standings = browser.get("/api/standings?document=" + document);
    const Data of_piece = *standings.at("standings").as_object()->front().second.find("ticked");
    CHECK(of_piece.as_array()->size() == 1);
    CHECK(browser.get("/api/log").size("entries.entries") + browser.get("/api/log").size("entries") >= 1);
    const Reply undone = browser.remove("/api/log/" + std::to_string(ticked.number("id")));
    CHECK(undone.status == 200);
    CHECK(undone.text("standing.state") == "new");
    CHECK(undone.at("standing.due").is_null());
    CHECK(browser.remove("/api/log/" + std::to_string(ticked.number("id"))).status == 422);
    CHECK(browser.remove("/api/log/x").status == 404);
}

TEST_CASE("what cannot have been played is not entered", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string document =
        browser.get("/api/practise?tune=four-pegs&instrument=flute&level=3").text("document");
    CHECK(browser.post("/api/log", tick_body(document, ",\"tempo\":9000")).status == 422);
    CHECK(browser.post("/api/log", tick_body(document, ",\"right\":-1")).status == 422);
    CHECK(browser
              .post("/api/log",
                    R"({"item":{"kind":"scale","subject":"none","root":1,"work":"x","instrument":"flute"}})")
              .status == 422);
    CHECK(browser.post("/api/log", R"({"item":{"kind":"tune"}})").status == 422);
    CHECK(browser.get("/api/log").body.find("\"id\"") == std::string::npos);
}

TEST_CASE("several pages that tick at once lose nothing", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string document =
        browser.get("/api/practise?tune=four-pegs&instrument=flute&level=3").text("document");
    constexpr int kPages = 4;
    constexpr int kTicks = 10;
    std::vector<std::thread> pages;
    for (int i = 0; i < kPages; ++i) {
        pages.emplace_back([&] {
            Browser own = served.browser();
            for (int tick = 0; tick < kTicks; ++tick)
                own.post("/api/log", tick_body(document, ",\"tempo\":60,\"right\":1"));
        });
    }
    for (std::thread& page : pages) page.join();
    LogBook log{served.log(), {.for_reading = true, .on_network = {}}};
    int entries = 0;
    log.each({}, [&](const Record& /*each*/) { ++entries; });
    CHECK(entries == kPages * kTicks);
}

TEST_CASE("the day's programme has a piece for each item, with its music", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    CHECK(browser.get("/api/today").status == 422);  // nobody knows the instrument yet
    const Reply day = browser.get("/api/today?minutes=30&instrument=flute&level=3&tunes=four-pegs");
    REQUIRE(day.status == 200);
    REQUIRE(day.size("pieces") > 1);
    int with_music = 0;
    for (std::size_t i = 0; i < day.size("pieces"); ++i) {
        const std::string piece = day.text("pieces." + std::to_string(i) + ".piece");
        if (piece.empty()) continue;
        ++with_music;
        CHECK(browser.get("/api/music?document=" + day.text("document") + "&piece=" + piece).status == 200);
    }
    CHECK(with_music > 1);
    CHECK_FALSE(day.text("caution").empty());
    CHECK(browser.get("/api/today?minutes=100000&instrument=flute").status == 422);
}

TEST_CASE("the day's programme stays the same all day, whatever is ticked on it", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string asked = "/api/today?minutes=30&instrument=flute&level=3&tunes=four-pegs";
    const Reply morning = browser.get(asked);
    REQUIRE(morning.size("pieces") > 1);
    const std::string first = R"({"document":")" + morning.text("document") + R"(","piece":")" +
                              morning.text("pieces.0.piece") + R"(","tempo":60,"right":0,"wrong":1})";
    REQUIRE(browser.post("/api/log", first).status == 201);
    const Reply later = browser.get(asked);
    CHECK(write_json(later.at("pieces")) == write_json(morning.at("pieces")));
    CHECK(later.text("document") == morning.text("document"));
}

TEST_CASE("a day's drill is the one that is practised: one item, the same notes, boxes and tempos",
          "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply book = browser.get("/api/practise?tune=four-pegs&instrument=alto-sax&level=3");
    const auto key_of = [](const Data& piece) {
        std::string out;
        for (const char* name : {"kind", "subject", "root", "work"})
            out += write_json(*piece.find(name)) + " ";
        return out;
    };
    std::map<std::string, Data> booked;
    for (std::size_t i = 0; i < book.size("sections"); ++i) {
        const Data pieces = book.at("sections." + std::to_string(i) + ".pieces");
        for (const Data& piece : *pieces.as_array()) booked.try_emplace(key_of(*piece.find("item")), piece);
    }
    const auto music = [&](const Reply& document, const std::string& piece) {
        const std::string text =
            browser.get("/api/music?document=" + document.text("document") + "&piece=" + piece).body;
        return text.substr(text.find("<part id"));
    };
    // Another plan for the day has other items, and the same notes of each.
    int alike = 0;
    for (const char* seed : {"1", "2"}) {
        const Reply day = browser.get(
            std::string{"/api/today?minutes=30&instrument=alto-sax&level=3&tunes=four-pegs&seed="} + seed);
        REQUIRE(day.status == 200);
        const Data items = day.at("pieces");
        for (const Data& planned : *items.as_array()) {
            const auto same = planned.find("kind") == nullptr ? booked.end() : booked.find(key_of(planned));
            if (same == booked.end()) continue;
            ++alike;
            const std::string piece = *planned.find("piece")->as_string();
            const std::string number = *same->second.find("piece")->as_string();
            INFO(number << " as " << piece);
            CHECK(write_json(*planned.find("boxes")) == write_json(*same->second.find("boxes")));
            CHECK(write_json(*planned.find("start")) ==
                  write_json(same->second.find("boxes")->as_array()->front()));
            CHECK(music(day, piece) == music(book, number));
        }
    }
    CHECK(alike > 3);
}

TEST_CASE("an undone tick leaves the other boxes ticked", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply page = browser.get("/api/practise?tune=four-pegs&instrument=flute&level=3");
    const std::string document = page.text("document");
    const auto tick_box = [&](const std::string& box) {
        const std::string tempo = std::to_string(page.number("sections.0.pieces.0.boxes." + box));
        return browser.post("/api/log", tick_body(document, ",\"tempo\":" + tempo + ",\"right\":1"));
    };
    tick_box("0");
    const Reply second = tick_box("1");
    REQUIRE(second.size("standing.ticked") == 2);
    const Reply undone =
        browser.remove("/api/log/" + std::to_string(second.number("id")) + "?document=" + document);
    CHECK(undone.size("standing.ticked") == 1);
}

TEST_CASE("what is mastered is told and drawn", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string document =
        browser.get("/api/practise?tune=four-pegs&instrument=flute&level=3").text("document");
    browser.post("/api/log", tick_body(document, ",\"tempo\":60,\"right\":1"));
    const Reply told = browser.get("/api/progress?tune=four-pegs&instrument=flute");
    CHECK(told.status == 200);
    CHECK(told.size("rows") > 0);
    const Reply drawn = browser.get("/api/progress.svg?tune=four-pegs&instrument=flute");
    CHECK(drawn.headers.at("content-type") == "image/svg+xml");
    CHECK(drawn.body.find("<svg") != std::string::npos);
}

TEST_CASE("ticks that a student's page kept are taken in once", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string csv =
        "kind,subject,root,work,instrument,day,tempo,right,player\n"
        "scale,dorian,2,thirds,flute,2026-11-29,80,2,Ada\n";
    const auto take_in = [&](const std::string& text) {
        return browser.send("POST", "/api/log/import", text,
                            {{"Cookie", browser.cookie()},
                             {"Origin", "http://127.0.0.1:" + std::to_string(served.server().port())},
                             {"Content-Type", "application/octet-stream"}});
    };
    CHECK(take_in(csv).number("added") == 1);
    const Reply again = take_in(csv);
    CHECK(again.number("added") == 0);
    CHECK(again.number("known") == 1);
    CHECK(take_in("no,table\n1").status == 422);
}

}  // namespace shedbook
