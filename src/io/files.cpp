#include "shedbook/io/files.h"

#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <istream>
#include <ostream>
#include <system_error>
#include <vector>

#include "beside.h"
#include "unfinished_files.h"

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
    remember_unfinished(temporary_);
}

FileBeside::~FileBeside() {
    std::error_code ignored;
    if (!kept_) std::filesystem::remove(temporary_, ignored);
    forget_unfinished(temporary_);
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
