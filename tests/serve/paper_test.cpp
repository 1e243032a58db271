#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

#include "program_on_path.h"
#include "served.h"

namespace shedbook {
namespace {

constexpr const char* kBook =
    R"({"make":"book","tune":"four-pegs","instruments":["flute","alto-sax"],"level":2,"as":"mxl"})";

}  // namespace

TEST_CASE("a book is made in the background and downloaded", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply ordered = browser.post("/api/paper", kBook);
    REQUIRE(ordered.status == 202);
    const Reply made = when_over(browser, ordered.text("id"));
    CHECK(made.text("state") == "ready");
    REQUIRE(made.size("files") == 2);
    CHECK(made.text("files.0.name") == "four-pegs-alto-sax.mxl");
    const Reply file = browser.get(made.text("files.0.url"));
    CHECK(file.body.starts_with("PK"));
    CHECK(file.headers.at("content-disposition").starts_with("attachment"));
    CHECK(browser.get("/api/paper/" + ordered.text("id") + "/files/..%2Fx").status == 404);
    CHECK(browser.get("/api/paper").text("jobs.0.request.make") == "book");
    CHECK(browser.remove("/api/paper/" + ordered.text("id")).status == 200);
    CHECK(browser.get("/api/paper/" + ordered.text("id")).status == 404);
}

TEST_CASE("sheets, lead sheets and sound are made too, and what is nonsense is refused at once", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    for (const char* order :
         {R"({"make":"sheet","topics":["Dm7","F lydian"],"instruments":["trumpet"],"as":"musicxml"})",
          R"({"make":"lead","tune":"four-pegs","as":"mid"})",
          R"({"make":"lead","tune":"four-pegs","as":"musicxml"})"}) {
        INFO(order);
        const Reply made = when_over(browser, browser.post("/api/paper", order).text("id"));
        CHECK(made.text("state") == "ready");
        CHECK(made.size("files") == 1);
    }
    for (const char* order :
         {R"({"make":"cake"})", R"({"make":"book","tune":"four-pegs","instruments":["kazzoo"]})",
          R"({"make":"book","tune":"four-pegs","instruments":[]})",
          R"({"make":"book","tune":"four-pegs","instruments":["flute"],"as":"exe"})",
          R"({"make":"book","tune":"four-pegs","instruments":["flute"],"plan":"../x.toml"})"}) {
        INFO(order);
        CHECK(browser.post("/api/paper", order).status == 422);
    }
    CHECK(browser.post("/api/paper", R"({"make":"book","tune":"..%2Fx","instruments":["flute"]})").status >=
          400);
}

TEST_CASE("a page for a phone is one file with its drills in it, or says what is missing", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply made = when_over(
        browser,
        browser
            .post("/api/paper",
                  R"({"make":"book","tune":"four-pegs","instruments":["flute"],"level":1,"as":"html"})")
            .text("id"));
    if (!served.server().has_page()) {
        CHECK(made.text("state") == "failed");
        CHECK(made.text("error").find("npm") != std::string::npos);
        return;
    }
    REQUIRE(made.text("state") == "ready");
    const std::string page = browser.get(made.text("files.0.url")).body;
    CHECK(page.size() < std::size_t{12} * 1024 * 1024);
    CHECK(page.find("@BOOK@") == std::string::npos);
    const std::string start = "id=\"book\">";
    const std::size_t from = page.find(start) + start.size();
    const Reply book{200, page.substr(from, page.find("</script>", from) - from), {}};
    CHECK(book.text("instrument.id") == "flute");
    CHECK(book.text("sections.0.pieces.0.musicxml").find("<score-partwise") != std::string::npos);
    CHECK(book.size("sections.0.pieces.0.sound.notes") > 8);
    CHECK_FALSE(book.text("sections.0.pieces.0.item.work").empty());
}

TEST_CASE("the day's programme is printed", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply made = when_over(
        browser,
        browser
            .post("/api/paper", R"({"make":"today","instrument":"flute","tunes":["four-pegs"],"as":"mxl"})")
            .text("id"));
    CHECK(made.text("state") == "ready");
    CHECK(made.text("files.0.name") == "today.mxl");
}

TEST_CASE("work waits in line, is stopped, and is refused where the line is full", "[serve]") {
    // An engraver that takes its time.
    const ProgramOnPath engraver{
        "lilypond", "case \"$*\" in *--version*) echo 'GNU LilyPond 2.24.1';; *) sleep 60;; esac"};
    const Served served;
    Browser browser = served.browser();
    const std::string pdf =
        R"({"make":"book","tune":"four-pegs","instruments":["flute"],"level":2,"as":"pdf"})";
    const std::string first = browser.post("/api/paper", pdf).text("id");
    for (int i = 0; i < 1500 && browser.get("/api/paper/" + first).text("state") == "waits"; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds{20});
    std::string second;
    int refused = 0;
    for (int i = 0; i < 12; ++i) {
        const Reply ordered = browser.post("/api/paper", pdf);
        if (ordered.status == 202 && second.empty()) second = ordered.text("id");
        if (ordered.status == 429) ++refused;
    }
    CHECK(refused == 4);
    const Reply waits = browser.get("/api/paper/" + second);
    CHECK(waits.text("state") == "waits");
    CHECK(waits.number("place") == 2);
    CHECK(browser.post("/api/paper/" + second + "/stop", "{}").text("state") == "stopped");
    const auto began = std::chrono::steady_clock::now();
    browser.post("/api/paper/" + first + "/stop", "{}");
    CHECK(when_over(browser, first).text("state") == "stopped");
    CHECK(std::chrono::steady_clock::now() - began < std::chrono::seconds{30});
    for (int id = 1; id <= 12; ++id) browser.post("/api/paper/" + std::to_string(id) + "/stop", "{}");
}

}  // namespace shedbook
