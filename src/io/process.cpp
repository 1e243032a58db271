#include "shedbook/io/process.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>
#ifdef __linux__
#include <sys/prctl.h>
#endif

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <system_error>

#include "shedbook/io/errors.h"
#include "shedbook/io/interrupt.h"

namespace shedbook {
namespace {

constexpr std::size_t kMostSaid = 1024 * 1024;
// How often a wait looks up, and how often before a program that does not end when asked is ended.
constexpr std::chrono::milliseconds kLookUp{100};
constexpr int kPatience = 40;

enum class Heard { All, TimeIsUp, Interrupt };

constexpr int kNotStarted = 127;
#ifdef __linux__
constexpr int kParentIsGone = SIGUSR1;  // from the kernel to a guard
#endif

// All that a program is started with, made before the fork: behind it another thread may hold what memory is
// given out under, and nothing may be made any more.
class StartOfProgram {
  public:
    StartOfProgram(const std::vector<std::string>& arguments, const ProcessOptions& options)
        : arguments_{arguments}, folder_{options.folder} {
        for (char** entry = environ; *entry != nullptr; ++entry) {
            const std::string text = *entry;
            const bool is_ours = std::ranges::any_of(
                options.environment, [&](const auto& own) { return text.starts_with(own.first + "="); });
            if (!is_ours) environment_.push_back(text);
        }
        for (const auto& [name, value] : options.environment) environment_.push_back(name + "=" + value);
        argv_ = pointers_to(arguments_);
        envp_ = pointers_to(environment_);
    }

    // It points into itself.
    StartOfProgram(const StartOfProgram&) = delete;
    StartOfProgram& operator=(const StartOfProgram&) = delete;

    [[noreturn]] void become_it(int output) const {
        if (!folder_.empty() && chdir(folder_.c_str()) != 0) _exit(126);
        const int nothing = open("/dev/null", O_RDONLY);
        dup2(nothing, STDIN_FILENO);
        dup2(output, STDOUT_FILENO);
        dup2(output, STDERR_FILENO);
        environ = const_cast<char**>(envp_.data());
        execvp(argv_[0], argv_.data());
        _exit(kNotStarted);
    }

  private:
    static std::vector<char*> pointers_to(const std::vector<std::string>& texts) {
        std::vector<char*> out;
        out.reserve(texts.size() + 1);
        for (const std::string& text : texts) out.push_back(const_cast<char*>(text.c_str()));
        out.push_back(nullptr);
        return out;
    }

