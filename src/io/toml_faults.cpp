#include "toml_faults.h"

#include <algorithm>
#include <array>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr std::string_view kLineForms =
    "a line is a heading, [[student]], or a name and its value, level = 3";

std::string_view key_of(std::string_view line) {
    return trimmed(line.substr(0, std::min(line.find('='), line.size())));
}

std::string_view value_of(std::string_view line) {
    const std::size_t equals = line.find('=');
    return equals == std::string_view::npos ? std::string_view{} : trimmed(line.substr(equals + 1));
}

// The value without marks of quotation of any kind.
std::string bare(std::string_view value) {
    std::string out;
    for (std::size_t i = 0; i < value.size(); i += character_length(value, i)) {
        const std::string_view character = value.substr(i, character_length(value, i));
        static constexpr std::array<std::string_view, 8> kMarks{"\"", "'", "“", "”", "„", "‘", "’", "«"};
        if (std::ranges::find(kMarks, character) == kMarks.end()) out += character;
    }
    return std::string{trimmed(out)};
}

std::string write(const std::string& line) {
    return "write: " + line;
}

std::string in_quotation_marks(std::string_view line) {
    if (value_of(line).empty()) return "a text stands between two of them, in one line";
    return write(std::string{key_of(line)} + " = \"" + bare(value_of(line)) + "\"");
}

TomlFault without_equals(std::string_view line, std::size_t at) {
    if (at < line.size() && line[at] == ':')
        return {"between a name and its value stands '=', not ':'",
                write(std::string{trimmed(line.substr(0, at))} + " = " +
                      std::string{trimmed(line.substr(at + 1))})};
    if (line.find('=') == std::string_view::npos) return {"this line has no '='", std::string{kLineForms}};
    return {"a name before '=' is one word", std::string{kLineForms}};
}

TomlFault unknown_value(std::string_view line, std::size_t /*at*/) {
    const std::string_view value = value_of(line);
    const std::string word = lower_case(value);
    if (word == "yes" || word == "no" || word == "on" || word == "off")
        return {"this is said with true or false", write(std::string{key_of(line)} + " = " +
                                                         (word == "yes" || word == "on" ? "true" : "false"))};
    if (static_cast<unsigned char>(value.empty() ? ' ' : value.front()) >= 0x80)
        return {"quotation marks are plain ones here: \"", in_quotation_marks(line)};
    return {"text stands in quotation marks", in_quotation_marks(line)};
}

TomlFault unfinished_text(std::string_view line, std::size_t /*at*/) {
    return {"this text has no closing quotation mark of the kind that opens it", in_quotation_marks(line)};
}

TomlFault twice(std::string_view line, std::size_t /*at*/) {
    if (const std::string several = stand_in_for(line); !several.empty())
        return {"this heading stands here twice", "of several of a kind each has two brackets: " + several};
    return {"'" + std::string{key_of(line)} + "' is given twice here", "leave one of them out"};
}

TomlFault broken_heading(std::string_view line, std::size_t /*at*/) {
    return {"a heading closes with as many brackets as it opens with", write(stand_in_for(line))};
}

TomlFault too_much(std::string_view line, std::size_t at) {
    if (line.starts_with('[')) return broken_heading(line, at);
    const bool is_comma = at < line.size() && line[at] == ',';
    if (is_comma && at > 0 && at + 1 < line.size() && is_digit(line[at - 1]) && is_digit(line[at + 1]))
        return {"a number has a point, not a comma", "a whole number is what most lines take"};
    if (is_comma)
        return {"no comma stands behind a value", "each name and its value have a line of their own"};
    return {"something stands behind the value", "each name and its value have a line of their own"};
}

TomlFault no_value(std::string_view line, std::size_t /*at*/) {
    return {"'" + std::string{key_of(line)} + "' has no value",
            "write one behind '=', or leave the line out"};
}

TomlFault leading_zero(std::string_view line, std::size_t /*at*/) {
    const std::string_view value = value_of(line);
    return {"a number does not begin with 0",
            write(std::string{key_of(line)} + " = " +
                  std::string{value.substr(std::min(value.find_first_not_of('0'), value.size()))})};
}

TomlFault backslash(std::string_view /*line*/, std::size_t /*at*/) {
    return {"a backslash in a text is written twice", "or put the text between ' and '"};
}

TomlFault open_list(std::string_view /*line*/, std::size_t /*at*/) {
    return {"a list has commas between its values and closes with ]",
            "as in: drills = [\"thirds\", \"sevenths\"]"};
}

TomlFault no_text(std::string_view /*line*/, std::size_t /*at*/) {
    return {"this is no text in UTF-8", "save it as plain text, UTF-8"};
}

TomlFault anything_else(std::string_view /*line*/, std::size_t /*at*/) {
    return {"this cannot be read", std::string{kLineForms}};
}

// What the library says, by a piece of it; the first that is in it counts.
struct SaidRow {
    std::string_view piece;
    TomlFault (*fault)(std::string_view line, std::size_t at);
};
constexpr SaidRow kSaid[]{
    {"utf-8", no_text},
    {"parsing boolean", unknown_value},
    {"parsing array", open_list},
    {"parsing inline table", open_list},
    {"unknown escape", backslash},
    {"leading zeroes", leading_zero},
    {"control characters", unfinished_text},
    {"end-of-file", unfinished_text},
    {"cannot redefine", twice},
    {"table header", broken_heading},
    {"comment or whitespace", too_much},
    {"expected value", no_value},
    {"expected '='", without_equals},
    {"could not determine value type", unknown_value},
    {"", anything_else},
};

}  // namespace

TomlFault toml_fault(std::string_view said, std::string_view line, std::size_t at) {
    const auto* row = std::ranges::find_if(
        kSaid, [&](const SaidRow& each) { return said.find(each.piece) != std::string_view::npos; });
    return row->fault(line, at);
}

std::string stand_in_for(std::string_view line) {
    if (!trimmed(line).starts_with('[')) return {};
    std::string name;
    for (const char c : line) {
        if (is_letter(c) || is_digit(c) || c == '-' || c == '_' || c == '.') name += c;
    }
    return name.empty() ? "" : "[[" + name + "]]";
}

}  // namespace shedbook
