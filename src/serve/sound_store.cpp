#include "sound_store.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "ask.h"
#include "tune_folder.h"

namespace shedbook {
namespace {

constexpr std::uintmax_t kMostBytes = 512ULL * 1024 * 1024;
constexpr std::size_t kMadeAtOnce = 2;
constexpr int kMostInLine = 12;

}  // namespace

bool SoundStore::has(const std::string& name) {
    const auto at = std::ranges::find(kept_, name, &Kept::name);
    if (at == kept_.end()) return false;
    kept_.splice(kept_.begin(), kept_, at);
    return true;
}

void SoundStore::keep(const std::string& name) {
    std::error_code error;
    kept_.push_front({name, std::filesystem::file_size(folder_.path() + "/" + name, error)});
    std::uintmax_t bytes = 0;
    for (const Kept& each : kept_) bytes += each.bytes;
    while (kept_.size() > 1 && bytes > kMostBytes) {
        bytes -= kept_.back().bytes;
        std::filesystem::remove(folder_.path() + "/" + kept_.back().name, error);
        kept_.pop_back();
    }
}

std::string SoundStore::get(const std::string& asked,
                            const std::function<void(const std::string& file)>& render) {
    std::string name = revision_of(asked) + ".wav";
    std::unique_lock hold{guard_};
    if (waiting_ >= kMostInLine) throw Refusal(429, "many sounds are being made; ask again in a moment");
    ++waiting_;
    // Who asks for the same waits for it; others wait for their turn.
    changed_.wait(hold, [&] { return !being_made_.contains(name) && being_made_.size() < kMadeAtOnce; });
    --waiting_;
    if (has(name)) return name;
    being_made_.insert(name);
    hold.unlock();
    const auto end = [&] {
        hold.lock();
        being_made_.erase(name);
        changed_.notify_all();
    };
    try {
        render(folder_.path() + "/" + name);
    } catch (...) {
        end();
        throw;
    }
    end();
    keep(name);
    return name;
}

std::string SoundStore::file_of(const std::string& name) {
    const std::lock_guard hold{guard_};
    return has(name) ? folder_.path() + "/" + name : std::string{};
}

}  // namespace shedbook
