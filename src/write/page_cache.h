// Pages that were set before, kept in the user's cache folder: a part of a book with the same text, set by
// the same engraver, need not be set again. So are those at fault, or the same ones would be set, found
// wanting and set looser in every run.
//
//     PageCache cache{user_folder(UserFolder::Cache) + "/pages"};
//     if (const auto pages = cache.find(key, folder)) ...      // a file in `folder`, and where in it
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "pdf_join.h"

namespace shedbook {

// Whatever goes wrong with it (no folder, no room, damaged files), nothing is found or nothing is kept.
// Several programs may use one folder at a time: files appear whole, and those found are the finder's own.
class PageCache {
  public:
    static constexpr std::uintmax_t kMostBytes = 200U * 1024 * 1024;

    // An empty folder: keeps nothing. What was used longest ago goes when there are more than `most` bytes.
    explicit PageCache(std::string folder, std::uintmax_t most = kMostBytes);

    struct Found {
        PdfPages pages;
        double wide = 1;      // as of EngravedPart
        std::string warning;  // likewise; a line
    };
    // What was kept under that key; its pages lie in a file that has been brought into the folder `into`.
    [[nodiscard]] std::optional<Found> find(const std::string& key, const std::string& into) const;

    struct Kept {
        std::string key;
        Found what;  // all of one file
    };
    void keep(const std::vector<Kept>& parts) const;

  private:
    void make_room() const;

    std::string folder_;
    std::uintmax_t most_;
};

}  // namespace shedbook
