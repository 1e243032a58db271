#include "shedbook/io/files.h"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <istream>
#include <ostream>
#include <system_error>
#include <vector>

#include "beside.h"

namespace shedbook {
namespace {

constexpr std::size_t kChunk = 64 * 1024;

std::string read_all(std::istream& in, const std::string& path, std::size_t most) {
    std::string out;
    std::vector<char> chunk(kChunk);
    while (in) {
        in.read(chunk.data(), static_cast<std::streamsize>(chunk.size()));
        out.append(chunk.data(), static_cast<std::size_t>(in.gcount()));
        if (out.size() > most) {
            throw FileError(path + ": larger than " + std::to_string(most / (1024 * 1024)) +
                            " MiB, which no chart or lead sheet is");
        }
    }
    if (in.bad()) throw FileError(path + ": cannot be read");
    return out;
}

// What the system said last.
std::string reason() {
    return errno != 0 ? std::strerror(errno) : "the disk may be full";
}

std::string behind_links(const std::string& path) {
    std::error_code error;
    if (!std::filesystem::is_symlink(path, error)) return path;
    const std::filesystem::path target = std::filesystem::weakly_canonical(path, error);
    return error ? path : target.string();
}

void produce_into(const std::string& file, const std::string& named,
                  const std::function<void(std::ostream&)>& produce) {
    std::vector<char> buffer(kChunk);
    errno = 0;
    std::ofstream out;
    out.rdbuf()->pubsetbuf(buffer.data(), static_cast<std::streamsize>(buffer.size()));
    out.open(file, std::ios::binary | std::ios::trunc);
    if (!out) throw FileError(named + ": cannot be written: " + std::strerror(errno));
    produce(out);
    out.close();
    if (!out) throw FileError(named + ": cannot be written: " + reason());
}

// Temporary files that a signal must not leave behind. What a handler reads has a fixed place, and it calls
// only what POSIX allows there (unlink, signal, raise).
constexpr std::size_t kMostTemporary = 4;
constexpr std::array<int, 3> kEnding{SIGINT, SIGTERM, SIGHUP};
std::array<std::array<char, PATH_MAX>, kMostTemporary> to_clear{};
std::array<volatile std::sig_atomic_t, kMostTemporary> is_to_clear{};

void clear_and_end(int which) {
    for (std::size_t i = 0; i < kMostTemporary; ++i) {
        if (is_to_clear[i] != 0) unlink(to_clear[i].data());
    }
    std::signal(which, SIG_DFL);
    std::raise(which);
}

// Whoever listens to signals already clears away by himself; who ignores them (nohup) goes on.
void begin_clearing(const std::string& file) {
    for (std::size_t i = 0; i < kMostTemporary; ++i) {
        if (is_to_clear[i] != 0 || file.size() >= PATH_MAX) continue;
        std::copy(file.begin(), file.end(), to_clear[i].begin());
        to_clear[i][file.size()] = '\0';
        is_to_clear[i] = 1;
        break;
    }
    for (const int which : kEnding) {
        struct sigaction now {};
        if (sigaction(which, nullptr, &now) == 0 && now.sa_handler == SIG_DFL)
            std::signal(which, clear_and_end);
    }
}

void end_clearing(const std::string& file) {
    bool has_more = false;
    for (std::size_t i = 0; i < kMostTemporary; ++i) {
        if (is_to_clear[i] != 0 && file == to_clear[i].data()) is_to_clear[i] = 0;
        has_more = has_more || is_to_clear[i] != 0;
    }
    if (has_more) return;
    for (const int which : kEnding) {
        struct sigaction now {};
        if (sigaction(which, nullptr, &now) == 0 && now.sa_handler == clear_and_end)
            std::signal(which, SIG_DFL);
    }
}

}  // namespace

std::string read_file(const std::string& path, std::size_t most) {
    if (path == "-") return read_all(std::cin, "standard input", most);
    std::error_code error;
    if (std::filesystem::is_directory(path, error)) throw FileError(path + ": is a folder, not a file");
    errno = 0;
    std::ifstream in{path, std::ios::binary};
    if (!in) throw FileError(path + ": cannot be opened: " + std::strerror(errno));
    return read_all(in, path, most);
}

FileBeside::FileBeside(const std::string& path)
    : path_{behind_links(path)}, temporary_{path_ + ".part-" + std::to_string(getpid())} {
    begin_clearing(temporary_);
}

FileBeside::~FileBeside() {
    std::error_code ignored;
    if (!kept_) std::filesystem::remove(temporary_, ignored);
    end_clearing(temporary_);
}

void FileBeside::keep() {
    std::error_code error;
    const std::filesystem::file_status before = std::filesystem::status(path_, error);
    if (std::filesystem::is_regular_file(before))
        std::filesystem::permissions(temporary_, before.permissions(), error);
    std::filesystem::rename(temporary_, path_, error);
    if (error) throw FileError(path_ + ": cannot be written: " + error.message());
    kept_ = true;
}

void write_atomically(const std::string& path, const std::function<void(std::ostream&)>& produce) {
    if (path == "-") {
        produce(std::cout);
        if (!std::cout.flush()) throw FileError("standard output: cannot be written");
        return;
    }
    // A pipe or a device is no file that could be replaced.
    std::error_code error;
    const std::filesystem::file_status there = std::filesystem::status(path, error);
    if (std::filesystem::exists(there) && !std::filesystem::is_regular_file(there) &&
        !std::filesystem::is_directory(there)) {
        produce_into(path, path, produce);
        return;
    }
    FileBeside beside{path};
    produce_into(beside.temporary(), path, produce);
    beside.keep();
}

}  // namespace shedbook
