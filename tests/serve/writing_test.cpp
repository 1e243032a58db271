#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>

#include "served.h"

namespace shedbook {
namespace {

Reply analyse_page(Browser& browser, const std::string& text) {
    return browser.post("/api/analyse", "{\"text\":" + quoted(text) + "}");
}

}  // namespace

TEST_CASE("each chord comes with its meaning and its place in the text", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string text = "Title: Caf\u00E9 \U0001F3B7\nKey: C\n| Dm7 | G7[altered] | Cmaj7 |\n";
    const Reply found = analyse_page(browser, text);
    CHECK(found.at("ok").as_bool() == true);
    REQUIRE(found.size("chords") == 3);
    CHECK(found.text("chords.0.symbol") == "Dm7");
    CHECK(found.text("chords.0.numeral") == "ii7");
    // In units of UTF-16, where the saxophone is two (ECMA-262, String type).
    CHECK(found.number("chords.0.from") == 24);
    CHECK(found.number("chords.0.to") == 27);
    CHECK(found.number("chords.1.from") == 30);
    CHECK(found.number("chords.1.to") == 41);
    CHECK(found.at("chords.1.fixed").as_bool() == true);
    CHECK(found.text("chords.1.scale_id") == "altered");
    CHECK(found.size("chords.2.alternatives") > 0);
    CHECK_FALSE(found.text("chords.2.alternatives.0.scale_name").empty());
    CHECK(found.text("musicxml").find("<score-partwise") != std::string::npos);
    CHECK(found.size("tune.units") == 1);
}

// Common practice, no source: compound meters are counted in dotted notes, cut time in halves.
TEST_CASE("a tempo comes with the note that it counts", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const auto beat = [&](const char* meter) {
        return analyse_page(browser, std::string{"Meter: "} + meter + "\n| C |\n").text("beat");
    };
    CHECK(beat("4/4") == "quarter");
    CHECK(beat("6/8") == "dotted quarter");
    CHECK(beat("C|") == "half");
}

TEST_CASE("a slip has its place and what may be written there, and the rest stays understood", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string text = "Key: C\n| Dm7 | Gm77 | Cmaj7 |\n";
    const Reply found = analyse_page(browser, text);
    CHECK(found.at("ok").as_bool() == false);
    REQUIRE(found.size("slips") == 1);
    CHECK(found.number("slips.0.line") == 2);
    CHECK(found.number("slips.0.column") > 8);
    CHECK_FALSE(found.text("slips.0.message").empty());
    REQUIRE(found.size("slips.0.instead") > 0);
    const auto from = static_cast<std::size_t>(found.number("slips.0.instead.0.from"));
    const auto to = static_cast<std::size_t>(found.number("slips.0.instead.0.to"));
    std::string mended = text;
    mended.replace(from, to - from, found.text("slips.0.instead.0.text"));
    CHECK(analyse_page(browser, mended).at("ok").as_bool() == true);
    REQUIRE(found.size("chords") == 3);
    CHECK(found.text("chords.1.symbol") == "N.C.");
    CHECK(found.text("chords.2.symbol") == "Cmaj7");
}

TEST_CASE("a misspelt header, sign or scale is mended by what is suggested", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    for (const char* text :
         {"Titel: X\n| C |\n", "| C7[altird] | F |\n", "| C7[F melodick minor] | F |\n", "| C | F fin |\n"}) {
        INFO(text);
        const Reply found = analyse_page(browser, text);
        if (found.size("slips.0.instead") == 0) continue;
        std::string mended = text;
        const auto from = static_cast<std::size_t>(found.number("slips.0.instead.0.from"));
        const auto to = static_cast<std::size_t>(found.number("slips.0.instead.0.to"));
        mended.replace(from, to - from, found.text("slips.0.instead.0.text"));
        CHECK(analyse_page(browser, mended).at("ok").as_bool() == true);
    }
    CHECK(analyse_page(browser, "| C7[altird] | F |\n").size("slips.0.instead") == 1);
}

TEST_CASE("an empty text and one without bars are no fault of the server", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    for (const char* text : {"", "\n\n", "Title: X\n", "|", "| |", "[A]\n", "|: C :|: D"}) {
        INFO(text);
        CHECK(analyse_page(browser, text).status == 200);
    }
}

TEST_CASE("a scale that was chosen stands in the chart behind its chord", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string text = "Key: C ; mine\n| Dm7 | G7 | Cmaj7 | %|\n";
    const auto choose = [&](const std::string& of, int inst, const std::string& scale) {
        return browser.post("/api/scale", "{\"text\":" + quoted(of) + ",\"inst\":" + std::to_string(inst) +
                                              ",\"scale\":" + scale + "}");
    };
    const std::string chosen = choose(text, 1, "\"altered\"").text("text");
    CHECK(chosen == "Key: C ; mine\n| Dm7 | G7[altered] | Cmaj7 | %|\n");
    CHECK(choose(chosen, 1, "\"G Mixolydian\"").text("text") ==
          "Key: C ; mine\n| Dm7 | G7[mixolydian] | Cmaj7 | %|\n");
    CHECK(choose(chosen, 1, "null").text("text") == text);
    CHECK(choose(text, 1, "\"F melodic minor\"").text("text").find("G7[F melodic minor]") !=
          std::string::npos);
    CHECK(choose(text, 1, "\"nonsense\"").status == 422);
    CHECK(choose(text, 9, "\"altered\"").status == 422);
    CHECK(analyse_page(browser, choose(text, 1, "\"G lydian dominant\"").text("text"))
              .text("chords.1.scale_id") == "lydian_dominant");
}

TEST_CASE("a chart is understood as the instrument reads it, and chords stay known as they sound",
          "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const auto read_for = [&](const std::string& instrument) {
        return browser.post("/api/analyse", "{\"text\":" + quoted("Key: Bb\n| Cm7 | F7 | Bbmaj7 | % |\n") +
                                                ",\"instrument\":" + quoted(instrument) + "}");
    };
    const Reply trumpet = read_for("trumpet");
    CHECK(trumpet.text("chords.0.symbol") == "Cm7");
    CHECK(trumpet.text("chords.0.read.symbol") == "Dm7");
    CHECK(trumpet.text("chords.0.read.scale_name") == "D Dorian");
    CHECK(trumpet.text("chords.0.read.why").find("C major") != std::string::npos);
    CHECK(trumpet.text("home_read.tonic") == "C");
    CHECK(trumpet.text("tune.home.tonic") == "Bb");
    for (const char* name : {"flute", "guitar", "double-bass"}) {
        INFO(name);
        CHECK(read_for(name).at("chords.0.read").is_null());
        CHECK(read_for(name).at("home_read").is_null());
    }
}

