#include "shedbook/io/user_folder.h"

#include <cstdlib>

namespace shedbook {
namespace {

struct FolderRow {
    const char* variable;
    const char* below_home;
};

constexpr FolderRow row_of(UserFolder kind) {
    return kind == UserFolder::Cache ? FolderRow{"XDG_CACHE_HOME", "/.cache"}
                                     : FolderRow{"XDG_STATE_HOME", "/.local/state"};
}

}  // namespace

std::string user_folder(UserFolder kind) {
    const FolderRow row = row_of(kind);
    if (const char* named = std::getenv(row.variable); named != nullptr && *named == '/')
        return std::string{named} + "/shedbook";
    if (const char* home = std::getenv("HOME"); home != nullptr && *home == '/')
        return std::string{home} + row.below_home + "/shedbook";
    return {};
}

}  // namespace shedbook
