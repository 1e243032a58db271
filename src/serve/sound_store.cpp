#include "sound_store.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "ask.h"
#include "shedbook/io/errors.h"
#include "shedbook/io/interrupt.h"
#include "tune_folder.h"

namespace shedbook {
namespace {

constexpr std::uintmax_t kMostBytes = 512ULL * 1024 * 1024;
constexpr std::size_t kMadeAtOnce = 2;
constexpr int kMostInLine = 12;
constexpr std::size_t kMostLoudness = 1000;

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

// What is made ahead ends, but for what is now waited for.
void SoundStore::clear_the_way(const std::string& name) {
    for (auto& [other, work] : being_made_) {
        if (other == name) work.makes_way = false;
        if (work.makes_way) work.is_to_stop = true;
    }
}

// Who asks for the same waits for it; others wait for their turn, and what is made ahead until nobody waits.
void SoundStore::wait_for_turn(const std::string& name, SoundFor when, std::unique_lock<std::mutex>& hold) {
    const bool is_ahead = when == SoundFor::Later;
    const std::uint64_t mine = is_ahead ? ++last_ahead_ : 0;
    const auto is_late = [&] { return is_ahead && mine != last_ahead_; };
    changed_.notify_all();
    ++waiting_;
    changed_.wait(hold, [&] {
        if (is_late()) return true;
        return !being_made_.contains(name) && being_made_.size() < (is_ahead ? 1 : kMadeAtOnce);
    });
    --waiting_;
    if (is_late() && !has(name)) throw MadeWay{};
}

std::string SoundStore::get(const std::string& asked, SoundFor when,
                            const std::function<void(const std::string& file)>& render) {
    std::string name = revision_of(asked) + ".wav";
    std::unique_lock hold{guard_};
    if (waiting_ >= kMostInLine) throw Refusal(429, "many sounds are being made; ask again in a moment");
    if (when == SoundFor::Now) clear_the_way(name);
    wait_for_turn(name, when, hold);
    if (has(name)) return name;
    Work& work = being_made_[name];
    work.makes_way = when == SoundFor::Later;
    hold.unlock();
    const auto end = [&] {
        hold.lock();
        being_made_.erase(name);
        changed_.notify_all();
    };
    try {
        const StopsByWish stops{work.is_to_stop};
        render(folder_.path() + "/" + name);
    } catch (const Stopped&) {
        const bool made_way = work.is_to_stop;
        end();
        if (made_way) throw MadeWay{};
        throw;
    } catch (...) {
        end();
        throw;
    }
    end();
    keep(name);
    return name;
}

std::optional<SideLoudness> SoundStore::loudness_of(const std::string& music) {
    const std::lock_guard hold{guard_};
    const auto at = loudness_.find(music);
    return at == loudness_.end() ? std::nullopt : std::optional{at->second};
}

void SoundStore::keep_loudness(const std::string& music, const SideLoudness& loudness) {
    const std::lock_guard hold{guard_};
    // It is measured again in half a second.
    if (loudness_.size() >= kMostLoudness) loudness_.clear();
    loudness_[music] = loudness;
}

std::string SoundStore::file_of(const std::string& name) {
    const std::lock_guard hold{guard_};
    return has(name) ? folder_.path() + "/" + name : std::string{};
}

}  // namespace shedbook
