// A program of a test's own in place of one that is installed.
#pragma once

#include <sys/stat.h>

#include <cstdlib>
#include <ostream>
#include <string>

#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {

// While it lives, `name` is a shell script with these lines.
class ProgramOnPath {
  public:
    ProgramOnPath(const std::string& name, const std::string& script) : before_{std::getenv("PATH")} {
        write_atomically(folder_.file(name), [&](std::ostream& out) {
            out << "#!/bin/sh\n" << script << "\n";
        });
        chmod(folder_.file(name).c_str(), 0700);
        setenv("PATH", (folder_.file("") + ":" + before_).c_str(), 1);
    }
    ~ProgramOnPath() { setenv("PATH", before_.c_str(), 1); }
    ProgramOnPath(const ProgramOnPath&) = delete;
    ProgramOnPath& operator=(const ProgramOnPath&) = delete;

  private:
    ScratchFolder folder_;
    std::string before_;
};

}  // namespace shedbook
