// Which function answers which address: a table for each matter, joined in routes.cpp.
#pragma once

#include <span>

#include "ask.h"
#include "desk.h"

namespace shedbook {

struct Route {
    const char* method;
    const char* pattern;  // "/api/tunes/*": a star is one part of the path
    Answer (*answer)(Desk& desk, const Ask& ask);
    bool for_guests = false;  // beyond GET: it changes nothing
};

[[nodiscard]] std::span<const Route> state_routes();
[[nodiscard]] std::span<const Route> tune_routes();
[[nodiscard]] std::span<const Route> bin_routes();
[[nodiscard]] std::span<const Route> write_routes();
[[nodiscard]] std::span<const Route> practise_routes();
[[nodiscard]] std::span<const Route> sound_routes();
[[nodiscard]] std::span<const Route> log_routes();
[[nodiscard]] std::span<const Route> paper_routes();
[[nodiscard]] std::span<const Route> class_routes();

// 404 and 405 where no route fits, 403 for what a guest may not do; what is thrown becomes an answer.
[[nodiscard]] Answer answer_of(Desk& desk, const Ask& ask);

}  // namespace shedbook
