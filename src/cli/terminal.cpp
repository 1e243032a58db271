#include "terminal.h"

#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <iostream>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Work that takes less is over before anybody wonders.
constexpr std::chrono::seconds kPatienceOfEyes{1};
constexpr const char* kOverwrite = "\r\x1b[K";

bool says_errors_only = false;

bool is_terminal(int file) {
    return isatty(file) == 1;
}

// NO_COLOR, whatever it says, is heeded (a convention of many programs); so is a terminal that has none.
bool has_colours() {
    const char* refused = std::getenv("NO_COLOR");
    const char* kind = std::getenv("TERM");
    const bool is_plain = kind == nullptr || std::string_view{kind} == "dumb";
    return is_terminal(STDERR_FILENO) && (refused == nullptr || *refused == '\0') && !is_plain;
}

constexpr const char* kPlain = "\x1b[0m";
constexpr const char* kColours[] = {"\x1b[1;31m", "\x1b[1;33m", "\x1b[1;36m"};  // error, warning, note
constexpr std::string_view kSeverities[] = {"error", "warning", "note"};

// The word that says how bad it is, and the caret, in its colour.
std::string coloured(const Diagnostic& diagnostic) {
    std::string out = render(diagnostic);
    const auto which = static_cast<std::size_t>(diagnostic.severity);
    const auto paint = [&](std::size_t at, std::size_t length) {
        out.insert(at + length, kPlain);
        out.insert(at, kColours[which]);
    };
    const std::string caret_line = "\n    " + diagnostic.marker + "\n";
    const std::size_t line = diagnostic.line.empty() ? std::string::npos : out.find(caret_line);
    if (line != std::string::npos) {
        const std::size_t caret = out.find('^', line);
        paint(caret, out.find('\n', caret) - caret);
    }
    const std::string_view word = kSeverities[which];
    const std::size_t at = out.find(": " + std::string{word} + ": ");
    if (at != std::string::npos) paint(at + 2, word.size());
    return out;
}

// More slips of one kind than this say nothing new.
constexpr std::size_t kMostOfAKind = 10;

// A message without what it quotes: "error: expected a root, A to G, but found '...'".
std::string kind_of(const Diagnostic& diagnostic) {
    const std::vector<std::string_view> pieces = split(diagnostic.message, '\'');
    std::string out{kSeverities[static_cast<std::size_t>(diagnostic.severity)]};
    out += ": ";
    for (std::size_t i = 0; i < pieces.size(); ++i) out += i % 2 == 0 ? std::string{pieces[i]} : "'...'";
    return out;
}

}  // namespace

void say_fault(const std::string& text) {
    const bool in_colour = has_colours();
    std::cerr << (in_colour ? kColours[0] : "") << "shedbook:" << (in_colour ? kPlain : "") << " " << text
              << "\n";
}

void Terminal::say_errors_only() {
    says_errors_only = true;
}

Terminal::Terminal() : is_seen_{is_terminal(STDERR_FILENO)} {}

Terminal::~Terminal() {
    end_line();
}

void Terminal::say(const Diagnostics& diagnostics) {
    end_line();
    std::map<std::string, std::size_t> times;
    for (const Diagnostic& diagnostic : diagnostics.all()) {
        if (says_errors_only && diagnostic.severity != Severity::Error) continue;
        if (++times[kind_of(diagnostic)] > kMostOfAKind) continue;
        std::cerr << (has_colours() ? coloured(diagnostic) : render(diagnostic));
    }
    for (const auto& [kind, count] : times) {
        if (count > kMostOfAKind) std::cerr << "and " << count - kMostOfAKind << " more: " << kind << "\n";
    }
}

void Terminal::remark(const std::string& line) {
    end_line();
    std::cerr << "shedbook: " << line << "\n";
}

void Terminal::announce(const Files& files) {
    end_line();
    if (says_errors_only || (files.size() < 2 && !is_seen_)) return;
    const bool is_output = files.size() == 1 && files.front() == "-";
    if (!files.empty() && !is_output) std::cerr << "shedbook: wrote " << join(files, ", ") << "\n";
}

void Terminal::step(std::size_t done, std::size_t of, const std::string& what) {
    if (!is_seen_ || says_errors_only) return;
    const std::lock_guard hold{guard_};
    step_ = (of > 1 ? std::to_string(done) + "/" + std::to_string(of) + " " : "") + printable(what);
    if (!clock_.joinable()) {
        // Signals are for the thread that works.
        sigset_t all;
        sigset_t before;
        sigfillset(&all);
        pthread_sigmask(SIG_SETMASK, &all, &before);
        clock_ = std::thread{[this] { tell_time(); }};
        pthread_sigmask(SIG_SETMASK, &before, nullptr);
    } else if (has_line_) {
        std::cerr << kOverwrite << step_ << std::flush;
    }
}

void Terminal::tell_time() {
    std::unique_lock hold{guard_};
    for (auto waited = kPatienceOfEyes; !ended_.wait_for(hold, kPatienceOfEyes, [this] { return is_over_; });
         waited += kPatienceOfEyes) {
        has_line_ = true;
        std::cerr << kOverwrite << step_ << ", " << waited.count() << " s" << std::flush;
    }
}

void Terminal::end_line() {
    if (!clock_.joinable()) return;
    {
        const std::lock_guard hold{guard_};
        is_over_ = true;
    }
    ended_.notify_all();
    clock_.join();
    is_over_ = false;
    if (std::exchange(has_line_, false)) std::cerr << kOverwrite << std::flush;
}

}  // namespace shedbook
