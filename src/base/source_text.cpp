#include "shedbook/base/source_text.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Characters from one mark to the next: few enough to be counted for every message.
constexpr std::size_t kBetweenMarks = 64;

// The last of rising numbers that is not above the value, which the first never is.
std::size_t index_at_or_before(const std::vector<std::size_t>& rising, std::size_t value) {
    return static_cast<std::size_t>(std::ranges::upper_bound(rising, value) - rising.begin()) - 1;
}

}  // namespace

SourceText::SourceText(std::string name_given, std::string text_given)
    : name{std::move(name_given)}, text{std::move(text_given)}, lines_{0} {
    for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 1)) {
        lines_.push_back(at + 1);
    }
    std::size_t count = 0;
    std::size_t at = 0;
    do {
        if (count++ % kBetweenMarks == 0) marks_.push_back(at);
        at += at < text.size() ? character_length(text, at) : 1;
    } while (at < text.size());
}

std::size_t SourceText::characters_before(std::size_t byte) const {
    const std::size_t mark = index_at_or_before(marks_, byte);
    const std::string_view rest = std::string_view{text}.substr(marks_[mark], byte - marks_[mark]);
    return mark * kBetweenMarks + count_characters(rest);
}

std::size_t SourceText::line_begin(std::size_t byte) const {
    return lines_[index_at_or_before(lines_, std::min(byte, text.size()))];
}

std::string_view SourceText::line_at(std::size_t byte) const {
    const std::size_t line = index_at_or_before(lines_, std::min(byte, text.size()));
    const std::size_t begin = lines_[line];
    std::size_t end = line + 1 < lines_.size() ? lines_[line + 1] - 1 : text.size();
    if (end > begin && text[end - 1] == '\r') --end;
    return std::string_view{text}.substr(begin, end - begin);
}

Place SourceText::place_of(std::size_t byte) const {
    byte = std::min(byte, text.size());
    const std::size_t line = index_at_or_before(lines_, byte);
    return {line + 1, characters_before(byte) - characters_before(lines_[line]) + 1};
}

std::size_t SourceText::byte_of(Place place) const {
    if (place.line == 0 || place.column == 0) return 0;
    if (place.line > lines_.size()) return text.size();
    const std::size_t begin = lines_[place.line - 1];
    const std::size_t end = place.line < lines_.size() ? lines_[place.line] : text.size();
    if (end - begin <= 2 * kBetweenMarks) return forward(begin, place.column - 1);
    const std::size_t wanted = characters_before(begin) + place.column - 1;
    const std::size_t mark = std::min(wanted / kBetweenMarks, marks_.size() - 1);
    return forward(marks_[mark], wanted - mark * kBetweenMarks);
}

std::size_t SourceText::forward(std::size_t byte, std::size_t characters) const {
    for (; characters > 0 && byte < text.size(); --characters) byte += character_length(text, byte);
    return byte;
}

}  // namespace shedbook
