#include <algorithm>
#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <thread>

#include "program_on_path.h"
#include "served.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"

namespace shedbook {
namespace {

bool can_sound() {
    return find_program("fluidsynth").has_value();
}

// A flute's drills on a sample.
std::string practised(Browser& browser) {
    return browser.get("/api/practise?tune=four-pegs&instrument=flute&level=3").text("document");
}

std::string sound_body(const std::string& document, const std::string& more) {
    return "{\"document\":\"" + document + "\",\"piece\":\"1.1\"" + more + "}";
}

// FluidSynth behind a script that notes each run, and waits for half a minute while it is held.
class CountedSynthesizer {
  public:
    [[nodiscard]] int runs() const {
        const std::string log = std::filesystem::exists(log_) ? read_file(log_) : "";
        return static_cast<int>(std::ranges::count(log, '\n'));
    }
    void hold() const { save(held_, ""); }
    void release() const { std::filesystem::remove(held_); }

  private:
    ScratchFolder beside_;
    std::string log_ = beside_.file("runs");
    std::string held_ = beside_.file("held");
    ProgramOnPath script_{"fluidsynth", "echo run >> " + log_ + "; [ -e " + held_ + " ] && sleep 30; exec " +
                                            *find_program("fluidsynth") + " \"$@\""};
};

// The loudest sample between two times, of both channels.
int peak_between(const std::string& wav, double from, double to) {
    constexpr double kFramesASecond = 44100;
    const std::size_t data = wav.find("data") + 8;
    int out = 0;
    const auto first = static_cast<std::size_t>(from * kFramesASecond);
    const auto last = static_cast<std::size_t>(to * kFramesASecond);
    for (std::size_t frame = first; frame < last; ++frame) {
        for (std::size_t channel = 0; channel < 2; ++channel) {
            const std::size_t at = data + 4 * frame + 2 * channel;
            if (at + 2 > wav.size()) return out;
            std::int16_t sample = 0;
            std::memcpy(&sample, wav.data() + at, sizeof(sample));
            out = std::max(out, std::abs(static_cast<int>(sample)));
        }
    }
    return out;
}

}  // namespace

TEST_CASE("a piece sounds as it is timed: count-in, passes and beats", "[serve]") {
    if (!can_sound()) return;
    const Served served;
    Browser browser = served.browser();
    const std::string document = practised(browser);
    const Reply sound = browser.post("/api/sound", sound_body(document, ",\"tempo\":120,\"times\":2"));
    REQUIRE(sound.status == 200);
    // Two bars of four beats, half a second each.
    CHECK(sound.real("count_in") == Approx(4.0));
    CHECK(sound.number("tempo") == 120);
    const double pass = sound.real("pass_seconds");
    CHECK(pass == Approx(2.0 * static_cast<double>(sound.size("bars"))));
    CHECK(sound.real("loop.from") == Approx(4.0 + pass));
    CHECK(sound.real("loop.to") == Approx(4.0 + 2 * pass));
    CHECK(sound.size("beats") == 4 * sound.size("bars"));
    const Reply wav = browser.get(sound.text("url"));
    CHECK(wav.status == 200);
    CHECK(wav.headers.at("content-type") == "audio/wav");
    CHECK(wav.body.starts_with("RIFF"));
    CHECK(static_cast<double>(wav.body.size()) > 4 * 44100 * sound.real("seconds"));
    // The first click of the count-in, and the first note after it, are where they are said to be.
    CHECK(peak_between(wav.body, 0.0, 0.2) > 200);
    CHECK(peak_between(wav.body, 4.0, 4.3) > 200);
}

TEST_CASE("a sound is made once, and part of it can be asked for", "[serve]") {
    if (!can_sound()) return;
    const Served served;
    Browser browser = served.browser();
    const std::string document = practised(browser);
    const std::string body = sound_body(document, ",\"tempo\":240,\"times\":1");
    const Reply first = browser.post("/api/sound", body);
    REQUIRE(first.status == 200);
    {
        // Without the synthesizer only what was made before is there.
        const std::string before = std::getenv("PATH");
        setenv("PATH", "/nowhere", 1);
        const Reply again = browser.post("/api/sound", body);
        const Reply other = browser.post("/api/sound", sound_body(document, ",\"tempo\":241,\"times\":1"));
        setenv("PATH", before.c_str(), 1);
        CHECK(again.text("url") == first.text("url"));
        CHECK(other.status == 503);
        CHECK(other.text("missing") == "fluidsynth");
    }
    const Reply part = browser.get(first.text("url"), {{"Range", "bytes=0-43"}});
    CHECK(part.status == 206);
    CHECK(part.body.size() == 44);
    CHECK(browser.get("/api/sound/..%2Fx.wav").status != 200);
    CHECK(browser.get("/api/sound/none.wav").status == 410);
}

TEST_CASE("what is muted is not heard, and silent bars make the loop as long as they need", "[serve]") {
    if (!can_sound()) return;
    const Served served;
    Browser browser = served.browser();
    const std::string document = practised(browser);
    const Reply mute = browser.post(
        "/api/sound",
        sound_body(document, R"(,"tempo":240,"times":1,"mute":["line","bass","chords"],"clicks":"none")"));
    REQUIRE(mute.status == 200);
    const Reply wav = browser.get(mute.text("url"));
    const double from = mute.real("count_in") + 0.6;  // the clicks ring on a little
    CHECK(peak_between(wav.body, from, mute.real("seconds")) < 30);
    const Reply silent = browser.post("/api/sound", sound_body(document, R"(,"tempo":240,"silent":"2/8")"));
    REQUIRE(silent.status == 200);
    const double bars = static_cast<double>(silent.size("bars"));
    const double loop = silent.real("loop.to") - silent.real("loop.from");
    CHECK(std::fmod(loop / (silent.real("pass_seconds") / bars) + 0.01, 8.0) < 0.1);
    CHECK(browser.post("/api/sound", sound_body(document, R"(,"mute":["trumpet"])")).status == 422);
    CHECK(browser.post("/api/sound", sound_body(document, R"(,"tempo":5000)")).status == 422);
    CHECK(browser.post("/api/sound", sound_body(document, R"(,"times":-1)")).status == 422);
}

TEST_CASE("at another tempo a piece is rendered once, as loud as it was measured before", "[serve]") {
    if (!can_sound()) return;
    const CountedSynthesizer synthesizer;
    const Served served;
    Browser browser = served.browser();
    const std::string document = practised(browser);
    REQUIRE(browser.post("/api/sound", sound_body(document, R"(,"tempo":240,"times":1)")).status == 200);
    // The line and the band by themselves, and both.
    CHECK(synthesizer.runs() == 3);
    REQUIRE(browser.post("/api/sound", sound_body(document, R"(,"tempo":236,"times":1)")).status == 200);
    CHECK(synthesizer.runs() == 4);
    // Without its line it is other music.
    REQUIRE(browser.post("/api/sound", sound_body(document, R"(,"tempo":236,"times":1,"mute":["line"])"))
                .status == 200);
    CHECK(synthesizer.runs() == 6);
}

TEST_CASE("what is made ahead makes way for what somebody waits for", "[serve]") {
    if (!can_sound()) return;
    const CountedSynthesizer synthesizer;
    const Served served;
    Browser browser = served.browser();
    const std::string document = practised(browser);
    synthesizer.hold();
    std::atomic<int> ahead = 0;
    std::thread other{[&] {
        Browser second = served.browser();
        ahead =
            second.post("/api/sound", sound_body(document, R"(,"tempo":60,"times":1,"ahead":true)")).status;
    }};
    for (int i = 0; i < 500 && synthesizer.runs() == 0; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds{10});
    synthesizer.release();
    CHECK(browser.post("/api/sound", sound_body(document, R"(,"tempo":240,"times":1)")).status == 200);
    other.join();
    CHECK(ahead == 202);
    // With nobody waiting it is made.
    CHECK(browser.post("/api/sound", sound_body(document, R"(,"tempo":240,"times":1,"ahead":true)")).status ==
          200);
}

}  // namespace shedbook
