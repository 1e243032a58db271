// What the list of tunes says about each, worked out once for each state of its file.
#pragma once

#include <chrono>
#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "shedbook/io/data.h"
#include "tune_folder.h"

namespace shedbook {

// Until when something may be worked out that can also wait.
using Deadline = std::chrono::steady_clock::time_point;

class Shelf {
  public:
    // What an address calls it.
    [[nodiscard]] static std::string name_of(const std::string& file);
    // As docs/page.md names the members; nothing if it is not there. Behind the deadline, what takes longer
    // (the units) is null.
    [[nodiscard]] std::optional<Data::Object> describe(const TuneFolder& folder, const std::string& file,
                                                       Deadline until);

  private:
    struct Known {
        std::string revision;
        Data::Object facts;
        bool has_units = false;
    };
    std::mutex guard_;
    std::map<std::string, Known> known_;
};

}  // namespace shedbook
