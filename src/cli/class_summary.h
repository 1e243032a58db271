// What a run over a class tells: a line that moves while it works, and a table at its end.
#pragma once

#include <iosfwd>
#include <string>
#include <utility>
#include <vector>

#include "class_books.h"

namespace shedbook {

// "12/30 Ada Lind" on the terminal, one line that is written over and gone at the end. Nothing where standard
// error is no terminal.
class ProgressLine {
  public:
    explicit ProgressLine(std::size_t all);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;
    void next(const std::string& what);

  private:
    std::size_t all_;
    std::size_t done_ = 0;
    bool is_seen_;
};

struct SummaryRow {
    std::string who;
    std::string instrument;
    std::string level;
    std::string bars;
    std::string file;
    Diagnostics left_out;
};

// The rows in columns; below, what was left out, each reason once, with the chords and the people it
// concerns.
void write_summary(const std::vector<SummaryRow>& rows, std::ostream& out);

}  // namespace shedbook
