// Sounds that were made, as files in a folder of their own: the ones that were not heard for longest go
// first, and all of them when the program ends.
#pragma once

#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <exception>
#include <functional>
#include <list>
#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "shedbook/io/temporary_folder.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// Somebody waits for it, or it is made ahead: then it makes way for what somebody waits for.
enum class SoundFor { Now, Later };
struct MadeWay : std::exception {};

class SoundStore {
  public:
    // Its name, under which file_of() finds it; made by `render` if it is not there. `asked`: all that it
    // depends on. Refusal 429 where too many are being made already, MadeWay for what was asked for Later.
    std::string get(const std::string& asked, SoundFor when,
                    const std::function<void(const std::string& file)>& render);
    // What was measured of the same music before, at whatever tempo.
    [[nodiscard]] std::optional<SideLoudness> loudness_of(const std::string& music);
    void keep_loudness(const std::string& music, const SideLoudness& loudness);
    // Empty if it is not there (any more).
    [[nodiscard]] std::string file_of(const std::string& name);

  private:
    struct Kept {
        std::string name;
        std::uintmax_t bytes = 0;
    };
    struct Work {
        bool makes_way = false;
        std::atomic<bool> is_to_stop = false;
    };
    [[nodiscard]] bool has(const std::string& name);
    void keep(const std::string& name);
    void clear_the_way(const std::string& name);
    void wait_for_turn(const std::string& name, SoundFor when, std::unique_lock<std::mutex>& hold);

    TemporaryFolder folder_;
    std::mutex guard_;
    std::condition_variable changed_;
    std::map<std::string, Work> being_made_;
    std::list<Kept> kept_;  // the last heard first
    std::map<std::string, SideLoudness> loudness_;
    int waiting_ = 0;
    std::uint64_t last_ahead_ = 0;  // counts what is asked for ahead: only the last of it still matters
};

}  // namespace shedbook
