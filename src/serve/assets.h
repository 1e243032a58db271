// The files of the page: those in the program, or, while it is being written, those of a folder.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "ask.h"

namespace shedbook {

class Assets {
  public:
    // `folder`: empty for those in the program.
    explicit Assets(const std::string& folder);

    [[nodiscard]] bool has_page() const { return has("index.html"); }
    // The page itself at whatever place, with `nonce` for its styles; what is missing where there is none.
    [[nodiscard]] Answer page(const std::string& nonce) const;
    // A file of it under "/assets/HASH/".
    [[nodiscard]] Answer file(const std::string& hash, const std::string& name) const;
    // The text of one of them; nothing if it is not there.
    [[nodiscard]] std::optional<std::string> text(const std::string& name) const;

  private:
    [[nodiscard]] bool has(const std::string& name) const { return files_.contains(name); }

    std::map<std::string, std::string> own_;  // of a folder
    std::map<std::string, std::string_view> files_;
    std::string hash_;  // of all of them
};

}  // namespace shedbook
