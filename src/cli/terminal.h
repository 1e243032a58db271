// The caller of a job at a terminal: what is said goes to standard error. Colours and the line that tells how
// far it is are for eyes: neither is there where standard error is no terminal.
#pragma once

#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>

#include "shedbook/job/caller.h"
#include "shedbook/job/jobs.h"

namespace shedbook {

class Terminal : public Caller {
  public:
    Terminal();
    ~Terminal() override;
    Terminal(const Terminal&) = delete;
    Terminal& operator=(const Terminal&) = delete;
    void say(const Diagnostics& diagnostics) override;
    void remark(const std::string& line) override;
    // "12/30 Ada Lind, 4 s", one line that is written over and gone at the end. It comes when the work has
    // taken a second.
    void step(std::size_t done, std::size_t of, const std::string& what) override;
    // Takes that line away.
    void end_line();
    // "wrote a.mxl, b.mxl": where there are several, or somebody looks.
    void announce(const Files& files);

    // For the rest of the program: errors only, no notes, warnings, announcements or line (--quiet).
    static void say_errors_only();

  private:
    void tell_time();

    bool is_seen_;
    std::mutex guard_;  // of what follows
    std::condition_variable ended_;
    std::string step_;
    bool has_line_ = false;
    bool is_over_ = false;
    std::thread clock_;
};

// A fault of the command line or the machine, with the program's name before it.
void say_fault(const std::string& text);

}  // namespace shedbook