TEST_CASE("a chord in the same role for another reason says its own", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply found =
        analyse_page(browser, "Key: Bb\n| Bbmaj7 | Gm7 | Cm7 | F7 |\n| Ebmaj7 | Cm7 | F7 | Bb6 |\n");
    REQUIRE(found.text("chords.3.why") != found.text("chords.6.why"));
    CHECK(found.at("chords.6.as_in_bar").is_null());
}

TEST_CASE("a chord that comes back in the same role says where it was first", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply found = analyse_page(browser, "Key: C\n| Dm7 | G7 | Cmaj7 | % |\n| Dm7 | G7 | Cmaj7 | % |\n");
    REQUIRE(found.size("chords") == 6);
    CHECK(found.at("chords.0.as_in_bar").is_null());
    CHECK(found.number("chords.3.as_in_bar") == 1);
    CHECK(found.number("chords.5.as_in_bar") == 3);
}

TEST_CASE("64 bars are understood while one types", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    std::string text = "Key: C\n";
    for (int i = 0; i < 16; ++i) text += "| Dm7 G7 | Em7 A7 | Fmaj7 Fm6 | Bb7 C6 |\n";
    static_cast<void>(analyse_page(browser, text));  // tables are made at the first use
    // The quickest of a few, each with another text: what else the machine does is not measured.
    double quickest = 1e9;
    for (int i = 0; i < 5; ++i) {
        text += "; another text\n";
        const Reply found = analyse_page(browser, text);
        CHECK(found.size("chords") == 128);
        quickest = std::min(quickest, static_cast<double>(found.number("ms")));
    }
    // A tenth of a second is asked for; twice that keeps sanitizers from failing it.
    CHECK(quickest < 200);
}

}  // namespace shedbook
