// What happens to a page server that is killed, and to one of which much is asked at once.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <mutex>
#include <thread>
#include <vector>

#include "served.h"
#include "shedbook/io/files.h"
#include "shedbook/log/log_book.h"

namespace shedbook {
namespace {

using Clock = std::chrono::steady_clock;

bool tests_all() {
    return std::getenv("SHEDBOOK_TEST_ALL") != nullptr;
}

// The program itself, so that it can be killed.
class Program {
  public:
    Program(const std::string& folder, const std::string& log) {
        std::array<int, 2> ends{};
        REQUIRE(pipe(ends.data()) == 0);
        child_ = fork();
        if (child_ == 0) {
            dup2(ends[1], STDOUT_FILENO);
            execl(SHEDBOOK_PROGRAM, SHEDBOOK_PROGRAM, "serve", folder.c_str(), "--no-open", "--data",
                  log.c_str(), static_cast<char*>(nullptr));
            _exit(127);
        }
        close(ends[1]);
        std::string said;
        std::array<char, 512> chunk{};
        while (said.find("Ctrl-C") == std::string::npos) {
            const ssize_t got = read(ends[0], chunk.data(), chunk.size());
            if (got <= 0) break;
            said.append(chunk.data(), static_cast<std::size_t>(got));
        }
        out_ = ends[0];
        const std::size_t at = said.find("http://");
        if (at != std::string::npos) address_ = said.substr(at, said.find('\n', at) - at);
    }
    ~Program() {
        end(SIGTERM);
        close(out_);
    }
    void end(int signal) {
        if (child_ <= 0) return;
        kill(child_, signal);
        int status = 0;
        waitpid(child_, &status, 0);
        child_ = -1;
    }
    [[nodiscard]] const std::string& address() const { return address_; }
    // Of its memory that is in use, in KiB.
    [[nodiscard]] long memory() const {
        std::ifstream file{"/proc/" + std::to_string(child_) + "/status"};
        for (std::string line; std::getline(file, line);) {
            if (line.starts_with("VmRSS:")) return std::atol(line.c_str() + 6);
        }
        return 0;
    }

  private:
    pid_t child_ = -1;
    int out_ = -1;
    std::string address_;
};

std::string text_number(int number) {
    std::string out = "Title: Draft " + std::to_string(number) + "\n";
    for (int i = 0; i < 100; ++i) out += "| Dm7 | G7 | Cmaj7 | A7 |\n";
    return out + "; end " + std::to_string(number) + "\n";
}

}  // namespace

TEST_CASE("killed while it saves and ticks, nothing that was acknowledged is lost", "[serve]") {
    const int times = tests_all() ? 50 : 4;
    const ScratchFolder folder;
    const ScratchFolder beside;
    const std::string log = beside.file("practice.db");
    save(folder.file("draft.tune"), text_number(0));
    std::vector<std::int64_t> ticks;
    int saved = 0;
    for (int run = 0; run < times; ++run) {
        Program program{folder.file(""), log};
        REQUIRE_FALSE(program.address().empty());
        std::atomic<bool> is_over = false;
        std::atomic<int> acknowledged = 0;
        std::thread killer{[&] {
            const auto until = Clock::now() + std::chrono::seconds{20};
            while (acknowledged < 2 && Clock::now() < until)
                std::this_thread::sleep_for(std::chrono::milliseconds{1});
            std::this_thread::sleep_for(std::chrono::milliseconds{7 * (run % 12)});
            program.end(SIGKILL);
            is_over = true;
        }};
        Browser browser{program.address()};
        for (int i = 0; !is_over; ++i) {
            const int next = saved + 1;
            const Reply kept =
                browser.put("/api/tunes/draft", "{\"text\":" + quoted(text_number(next)) + "}", "*");
            if (kept.status == 200) saved = next, ++acknowledged;
            const Reply ticked = browser.post(
                "/api/log",
                R"({"item":{"kind":"scale","subject":"dorian","root":2,"work":"thirds","instrument":"flute"},"tempo":80,"right":1})");
            if (ticked.status == 201) ticks.push_back(ticked.number("id")), ++acknowledged;
        }
        killer.join();
        // The last that was acknowledged, or the one after it, and whole.
        const std::string there = read_file(folder.file("draft.tune"));
        CHECK((there == text_number(saved) || there == text_number(saved + 1)));
        if (there == text_number(saved + 1)) ++saved;
        LogBook book{log};
        CHECK(book.check().empty());
        for (const std::int64_t id : ticks) CHECK(book.find(id).has_value());
    }
    CHECK(saved > 0);
    CHECK_FALSE(ticks.empty());
}

TEST_CASE("thirty browsers at once are answered, and memory stays as it was", "[serve]") {
    const auto seconds = std::chrono::seconds{tests_all() ? 60 : 4};
    const ScratchFolder folder;
    const ScratchFolder beside;
    save(folder.file("four-pegs.tune"), kFourBars);
    const Program program{folder.file(""), beside.file("practice.db")};
    REQUIRE_FALSE(program.address().empty());
    constexpr int kBrowsers = 30;
    std::atomic<int> answers = 0;
    std::atomic<int> faults = 0;
    std::mutex guard;
    std::string last_fault;
    const auto until = Clock::now() + seconds;
    const auto browse = [&](int which) {
        Browser browser{program.address()};
        const std::string document =
            browser.get("/api/practise?tune=four-pegs&instrument=flute&level=2").text("document");
        for (int i = 0; Clock::now() < until; ++i) {
            Reply reply;
            switch ((i + which) % 6) {
                case 0:
                    reply = browser.get("/api/news");
                    break;
                case 1:
                    reply = browser.get("/api/tunes");
                    break;
                case 2:
                    reply = browser.post(
                        "/api/analyse",
                        "{\"text\":" + quoted(kFourBars + std::string{"; "} + std::to_string(i)) + "}");
                    break;
                case 3:
                    reply = browser.get("/api/music?document=" + document + "&piece=1.1");
                    break;
                case 4:
                    reply = browser.post("/api/log", "{\"document\":\"" + document +
                                                         "\",\"piece\":\"1.1\",\"tempo\":60,\"right\":1}");
                    break;
                default:
                    reply = browser.get("/api/standings?document=" + document);
                    break;
            }
            ++answers;
            const bool is_busy = reply.status == 429 || reply.status == 503;
            if (reply.status >= 200 && reply.status < 300) continue;
            if (is_busy) continue;
            ++faults;
            const std::lock_guard hold{guard};
            last_fault = std::to_string(reply.status) + " " + reply.body;
        }
    };
    std::vector<std::thread> threads;
    long early = 0;
    for (int i = 0; i < kBrowsers; ++i) threads.emplace_back(browse, i);
    std::this_thread::sleep_for(seconds / 2);
    early = program.memory();
    for (std::thread& thread : threads) thread.join();
    INFO("answers " << answers << ", the last fault " << last_fault << ", KiB " << early << " to "
                    << program.memory());
    CHECK(faults == 0);
    CHECK(answers > kBrowsers);
#ifndef __SANITIZE_ADDRESS__
    // The address sanitizer keeps what is freed for a while, to see who reads it.
    constexpr long kRoom = 48L * 1024;
    CHECK(program.memory() < early + kRoom);
#endif
}

}  // namespace shedbook
