// Tunes as they are named in addresses and told of in answers.
#pragma once

#include <string>

#include "ask.h"
#include "desk.h"

namespace shedbook {

// Refusal 404 if there is none of that name.
[[nodiscard]] std::string tune_file(const Desk& desk, const std::string& name);
// The same of a class.
[[nodiscard]] std::string roster_file(const Desk& desk, const std::string& name);
[[nodiscard]] Data::Object described_tune(Desk& desk, const std::string& file, bool with_text);
// What If-Match says; Refusal 428 without it.
[[nodiscard]] std::string revision_asked(const Ask& ask);

}  // namespace shedbook
