#include "encoding.h"

#include <array>
#include <string_view>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

void append(std::string& out, char32_t c) {
    const auto byte = [&](char32_t value) { out += static_cast<char>(static_cast<unsigned char>(value)); };
    if (c < 0x80) {
        byte(c);
    } else if (c < 0x800) {
        byte(0xC0 | (c >> 6));
        byte(0x80 | (c & 0x3F));
    } else if (c < 0x10000) {
        byte(0xE0 | (c >> 12));
        byte(0x80 | ((c >> 6) & 0x3F));
        byte(0x80 | (c & 0x3F));
    } else {
        byte(0xF0 | (c >> 18));
        byte(0x80 | ((c >> 12) & 0x3F));
        byte(0x80 | ((c >> 6) & 0x3F));
        byte(0x80 | (c & 0x3F));
    }
}

unsigned byte_at(std::string_view bytes, std::size_t at) {
    return static_cast<unsigned char>(bytes[at]);
}

std::string from_utf16(std::string_view bytes, bool big_endian) {
    std::string out;
    out.reserve(bytes.size());
    const auto unit = [&](std::size_t at) {
        const unsigned first = byte_at(bytes, at);
        const unsigned second = byte_at(bytes, at + 1);
        return static_cast<char32_t>(big_endian ? (first << 8U) | second : (second << 8U) | first);
    };
    for (std::size_t at = 0; at + 1 < bytes.size(); at += 2) {
        char32_t c = unit(at);
        if (c >= 0xD800 && c < 0xDC00 && at + 3 < bytes.size()) {
            const char32_t low = unit(at + 2);
            if (low >= 0xDC00 && low < 0xE000) {
                c = 0x10000 + ((c - 0xD800) << 10) + (low - 0xDC00);
                at += 2;
            }
        }
        append(out, c >= 0xD800 && c < 0xE000 ? kReplacement : c);
    }
    return out;
}

// Windows-1252 is Latin-1 with these in place of the control characters from 0x80 on (unicode.org,
// CP1252.TXT).
constexpr std::array<char16_t, 32> kWindows1252{
    0x20AC, 0xFFFD, 0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0xFFFD, 0x017D, 0xFFFD, 0xFFFD, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0xFFFD, 0x017E, 0x0178};

std::string from_windows_1252(std::string_view bytes) {
    std::string out;
    for (const char c : bytes) {
        const auto value = static_cast<unsigned char>(c);
        append(out, value >= 0x80 && value < 0xA0 ? kWindows1252[value - 0x80U] : value);
    }
    return out;
}

// What the XML declaration says, in lower case; empty if it says nothing.
std::string declared_encoding(std::string_view text) {
    if (!text.starts_with("<?xml")) return {};
    const std::string_view declaration = text.substr(0, text.find("?>"));
    const std::size_t at = declaration.find("encoding");
    if (at == std::string_view::npos) return {};
    const std::size_t open = declaration.find_first_of("\"'", at);
    if (open == std::string_view::npos) return {};
    const std::size_t close = declaration.find(declaration[open], open + 1);
    if (close == std::string_view::npos) return {};
    return lower_case(declaration.substr(open + 1, close - open - 1));
}

}  // namespace

std::optional<std::string> to_utf8(const std::string& name, const std::string& bytes,
                                   Diagnostics& diagnostics) {
    std::string_view all = bytes;
    if (all.starts_with("\xEF\xBB\xBF")) all.remove_prefix(3);
    if (all.starts_with("\xFE\xFF")) return from_utf16(all.substr(2), true);
    if (all.starts_with("\xFF\xFE")) return from_utf16(all.substr(2), false);
    if (all.starts_with(std::string_view{"\0<", 2})) return from_utf16(all, true);
    if (all.starts_with(std::string_view{"<\0", 2})) return from_utf16(all, false);
    const std::string encoding = declared_encoding(all);
    if (encoding == "iso-8859-1" || encoding == "latin1" || encoding == "windows-1252")
        return from_windows_1252(all);
    // UTF-16 is declared by programs that then save eight-bit text: it would have been seen above.
    if (!encoding.empty() && encoding != "utf-8" && encoding != "utf8" && encoding != "us-ascii" &&
        !encoding.starts_with("utf-16")) {
        diagnostics.error_at(name, "its encoding '" + encoding + "' is not read", "save it as UTF-8");
        return std::nullopt;
    }
    if (is_valid_utf8(all)) return std::string{all};
    diagnostics.warning_at(name, "not valid UTF-8; read as Latin-1",
                           "letters with accents may be wrong in the titles");
    return from_windows_1252(all);
}

}  // namespace shedbook
