// A temporary file beside the place where it will be renamed to; removed again unless it is kept, also where
// a signal ends the program.
#pragma once

#include <string>

namespace shedbook {

class FileBeside {
  public:
    explicit FileBeside(const std::string& path);
    ~FileBeside();
    FileBeside(const FileBeside&) = delete;
    FileBeside& operator=(const FileBeside&) = delete;

    [[nodiscard]] const std::string& temporary() const { return temporary_; }
    // Renames it into place, with the permissions of the file that was there; FileError if that cannot be
    // done.
    void keep();

  private:
    std::string path_;  // behind a link, what the link names
    std::string temporary_;
    bool kept_ = false;
};

}  // namespace shedbook
