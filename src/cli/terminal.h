// The caller of a job at a terminal: what is said goes to standard error.
#pragma once

#include <string>

#include "shedbook/job/caller.h"

namespace shedbook {

class Terminal : public Caller {
  public:
    Terminal();
    ~Terminal() override;
    Terminal(const Terminal&) = delete;
    Terminal& operator=(const Terminal&) = delete;
    void say(const Diagnostics& diagnostics) override;
    void remark(const std::string& line) override;
    // "12/30 Ada Lind", one line that is written over and gone at the end; nothing where standard error is no
    // terminal.
    void step(std::size_t done, std::size_t of, const std::string& what) override;
    // Takes that line away.
    void end_line();

  private:
    bool is_seen_;
    bool has_line_ = false;
};

}  // namespace shedbook
