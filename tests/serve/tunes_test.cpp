#include <catch2/catch.hpp>
#include <filesystem>

#include "served.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

std::string text_body(const std::string& text) {
    return "{\"text\":" + quoted(text) + "}";
}

}  // namespace

TEST_CASE("the list tells of each tune what a player asks first", "[serve]") {
    const Served served;
    save(served.file("slip.tune"), "Title: Slip\n| Dm7 | Gm77 |\n");
    save(served.file("notes.md"), "no tune");
    Browser browser = served.browser();
    const Reply list = browser.get("/api/tunes");
    REQUIRE(list.size("tunes") == 2);
    CHECK(list.text("tunes.0.name") == "four-pegs");
    CHECK(list.text("tunes.0.title") == "Four Pegs");
    CHECK(list.text("tunes.0.key") == "C major");
    CHECK(list.number("tunes.0.bars") == 4);
    CHECK(list.at("tunes.0.slip").is_null());
    CHECK(list.number("tunes.1.slip.line") == 2);
    CHECK(list.number("tunes.1.slip.from") == 23);
}

TEST_CASE("a tune is saved where it still is what was read, and whole", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply read = browser.get("/api/tunes/four-pegs");
    CHECK(read.text("text") == kFourBars);
    const Reply saved = browser.put("/api/tunes/four-pegs", text_body("| C |\n"), read.text("revision"));
    CHECK(saved.status == 200);
    CHECK(read_file(served.file("four-pegs.tune")) == "| C |\n");
    CHECK(saved.text("revision") == browser.get("/api/tunes/four-pegs").text("revision"));
    CHECK(browser
              .send("PUT", "/api/tunes/four-pegs", text_body("| F |"),
                    {{"Cookie", browser.cookie()},
                     {"Origin", "http://127.0.0.1:" + std::to_string(served.server().port())},
                     {"Content-Type", "application/json"}})
              .status == 428);
}

TEST_CASE("what was changed outside is never written over silently", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string revision = browser.get("/api/tunes/four-pegs").text("revision");
    save(served.file("four-pegs.tune"), "| Eb |\n");
    const Reply refused = browser.put("/api/tunes/four-pegs", text_body("| C |\n"), revision);
    CHECK(refused.status == 409);
    CHECK(refused.text("theirs.text") == "| Eb |\n");
    CHECK(read_file(served.file("four-pegs.tune")) == "| Eb |\n");
    CHECK(browser.put("/api/tunes/four-pegs", text_body("| C |\n"), "*").status == 200);
    CHECK(read_file(served.file("four-pegs.tune")) == "| C |\n");
    // Theirs is in the bin.
    const Reply bin = browser.get("/api/bin");
    REQUIRE(bin.size("bin") == 1);
    CHECK(bin.text("bin.0.why") == "changed outside");
    CHECK(browser.get("/api/bin/" + bin.text("bin.0.id")).text("text") == "| Eb |\n");
    std::filesystem::remove(served.file("four-pegs.tune"));
    const Reply gone = browser.put("/api/tunes/four-pegs", text_body("| D |\n"), revision);
    CHECK(gone.status == 409);
    CHECK(gone.at("theirs").is_null());
}

TEST_CASE("a tune is saved in tidy form where that is asked for and it has no slips", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string revision = browser.get("/api/tunes/four-pegs").text("revision");
    const Reply saved = browser.put("/api/tunes/four-pegs", R"({"text":"|C|F|G7|C|","tidy":true})", revision);
    CHECK(saved.text("text").find("| C | F | G7 | C |") != std::string::npos);
    const Reply with_slip = browser.put("/api/tunes/four-pegs", R"({"text":"|C|Fq7|","tidy":true})", "*");
    CHECK(with_slip.text("text") == "|C|Fq7|");
    CHECK(with_slip.size("slips") == 1);
}

TEST_CASE("a new tune begins with a form, and takes nobody's place", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply made = browser.post("/api/tunes", R"({"title":"Nine Wet Pegs","form":"blues","key":"F"})");
    CHECK(made.status == 201);
    CHECK(made.text("name") == "nine-wet-pegs");
    CHECK(made.text("text").find("Bb7") != std::string::npos);
    CHECK(browser.post("/api/tunes", R"({"title":"Nine Wet Pegs"})").status == 409);
    CHECK(browser.post("/api/tunes", R"({"title":"?"})").status == 422);
    CHECK(browser.post("/api/tunes", R"({"title":"Odd","form":"zigzag"})").status == 422);
}

