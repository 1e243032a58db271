#include "unfinished_files.h"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <climits>
#include <csignal>
#include <mutex>

namespace shedbook {
namespace {

// What a handler reads has a fixed place.
constexpr std::size_t kMostFiles = 16;
std::array<std::array<char, PATH_MAX>, kMostFiles> names{};
std::array<volatile std::sig_atomic_t, kMostFiles> is_there{};
// Between threads; a handler takes no lock.
std::mutex changing;

}  // namespace

void remember_unfinished(const std::string& file) {
    if (file.size() >= PATH_MAX) return;
    const std::lock_guard hold{changing};
    for (std::size_t i = 0; i < kMostFiles; ++i) {
        if (is_there[i] != 0) continue;
        std::copy(file.begin(), file.end(), names[i].begin());
        names[i][file.size()] = '\0';
        is_there[i] = 1;
        return;
    }
}

void forget_unfinished(const std::string& file) {
    const std::lock_guard hold{changing};
    for (std::size_t i = 0; i < kMostFiles; ++i) {
        if (is_there[i] != 0 && file == names[i].data()) is_there[i] = 0;
    }
}

void remove_unfinished() noexcept {
    for (std::size_t i = 0; i < kMostFiles; ++i) {
        if (is_there[i] != 0) unlink(names[i].data());
    }
}

}  // namespace shedbook
