#include "shedbook/base/source_text.h"

#include <algorithm>

#include "shedbook/base/text.h"

namespace shedbook {

std::size_t SourceText::line_begin(std::size_t byte) const {
    byte = std::min(byte, text.size());
    const std::size_t newline = byte == 0 ? std::string::npos : text.rfind('\n', byte - 1);
    return newline == std::string::npos ? 0 : newline + 1;
}

std::string_view SourceText::line_at(std::size_t byte) const {
    const std::size_t begin = line_begin(byte);
    std::size_t end = text.find('\n', begin);
    if (end == std::string::npos) end = text.size();
    if (end > begin && text[end - 1] == '\r') --end;
    return std::string_view{text}.substr(begin, end - begin);
}

Place SourceText::place_of(std::size_t byte) const {
    byte = std::min(byte, text.size());
    const std::size_t begin = line_begin(byte);
    const auto lines = std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(begin), '\n');
    return {static_cast<std::size_t>(lines) + 1,
            count_characters(std::string_view{text}.substr(begin, byte - begin)) + 1};
}

}  // namespace shedbook