TEST_CASE("a tune is renamed, removed to the bin and put back", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    CHECK(browser.post("/api/tunes/four-pegs/rename", R"({"to":"Wet Pegs"})").text("name") == "Wet Pegs");
    CHECK(browser.get("/api/tunes/Wet%20Pegs").text("title") == "Four Pegs");
    save(served.file("other.tune"), "| C |\n");
    CHECK(browser.post("/api/tunes/other/rename", R"({"to":"Wet Pegs"})").status == 409);
    const std::string id = browser.remove("/api/tunes/Wet%20Pegs").text("bin");
    CHECK(browser.get("/api/tunes").size("tunes") == 1);
    CHECK_FALSE(std::filesystem::exists(served.file("Wet Pegs.tune")));
    save(served.file("Wet Pegs.tune"), "| F |\n");
    const Reply back = browser.post("/api/bin/" + id + "/put-back", "{}");
    CHECK(back.text("name") == "Wet Pegs-2");
    CHECK(back.text("text") == kFourBars);
    CHECK(browser.get("/api/bin").size("bin") == 0);
}

TEST_CASE("names cannot leave the folder", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    save(served.file("../outside.tune"), "| C |\n");
    for (const char* name : {"..%2Foutside", "%2e%2e%2foutside", ".hidden", "a%2Fb", "a%5Cb", "%00", "%0A",
                             "", "..", "...", "%20", "a%3Ab"}) {
        INFO(name);
        const Reply read = browser.get(std::string{"/api/tunes/"} + name);
        CHECK(read.body.find("\"text\"") == std::string::npos);
        CHECK(browser.put(std::string{"/api/tunes/"} + name, R"({"text":"| X |"})", "*").status >= 400);
    }
    CHECK(browser.post("/api/tunes/four-pegs/rename", R"({"to":"../outside2"})").status == 400);
    CHECK(browser.get("/api/practise?tune=../outside").status == 400);
    CHECK(read_file(served.file("../outside.tune")) == "| C |\n");
    std::filesystem::create_symlink(served.file("../outside.tune"), served.file("link.tune"));
    CHECK(browser.get("/api/tunes/link").status == 404);
    std::filesystem::remove(served.file("../outside.tune"));
}

TEST_CASE("a lead sheet is taken in, and what it loses is said", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string origin = "http://127.0.0.1:" + std::to_string(served.server().port());
    const auto take_in = [&](const std::string& name, const std::string& bytes) {
        return browser.send(
            "POST", "/api/import?file=" + name, bytes,
            {{"Cookie", browser.cookie()}, {"Origin", origin}, {"Content-Type", "application/octet-stream"}});
    };
    const std::string abc = "X:1\nT:Three Gates\nM:4/4\nL:1/4\nK:G\n\"G\"G A B c | \"D7\"d2 d2 |\n";
    const Reply made = take_in("three-gates.abc", abc);
    CHECK(made.status == 201);
    CHECK(made.text("tune.name") == "three-gates");
    CHECK(made.text("read") == "2 bars, 2 chords");
    CHECK(made.text("lost.0").find("melody") != std::string::npos);
    CHECK(read_file(served.file("three-gates.tune")).find("| G | D7 |") != std::string::npos);
    CHECK(take_in("three-gates.abc", abc).text("tune.name") == "three-gates-2");
    const Reply broken = take_in("broken.mxl", "PK\x03\x04 no zip");
    CHECK(broken.status == 422);
    CHECK(broken.size("slips") > 0);
    CHECK(take_in("..%2Fx.abc", abc).status == 400);
}

TEST_CASE("a new tune begins with its music in sight", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    REQUIRE(browser.post("/api/tunes", R"({"title":"Harbour Lamps","bars":4,"key":"Bb"})").status == 201);
    const std::string text = read_file(served.file("harbour-lamps.tune"));
    CHECK(text.starts_with("Title: Harbour Lamps\n"));
    CHECK(text.find(';') == std::string::npos);
    CHECK(text.find("\n\n\n") == std::string::npos);
    CHECK(text.find("Key: Bb\n") != std::string::npos);
    CHECK(text.find("\n|") != std::string::npos);
}

}  // namespace shedbook
