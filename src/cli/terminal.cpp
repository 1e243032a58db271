#include "terminal.h"

#include <unistd.h>

#include <iostream>
#include <utility>

namespace shedbook {

Terminal::Terminal() : is_seen_{isatty(STDERR_FILENO) == 1} {}

Terminal::~Terminal() {
    end_line();
}

void Terminal::say(const Diagnostics& diagnostics) {
    end_line();
    for (const Diagnostic& diagnostic : diagnostics.all()) std::cerr << render(diagnostic);
}

void Terminal::remark(const std::string& line) {
    end_line();
    std::cerr << "shedbook: " << line << "\n";
}

void Terminal::step(std::size_t done, std::size_t of, const std::string& what) {
    if (!is_seen_) return;
    has_line_ = true;
    std::cerr << "\r\x1b[K" << done << "/" << of << " " << what << std::flush;
}

void Terminal::end_line() {
    if (std::exchange(has_line_, false)) std::cerr << "\r\x1b[K" << std::flush;
}

}  // namespace shedbook
