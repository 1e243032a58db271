// Who is answered, and with what around it. What a page must do against requests of other sites is from the
// OWASP cheat sheets "Cross-Site Request Forgery Prevention" and "Content Security Policy", from memory.
#include "shedbook/serve/serve.h"

#include <catch2/catch.hpp>

#include "served.h"
#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

std::string port_of(const Served& served) {
    return std::to_string(served.server().port());
}

}  // namespace

TEST_CASE("without the key nothing is served", "[serve]") {
    const Served served;
    Browser stranger{"http://127.0.0.1:" + port_of(served) + "/open?key=0000"};
    CHECK(stranger.cookie().empty());
    CHECK(stranger.get("/api/tunes").status == 403);
    CHECK(stranger.get("/api/state").status == 403);
    CHECK(stranger.get("/tunes").status == 403);
    CHECK(stranger.get("/assets/x/app.js").status == 403);
    CHECK(stranger.get("/api/tunes", {{"Cookie", "shedbook-" + port_of(served) + "="}}).status == 403);
    CHECK(stranger.get("/api/tunes").body.find("Four Pegs") == std::string::npos);
}

TEST_CASE("the address with the key gives a cookie for this page alone", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply opened =
        browser.get("/open?key=" + served.server().address().substr(served.server().address().find('=') + 1));
    CHECK(opened.status == 303);
    CHECK(opened.headers.at("location") == "/tunes");
    const std::string cookie = opened.headers.at("set-cookie");
    CHECK(cookie.find("HttpOnly") != std::string::npos);
    CHECK(cookie.find("SameSite=Strict") != std::string::npos);
    CHECK(browser.get("/api/state").text("player") == "me");
}

TEST_CASE("another host name than its own is refused, key or not", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    CHECK(browser.get("/api/state", {{"Host", "evil.example:" + port_of(served)}}).status == 403);
    CHECK(browser.get("/api/state", {{"Host", "127.0.0.1"}}).status == 403);
    CHECK(browser.get("/api/state", {{"Host", "192.168.1.5:" + port_of(served)}}).status == 403);
    CHECK(browser.get("/api/state", {{"Host", "localhost:" + port_of(served)}}).status == 200);
}

TEST_CASE("what another site asks for is refused", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Headers foreign{{"Origin", "http://evil.example"}};
    CHECK(browser.post("/api/tidy", R"({"text":"| C |"})", foreign).status == 403);
    CHECK(browser.get("/api/tunes", foreign).status == 403);
    const Headers none{{"Cookie", browser.cookie()}, {"Content-Type", "application/json"}};
    CHECK(browser.send("POST", "/api/tidy", R"({"text":"| C |"})", none).status == 403);
    CHECK(browser.post("/api/tidy", R"({"text":"| C |"})").status == 200);
}

TEST_CASE("every answer carries the policy that keeps scripts of others out", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    for (const char* path : {"/api/state", "/tunes", "/nowhere", "/assets/x/none.js"}) {
        const Reply reply = browser.get(path);
        INFO(path);
        const std::string policy = reply.headers.at("content-security-policy");
        CHECK(policy.find("default-src 'none'") != std::string::npos);
        CHECK(policy.find("script-src 'self' 'wasm-unsafe-eval';") != std::string::npos);
        CHECK(policy.find("unsafe-inline'; script") == std::string::npos);
        CHECK(policy.find("frame-ancestors 'none'") != std::string::npos);
        CHECK(reply.headers.at("x-content-type-options") == "nosniff");
    }
}

TEST_CASE("a body without a length, of another type or too large is refused unread", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const std::string head = "POST /api/tidy HTTP/1.1\r\nHost: 127.0.0.1:" + port_of(served) +
                             "\r\nCookie: " + browser.cookie() +
                             "\r\nOrigin: http://127.0.0.1:" + port_of(served) + "\r\n";
    const std::string json = "Content-Type: application/json\r\n";
    CHECK(raw_talk(served.server().port(),
                   head + json + "Transfer-Encoding: chunked\r\n\r\n3\r\nabc\r\n0\r\n\r\n")
              .starts_with("HTTP/1.1 411"));
    CHECK(raw_talk(served.server().port(), head + json + "\r\n").starts_with("HTTP/1.1 411"));
    CHECK(raw_talk(served.server().port(), head + json + "Content-Length: 99999999\r\n\r\n")
              .starts_with("HTTP/1.1 413"));
    CHECK(raw_talk(served.server().port(), head + "Content-Type: text/plain\r\nContent-Length: 2\r\n\r\n{}")
              .starts_with("HTTP/1.1 415"));
    CHECK(raw_talk(served.server().port(),
                   head + json + "Content-Encoding: gzip\r\nContent-Length: 2\r\n\r\n{}")
              .starts_with("HTTP/1.1 415"));
}

