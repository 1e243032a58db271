// Values as JSON.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/io/as_data.h"
#include "shedbook/io/data.h"

namespace shedbook {

// To a tenth of a microsecond: a sample is 23 of them.
[[nodiscard]] Data seconds_as_data(double seconds);

// Places of a text as scripts of a browser count them: in units of UTF-16 from 0.
class Units {
  public:
    explicit Units(std::string_view text) : text_{text} {}
    [[nodiscard]] std::int64_t of_byte(std::size_t byte);

  private:
    std::string_view text_;
    std::size_t byte_ = 0;  // how far it was counted
    std::int64_t units_ = 0;
};

// What was said of a text, each with its place in it. `text`: nothing where places in it do not count.
[[nodiscard]] Data::Array slips_of(const Diagnostics& diagnostics, const std::string* text);
// Of something that is no text of the page.
[[nodiscard]] Data::Array slips_of(const Diagnostics& diagnostics);

}  // namespace shedbook