    std::vector<std::string> arguments_;
    std::vector<std::string> environment_;
    std::string folder_;
    std::vector<char*> argv_;
    std::vector<char*> envp_;
};

// Ends as the program did, so that whoever waits for the guard sees the program.
[[noreturn]] void end_like(int status) {
    if (WIFSIGNALED(status)) {
        const rlimit no_core{0, 0};
        setrlimit(RLIMIT_CORE, &no_core);
        std::signal(WTERMSIG(status), SIG_DFL);
        sigset_t all;
        sigfillset(&all);
        sigprocmask(SIG_UNBLOCK, &all, nullptr);
        std::raise(WTERMSIG(status));
    }
    _exit(WIFEXITED(status) ? WEXITSTATUS(status) : kNotStarted);
}

// A process between this program and the other one, in a group of its own with all that the other starts. The
// kernel tells it when its parent is gone, killed or not; then it ends the group, itself with it.
[[noreturn]] void guard(pid_t parent, const StartOfProgram& start, int output) {
    setpgid(0, 0);
    std::signal(SIGTERM, SIG_IGN);  // a polite request is for the program; the guard ends after it
    std::signal(SIGCHLD, SIG_DFL);
    sigset_t heard;
    sigset_t before;
    sigemptyset(&heard);
    sigaddset(&heard, SIGCHLD);
#ifdef __linux__
    sigaddset(&heard, kParentIsGone);
    prctl(PR_SET_PDEATHSIG, kParentIsGone);
#endif
    sigprocmask(SIG_BLOCK, &heard, &before);
    // A parent that was gone before the line above is nobody's parent any more.
    if (getppid() != parent) _exit(kNotStarted);
    const pid_t program = fork();
    if (program < 0) _exit(kNotStarted);
    if (program == 0) {
#ifdef __linux__
        prctl(PR_SET_PDEATHSIG, SIGKILL);  // where the guard itself is killed
#endif
        std::signal(SIGTERM, SIG_DFL);
        sigprocmask(SIG_SETMASK, &before, nullptr);
        start.become_it(output);
    }
    close(output);
    while (true) {
        int which = 0;
        sigwait(&heard, &which);
        if (which != SIGCHLD) kill(0, SIGKILL);
        int status = 0;
        if (waitpid(program, &status, WNOHANG) == program) end_like(status);
    }
}

// Reads until the other side closes, or something else ends the wait.
Heard read_until_closed(int from, const ProcessOptions& options, std::string& out) {
    const auto deadline = std::chrono::steady_clock::now() + options.time_limit;
    auto told = std::chrono::steady_clock::now();
    std::array<char, 16 * 1024> chunk{};
    while (true) {
        if (options.meanwhile && std::chrono::steady_clock::now() - told >= kLookUp) {
            options.meanwhile(out);
            told = std::chrono::steady_clock::now();
        }
        const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(
            deadline - std::chrono::steady_clock::now());
        if (InterruptWatch::is_interrupted()) return Heard::Interrupt;
        if (left.count() <= 0) return Heard::TimeIsUp;
        pollfd waiting{from, POLLIN, 0};
        const int ready = poll(&waiting, 1, static_cast<int>(std::min(left, kLookUp).count()));
        if (ready == 0 || (ready < 0 && errno == EINTR)) continue;
        if (ready < 0) return Heard::TimeIsUp;
        const ssize_t got = read(from, chunk.data(), chunk.size());
        if (got <= 0) return Heard::All;
        if (out.size() < kMostSaid) out.append(chunk.data(), static_cast<std::size_t>(got));
    }
}

// Asks a program to end, and ends it if it does not.
void end_politely(pid_t child) {
    kill(-child, SIGTERM);
    for (int i = 0; i < kPatience; ++i) {
        siginfo_t state{};
        if (waitid(P_PID, static_cast<id_t>(child), &state, WEXITED | WNOHANG | WNOWAIT) != 0 ||
            state.si_pid != 0)
            break;
        usleep(static_cast<useconds_t>(std::chrono::microseconds{kLookUp}.count()));
    }
    kill(-child, SIGKILL);
}

}  // namespace

std::optional<std::string> find_program(const std::string& name) {
    const char* path = std::getenv("PATH");
    std::string rest = path != nullptr ? path : "";
    while (!rest.empty()) {
        const std::size_t colon = rest.find(':');
        const std::string candidate = rest.substr(0, colon) + "/" + name;
        std::error_code error;
        if (access(candidate.c_str(), X_OK) == 0 && !std::filesystem::is_directory(candidate, error))
            return candidate;
        rest = colon == std::string::npos ? "" : rest.substr(colon + 1);
    }
    return std::nullopt;
}

std::string how_it_ended(const ProcessResult& result) {
    if (result.timed_out) return "did not end in time";
    if (result.signal == 0) return "ended with code " + std::to_string(result.exit_code);
    return "was ended by signal " + std::to_string(result.signal) + " (" + strsignal(result.signal) + ")";
}

ProcessResult run_process(const std::vector<std::string>& arguments, const ProcessOptions& options) {
    const auto fail = [&] {
        throw FailedProgram("cannot start " + arguments[0] + ": " + std::strerror(errno));
    };
    std::array<int, 2> ends{};
    if (pipe(ends.data()) != 0) fail();
    for (const int end : ends) fcntl(end, F_SETFD, FD_CLOEXEC);
    const StartOfProgram start{arguments, options};
    const pid_t parent = getpid();
    const pid_t child = fork();
    if (child < 0) fail();
    if (child == 0) {
        close(ends[0]);
        guard(parent, start, ends[1]);
    }
    setpgid(child, child);  // whichever of the two comes first
    close(ends[1]);
    ProcessResult result;
    const Heard heard = read_until_closed(ends[0], options, result.said);
    close(ends[0]);
    result.timed_out = heard == Heard::TimeIsUp;
    result.interrupted = heard == Heard::Interrupt;
    if (result.timed_out) kill(-child, SIGKILL);
    if (result.interrupted) end_politely(child);
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    if (WIFEXITED(status)) result.exit_code = WEXITSTATUS(status);
    if (WIFSIGNALED(status)) result.signal = WTERMSIG(status);
    return result;
}

}  // namespace shedbook
