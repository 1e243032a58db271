// The caller of a job that a browser asked for: keeps what is said, to be sent with the answer.
#pragma once

#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/io/data.h"
#include "shedbook/job/caller.h"

namespace shedbook {

class Listener : public Caller {
  public:
    void say(const Diagnostics& diagnostics) override;
    void remark(const std::string& line) override { remarks_.push_back(line); }
    // What was said, without places in any text.
    [[nodiscard]] const Data::Array& slips() const { return slips_; }
    // The same and the remarks, as sentences.
    [[nodiscard]] std::vector<std::string> sentences() const;

  private:
    Data::Array slips_;
    std::vector<std::string> said_;
    std::vector<std::string> remarks_;
};

}  // namespace shedbook
