// Sounds that were made, as files in a folder of their own: the ones that were not heard for longest go
// first, and all of them when the program ends.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <functional>
#include <list>
#include <mutex>
#include <set>
#include <string>

#include "shedbook/io/temporary_folder.h"

namespace shedbook {

class SoundStore {
  public:
    // Its name, under which file_of() finds it; made by `render` if it is not there. `asked`: all that it
    // depends on. Refusal 429 where too many are being made already.
    std::string get(const std::string& asked, const std::function<void(const std::string& file)>& render);
    // Empty if it is not there (any more).
    [[nodiscard]] std::string file_of(const std::string& name);

  private:
    struct Kept {
        std::string name;
        std::uintmax_t bytes = 0;
    };
    [[nodiscard]] bool has(const std::string& name);
    void keep(const std::string& name);

    TemporaryFolder folder_;
    std::mutex guard_;
    std::condition_variable changed_;
    std::set<std::string> being_made_;
    std::list<Kept> kept_;  // the last heard first
    int waiting_ = 0;
};

}  // namespace shedbook
