// Folders for their owner alone.
#pragma once

#include <filesystem>

namespace shedbook {

// Makes those that are missing (0700). FileError if one cannot be made.
void make_private_folders(const std::filesystem::path& folder);

}  // namespace shedbook
