#include "shedbook/io/process.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <system_error>

#include "shedbook/io/files.h"

namespace shedbook {
namespace {

constexpr std::size_t kMostSaid = 1024 * 1024;
// How often a wait looks up, and how often before a program that does not end when asked is ended.
constexpr std::chrono::milliseconds kLookUp{100};
constexpr int kPatience = 20;

constexpr std::array<int, 3> kInterrupts{SIGINT, SIGTERM, SIGHUP};
volatile std::sig_atomic_t interrupted = 0;
int watches = 0;
std::array<struct sigaction, kInterrupts.size()> handlers_before{};

void remember_interrupt(int /*which*/) {
    interrupted = 1;
}

enum class Heard { All, TimeIsUp, Interrupt };

[[noreturn]] void become(const std::vector<std::string>& arguments, const ProcessOptions& options,
                         int output) {
    // A group of its own, so that what it starts can be ended with it.
    setpgid(0, 0);
    if (!options.folder.empty() && chdir(options.folder.c_str()) != 0) _exit(126);
    const int nothing = open("/dev/null", O_RDONLY);
    dup2(nothing, STDIN_FILENO);
    dup2(output, STDOUT_FILENO);
    dup2(output, STDERR_FILENO);
    for (const auto& [name, value] : options.environment) setenv(name.c_str(), value.c_str(), 1);
    std::vector<char*> argv;
    for (const std::string& argument : arguments) argv.push_back(const_cast<char*>(argument.c_str()));
    argv.push_back(nullptr);
    execvp(argv[0], argv.data());
    _exit(127);
}

// Reads until the other side closes, or something else ends the wait.
Heard read_until_closed(int from, std::chrono::steady_clock::time_point deadline, std::string& out) {
    std::array<char, 16 * 1024> chunk{};
    while (true) {
        const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(
            deadline - std::chrono::steady_clock::now());
        if (interrupted != 0) return Heard::Interrupt;
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

ProcessResult run_process(const std::vector<std::string>& arguments, const ProcessOptions& options) {
    std::array<int, 2> ends{};
    if (pipe(ends.data()) != 0) throw FileError("cannot start " + arguments[0] + ": " + std::strerror(errno));
    const pid_t child = fork();
    if (child < 0) throw FileError("cannot start " + arguments[0] + ": " + std::strerror(errno));
    if (child == 0) {
        close(ends[0]);
        become(arguments, options, ends[1]);
    }
    close(ends[1]);
    ProcessResult result;
    const Heard heard =
        read_until_closed(ends[0], std::chrono::steady_clock::now() + options.time_limit, result.said);
    close(ends[0]);
    result.timed_out = heard == Heard::TimeIsUp;
    result.interrupted = heard == Heard::Interrupt;
    if (result.timed_out) kill(-child, SIGKILL);
    if (result.interrupted) end_politely(child);
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    result.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return result;
}

InterruptWatch::InterruptWatch() {
    if (watches++ > 0) return;
    interrupted = 0;
    struct sigaction remember {};
    remember.sa_handler = remember_interrupt;
    for (std::size_t i = 0; i < kInterrupts.size(); ++i)
        sigaction(kInterrupts[i], &remember, &handlers_before[i]);
}

InterruptWatch::~InterruptWatch() {
    if (--watches > 0) return;
    for (std::size_t i = 0; i < kInterrupts.size(); ++i)
        sigaction(kInterrupts[i], &handlers_before[i], nullptr);
    interrupted = 0;
}

bool InterruptWatch::is_interrupted() {
    return interrupted != 0;
}

TemporaryFolder::TemporaryFolder() {
    // POSIX mkdtemp puts letters of its own in place of the six at the end.
    std::error_code error;
    const std::filesystem::path folder = std::filesystem::temp_directory_path(error);
    if (error) throw FileError("no temporary folder can be made: TMPDIR names no folder");
    std::string pattern = (folder / "shedbook-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr)
        throw FileError("no temporary folder can be made: " + std::string{std::strerror(errno)});
    path_ = pattern;
}

TemporaryFolder::~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

}  // namespace shedbook
