#include "shedbook/base/text.h"

#include <algorithm>
#include <numeric>

namespace shedbook {
namespace {

std::size_t length_by_lead_byte(unsigned char lead) {
    if (lead < 0x80U) return 1;
    if (lead >= 0xC2U && lead <= 0xDFU) return 2;
    if (lead >= 0xE0U && lead <= 0xEFU) return 3;
    if (lead >= 0xF0U && lead <= 0xF4U) return 4;
    return 0;
}

// Length of the well-formed code point at `at`, 0 if there is none (over-long forms and surrogates are none).
std::size_t well_formed_length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const std::size_t length = length_by_lead_byte(byte(at));
    if (length == 0 || at + length > text.size()) return 0;
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(at + i) & 0xC0U) != 0x80U) return 0;
    }
    if (length == 3 && byte(at) == 0xE0U && byte(at + 1) < 0xA0U) return 0;
    if (length == 3 && byte(at) == 0xEDU && byte(at + 1) > 0x9FU) return 0;
    if (length == 4 && byte(at) == 0xF0U && byte(at + 1) < 0x90U) return 0;
    if (length == 4 && byte(at) == 0xF4U && byte(at + 1) > 0x8FU) return 0;
    return length;
}

bool is_ascii(char c) {
    return static_cast<unsigned char>(c) < 0x80U;
}

bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

// Single-character changes from one word to the other, two neighbours in each other's place counting as one
// change (Damerau-Levenshtein distance, restricted), row by row.
std::size_t changes_between(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    std::vector<std::size_t> next(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        next[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            next[j + 1] = std::min({row[j] + (a[i] == b[j] ? 0U : 1U), next[j] + 1, row[j + 1] + 1});
            if (i > 0 && j > 0 && a[i] == b[j - 1] && a[i - 1] == b[j]) {
                next[j + 1] = std::min(next[j + 1], before[j - 1] + 1);
            }
        }
        before.swap(row);
        row.swap(next);
    }
    return row.back();
}

}  // namespace

std::size_t character_length(std::string_view text, std::size_t at) {
    return is_ascii(text[at]) ? 1 : std::max<std::size_t>(1, well_formed_length(text, at));
}

std::size_t count_characters(std::string_view text) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < text.size(); i += character_length(text, i)) ++count;
    return count;
}

bool is_valid_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = is_ascii(text[i]) ? 1 : well_formed_length(text, i);
        if (length == 0) return false;
        i += length;
    }
    return true;
}

std::string printable(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = well_formed_length(text, i);
        const auto byte = static_cast<unsigned char>(text[i]);
        // U+0080 to U+009F, which some terminals take for the beginning of a command, are C2 80 to C2 9F.
        const bool is_high_control =
            length == 2 && byte == 0xC2U && static_cast<unsigned char>(text[i + 1]) < 0xA0U;
        const bool is_control = (byte < 0x20U && byte != '\t') || byte == 0x7FU || is_high_control;
        if (length == 0 || is_control) {
            out += '?';
        } else {
            out += text.substr(i, length);
        }
        i += std::max<std::size_t>(1, length);
    }
    return out;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
    return text;
}

std::string lower_case(std::string_view ascii) {
    std::string out{ascii};
    std::ranges::transform(
        out, out.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return out;
}

std::string slug(std::string_view name) {
    std::string out;
    for (const char c : lower_case(trimmed(name))) {
        const bool gap = c == ' ' || c == '_' || c == '-' || c == '\t';
        if (!gap) {
            out += c;
        } else if (!out.empty() && out.back() != '-') {
            out += '-';
        }
    }
    return out;
}

std::vector<std::string_view> split(std::string_view text, char separator) {
    std::vector<std::string_view> out;
    while (true) {
        const std::size_t at = text.find(separator);
        out.push_back(text.substr(0, at));
        if (at == std::string_view::npos) return out;
        text.remove_prefix(at + 1);
    }
}

std::string join(const std::vector<std::string>& parts, std::string_view between) {
    std::string out;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (i > 0) out += between;
        out += parts[i];
    }
    return out;
}

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
    // Names are short; a pasted paragraph has no near neighbour and must cost nothing.
    if (word.size() > 60) return {};
    std::string best;
    std::size_t fewest = std::max<std::size_t>(1, word.size() / 3) + 1;
    for (const std::string& candidate : candidates) {
        if (candidate.size() > word.size() + fewest) continue;
        const std::size_t changes = changes_between(lower_case(word), lower_case(candidate));
        if (changes < fewest) {
            fewest = changes;
            best = candidate;
        }
    }
    return best;
}

}  // namespace shedbook
