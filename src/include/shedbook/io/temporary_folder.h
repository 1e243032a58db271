// A folder of our own under the system's temporary one.
//
//     const TemporaryFolder folder;
//     run_process({program}, {.folder = folder.path()});
#pragma once

#include <string>

namespace shedbook {

// Removed with all that is in it at the end. A program that was killed leaves its folder behind: the first
// one that is made here later sweeps it away. FileError if none can be made.
class TemporaryFolder {
  public:
    TemporaryFolder();
    ~TemporaryFolder();
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    [[nodiscard]] const std::string& path() const { return path_; }

  private:
    std::string path_;
    int lock_ = -1;
};

// Removes folders like these in `within` whose owner is gone: its lock on the folder has gone with it.
// Folders of other users and of owners that live are left alone, and so is what has another name.
void sweep_temporary_folders(const std::string& within);

}  // namespace shedbook
