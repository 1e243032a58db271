#include "shedbook/io/temporary_folder.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <filesystem>
#include <string_view>
#include <system_error>

#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kPrefix = "shedbook-work-";
constexpr std::size_t kLetters = 6;  // that mkdtemp puts behind it
// So long a new folder is left alone: its owner may be about to lock it.
constexpr std::time_t kYoung = 60;

// A lock that lasts as long as the folder is held open; -1 if another process has it, or where the folder
// cannot be opened.
int lock_folder(const std::string& path, bool waits) {
    const int folder = open(path.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    if (folder < 0 || flock(folder, waits ? LOCK_EX : LOCK_EX | LOCK_NB) == 0) return folder;
    close(folder);
    return -1;
}

bool has_our_name(const fs::path& path) {
    const std::string name = path.filename().string();
    return name.size() == kPrefix.size() + kLetters && name.starts_with(kPrefix);
}

bool is_old_one_of_ours(int folder) {
    struct stat facts {};
    return fstat(folder, &facts) == 0 && facts.st_uid == geteuid() &&
           facts.st_mtime + kYoung < std::time(nullptr);
}

fs::path system_folder() {
    std::error_code error;
    fs::path folder = fs::temp_directory_path(error);
    if (error) throw FileError("no temporary folder can be made: TMPDIR names no folder");
    return folder;
}

void sweep_once(const fs::path& within) {
    static bool is_swept = false;
    if (!is_swept) sweep_temporary_folders(within.string());
    is_swept = true;
}

}  // namespace

TemporaryFolder::TemporaryFolder() {
    const fs::path within = system_folder();
    sweep_once(within);
    // POSIX mkdtemp puts letters of its own in place of the six at the end.
    std::string pattern = (within / (std::string{kPrefix} + std::string(kLetters, 'X'))).string();
    if (mkdtemp(pattern.data()) == nullptr)
        throw FileError("no temporary folder can be made: " + std::string{std::strerror(errno)});
    path_ = pattern;
    lock_ = lock_folder(path_, true);
}

TemporaryFolder::~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
    if (lock_ >= 0) close(lock_);
}

void sweep_temporary_folders(const std::string& within) {
    std::error_code error;
    for (fs::directory_iterator at{within, error}; !error && at != fs::directory_iterator{};
         at.increment(error)) {
        if (!has_our_name(at->path())) continue;
        const int folder = lock_folder(at->path().string(), false);
        if (folder < 0) continue;
        std::error_code ignored;
        if (is_old_one_of_ours(folder)) fs::remove_all(at->path(), ignored);
        close(folder);
    }
}

}  // namespace shedbook
