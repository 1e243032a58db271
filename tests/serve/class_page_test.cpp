#include <catch2/catch.hpp>

#include "served.h"
#include "shedbook/io/files.h"

namespace shedbook {

TEST_CASE("a roster is made, edited cell by cell and slips have their cell", "[serve]") {
    const Served served;
    save(served.file("numbers.csv"), "a,b\n1,2\n");
    Browser browser = served.browser();
    const Reply made = browser.post(
        "/api/class", R"({"name":"Monday Band","rows":[["Ada, Lind","flute","2"],["Bo","alto-saxx","3"]]})");
    REQUIRE(made.status == 201);
    CHECK(made.text("name") == "monday-band");
    CHECK(browser.get("/api/class").size("rosters") == 1);
    CHECK(browser.get("/api/class").number("rosters.0.slips") == 1);
    REQUIRE(made.size("slips") == 1);
    CHECK(made.number("slips.0.row") == 1);
    CHECK(made.text("slips.0.column") == "instrument");
    CHECK(made.text("slips.0.instead.0.text") == "alto-sax");
    const std::string revision = made.text("revision");
    const Reply mended = browser.put(
        "/api/class/monday-band",
        R"({"columns":["name","instrument","level"],"rows":[["Ada, Lind","flute","2"],["Bo","alto-sax","3"]]})",
        revision);
    CHECK(mended.status == 200);
    CHECK(mended.size("slips") == 0);
    CHECK(read_file(served.file("monday-band.csv")) ==
          "name,instrument,level\n\"Ada, Lind\",flute,2\nBo,alto-sax,3\n");
    CHECK(browser.get("/api/class/monday-band").text("rows.0.0") == "Ada, Lind");
    CHECK(browser.put("/api/class/monday-band", R"({"rows":[]})", revision).status == 409);
    CHECK(browser.post("/api/class", R"({"name":"Monday Band"})").status == 409);
    CHECK(
        browser.put("/api/class/monday-band", R"({"rows":[["A","flute","2","../../x.toml"]]})", "*").status ==
        422);
}

TEST_CASE("a class has a day for each student, and nobody is forgotten by a slip", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    browser.post("/api/class", R"({"name":"Duo","rows":[["Ada","flute","2"],["Bo","alto-sax","3"]]})");
    const Reply day = browser.get("/api/class/duo/today?minutes=20");
    CHECK(day.status == 200);
    REQUIRE(day.size("students") == 2);
    CHECK(day.text("students.1.name") == "Bo");
    CHECK(browser.post("/api/class/duo/forget", R"({"student":"Ada","typed":"Ad"})").status == 422);
    CHECK(browser.post("/api/class/duo/forget", R"({"student":"Ada","typed":"Ada"})").status == 422);
    CHECK(browser.remove("/api/class/duo").status == 200);
    CHECK(browser.get("/api/class/duo").status == 404);
    CHECK(browser.get("/api/bin").size("bin") == 1);
}

TEST_CASE("all books of a class come in one zip called by class and tune, of the kinds that are asked for",
          "[serve]") {
    const Served served;
    Browser browser = served.browser();
    browser.post("/api/class", R"({"name":"Duo","rows":[["Ada","flute","2"],["Bo","alto-sax","2"]]})");
    std::vector<std::string> ids;
    for (const char* as : {"mxl", "musicxml"}) {
        const Reply ordered = browser.post(
            "/api/paper", std::string{R"({"make":"class","roster":"duo","tune":"four-pegs","as":")"} + as +
                              R"(","no_score":true})");
        ids.push_back(ordered.text("id"));
        const Reply made = when_over(browser, ids.back());
        INFO(made.body);
        CHECK(made.text("state") == "ready");
        CHECK(made.text("pack") == "duo-four-pegs");
    }
    const Reply both = browser.get("/api/paper/zip?jobs=" + ids[0] + "," + ids[1]);
    CHECK(both.headers.at("content-disposition").ends_with("duo-four-pegs.zip"));
    for (const char* name : {"01-ada-flute.mxl", "02-bo-alto-sax.mxl", "01-ada-flute.musicxml"})
        CHECK(both.body.find(std::string{"duo-four-pegs/"} + name) != std::string::npos);
    const Reply one = browser.get("/api/paper/zip?jobs=" + ids[1]);
    CHECK(one.body.find(".mxl") == std::string::npos);
    CHECK(browser.get("/api/paper/zip?jobs=" + ids[0] + ",77").status == 404);
    CHECK(browser.get("/api/paper/zip?jobs=../1").status == 404);
}

TEST_CASE("a list in TOML is shown with what holds for all, its slips have cells, and it is not written over",
          "[serve]") {
    const Served served;
    const std::string list =
        "level = 3  # of most\n[[student]]\nname = \"Ada Lind\"\ninstrument = \"flute\"\n"
        "[[student]]\nname = \"Bo\"\ninstrument = \"alto-sacks\"\nlevel = 2\n";
    save(served.file("thursday.toml"), list);
    save(served.file("other.toml"), "colour = \"red\"\n");
    Browser browser = served.browser();
    const Reply classes = browser.get("/api/class");
    REQUIRE(classes.size("rosters") == 1);
    CHECK(classes.text("rosters.0.name") == "thursday");
    const Reply shown = browser.get("/api/class/thursday");
    REQUIRE(shown.size("rows") == 2);
    CHECK(shown.at("editable").as_bool() == false);
    CHECK(shown.text("columns.2") == "level");
    CHECK(shown.text("rows.0.2") == "3");
    CHECK(shown.text("rows.1.2") == "2");
    REQUIRE(shown.size("slips") == 1);
    CHECK(shown.number("slips.0.row") == 1);
    CHECK(shown.text("slips.0.column") == "instrument");
    CHECK(browser.put("/api/class/thursday", R"({"rows":[]})", "*").status == 422);
    CHECK(browser.post("/api/class", R"({"name":"Thursday"})").status == 409);
    CHECK(read_file(served.file("thursday.toml")) == list);
}

}  // namespace shedbook
