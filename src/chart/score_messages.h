// Messages about one part of a score: the place is file, part, bar and perhaps the text of a symbol.
#pragma once

#include <string>

#include "shedbook/base/diagnostics.h"

namespace shedbook {

class ScoreMessages {
  public:
    ScoreMessages(std::string file, std::string part, Diagnostics& diagnostics)
        : file_{std::move(file)}, part_{std::move(part)}, diagnostics_{diagnostics} {}

    // `bar` counts measures from 0; `symbol` may be empty.
    void warning(int bar, const std::string& symbol, std::string message, std::string hint = {}) {
        diagnostics_.warning_at(place(bar, symbol), std::move(message), std::move(hint));
    }
    void error(int bar, const std::string& symbol, std::string message, std::string hint = {}) {
        diagnostics_.error_at(place(bar, symbol), std::move(message), std::move(hint));
    }
    void note(std::string message, std::string hint = {}) {
        diagnostics_.note_at(part_.empty() ? file_ : file_ + ": part " + part_, std::move(message),
                             std::move(hint));
    }

  private:
    [[nodiscard]] std::string place(int bar, const std::string& symbol) const {
        std::string out =
            file_ + ": " + (part_.empty() ? "" : "part " + part_ + ", ") + "bar " + std::to_string(bar + 1);
        if (!symbol.empty()) out += ", '" + symbol + "'";
        return out;
    }

    std::string file_;
    std::string part_;
    Diagnostics& diagnostics_;
};

}  // namespace shedbook
