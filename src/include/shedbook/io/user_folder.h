// Folders of the user's in which programs keep what is theirs (freedesktop.org, XDG Base Directory
// Specification 0.8).
#pragma once

#include <string>

namespace shedbook {

enum class UserFolder { Cache, State };

// Ours within it, whether it is there or not: "/home/ada/.cache/shedbook". Empty where neither the variable
// for it nor HOME names a whole path.
[[nodiscard]] std::string user_folder(UserFolder kind);

}  // namespace shedbook