TEST_CASE("nonsense is answered with a status and a sentence, and the server lives on", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    CHECK(browser.post("/api/tidy", "{").status == 400);
    CHECK(browser.post("/api/tidy", "[]").status == 400);
    CHECK(browser.post("/api/tidy", R"({"text":7})").status == 400);
    CHECK(browser.post("/api/tidy", "\xFF\xFE{").status == 400);
    CHECK(browser.post("/api/analyse", R"({"text":"\u0000\u0001| C |"})").status == 200);
    CHECK(browser.get("/api/nothing").status == 404);
    CHECK(browser
              .send("PUT", "/api/tidy", "{}",
                    {{"Cookie", browser.cookie()},
                     {"Origin", "http://127.0.0.1:" + port_of(served)},
                     {"Content-Type", "application/json"}})
              .status == 405);
    CHECK(browser.get("/" + std::string(3000, 'a')).status == 414);
    for (const char* text : {"GET\r\n\r\n", "\r\n\r\n", "GET / HTTP/9.9\r\n\r\n", "POST", "\x16\x03\x01\x02"})
        (void)raw_talk(served.server().port(), text);
    CHECK(browser.get("/api/state").status == 200);
}

TEST_CASE("two servers do not share a port", "[serve]") {
    const Served served;
    const ScratchFolder folder;
    ServeOptions options;
    options.folder = folder.file("");
    options.port = served.server().port();
    options.takes_next_port = false;
    CHECK_THROWS_AS(PageServer{options}, FileError);
    options.takes_next_port = true;
    CHECK(PageServer{options}.port() != served.server().port());
}

TEST_CASE("a guest looks and listens, and changes nothing", "[serve]") {
    const Served served;
    Browser guest{served.server().guest_address()};
    CHECK(guest.get("/api/state").at("guest").as_bool() == true);
    CHECK(guest.get("/api/tunes").size("tunes") == 1);
    CHECK(guest.post("/api/analyse", R"({"text":"| C |"})").status == 200);
    CHECK(guest.post("/api/tunes", R"({"title":"Mine"})").status == 403);
    CHECK(guest.remove("/api/tunes/four-pegs").status == 403);
    CHECK(guest.put("/api/tunes/four-pegs", R"({"text":"| C |"})", "*").status == 403);
    CHECK(guest.post("/api/log", "{}").status == 403);
}

TEST_CASE("the lists to pick from have what the program has", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply words = browser.get("/api/words");
    CHECK(words.size("instruments") > 20);
    CHECK(words.size("levels") == 6);
    CHECK(words.size("plans") > 1);
    CHECK(words.size("drills") > 10);
    CHECK(words.size("forms") == 3);
}

TEST_CASE("the page's files come with their types, and are kept by what is in them", "[serve]") {
    ScratchFolder page;
    save(page.file("index.html"),
         "<meta name=\"csp-nonce\" content=\"@NONCE@\"><script src=\"/assets/app.js\" type=module></script>");
    save(page.file("app.js"), "export {};");
    save(page.file("notes.wasm"), "wasm");
    save(page.file("licences.txt"), "whose work is in it");
    ServeOptions options;
    options.page = page.file("");
    const Served served{options};
    CHECK(served.server().has_page());
    Browser browser = served.browser();
    const Reply index = browser.get("/tune/four-pegs/write");
    CHECK(index.status == 200);
    CHECK(index.headers.at("content-type").starts_with("text/html"));
    CHECK(index.headers.at("cache-control") == "no-store");
    const std::size_t from = index.body.find("content=\"") + 9;
    const std::string nonce = index.body.substr(from, index.body.find('"', from) - from);
    CHECK(nonce.size() == 32);
    CHECK(index.headers.at("content-security-policy").find("'nonce-" + nonce + "'") != std::string::npos);
    CHECK(browser.get("/tunes").body != index.body);
    const std::size_t at = index.body.find("/assets/");
    const std::string script = index.body.substr(at, index.body.find('"', at) - at);
    const Reply app = browser.get(script);
    CHECK(app.body == "export {};");
    CHECK(app.headers.at("content-type").starts_with("text/javascript"));
    CHECK(app.headers.at("cache-control").find("immutable") != std::string::npos);
    CHECK(browser.get(script.substr(0, script.rfind('/')) + "/notes.wasm").headers.at("content-type") ==
          "application/wasm");
    CHECK(browser.get("/assets/x/..%2Fapp.js").status == 404);
    // By an address that documents can name.
    CHECK(browser.get("/licences.txt").body == "whose work is in it");
}

}  // namespace shedbook
