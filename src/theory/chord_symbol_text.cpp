#include "chord_symbol_text.h"

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

struct LookAlike {
    std::string_view sign;
    std::string_view plain;
};

constexpr LookAlike kLookAlikes[] = {
    {"\u266F", "#"},  // sharp, flat, natural, double sharp, double flat
    {"\u266D", "b"},
    {"\u266E", kNaturalText},
    {"\U0001D12A", "x"},
    {"\U0001D12B", "bb"},
    {"\u00D7", "x"},  // multiplication sign
    {"\u0394", "^"},  // Greek delta, then triangles: white, increment, small, pointing-up
    {"\u25B3", "^"},
    {"\u2206", "^"},
    {"\u25B5", "^"},
    {"\U0001F6C6", "^"},
    {"\u00F8", kHalfDiminishedText},  // o with stroke, diameter, empty set
    {"\u00D8", kHalfDiminishedText},
    {"\u2300", kHalfDiminishedText},
    {"\u2205", kHalfDiminishedText},
    {"\u00B0", kDegreeText},  // degree, masculine ordinal, ring above, superscript zero, white circles
    {"\u00BA", kDegreeText},
    {"\u02DA", kDegreeText},
    {"\u2070", kDegreeText},
    {"\u25CB", kDegreeText},
    {"\u25E6", kDegreeText},
    {"\u2212", "-"},  // minus, hyphens, dashes
    {"\u2010", "-"},
    {"\u2011", "-"},
    {"\u2012", "-"},
    {"\u2013", "-"},
    {"\u2014", "-"},
    {"\u207B", "-"},
    {"\u207A", "+"},
    {"\u2044", "/"},  // fraction and division slash
    {"\u2215", "/"},
    {"\u00B2", "2"},  // raised digits
    {"\u00B3", "3"},
    {"\u00B9", "1"},
    {"\u2074", "4"},
    {"\u2075", "5"},
    {"\u2076", "6"},
    {"\u2077", "7"},
    {"\u2079", "9"},
    {"\u2081", "1"},  // and lowered ones
    {"\u2082", "2"},
    {"\u2083", "3"},
    {"\u2084", "4"},
    {"\u2085", "5"},
    {"\u2086", "6"},
    {"\u2087", "7"},
    {"\u2089", "9"},
    {"\u207D", "("},
    {"\u207E", ")"},
    {"\u00A0", " "},  // blanks: no-break, en, em, thin, narrow no-break
    {"\u2002", " "},
    {"\u2003", " "},
    {"\u2009", " "},
    {"\u202F", " "},
    {"\u200B", ""},  // no width at all
    {"\uFE0E", ""},  // "show the sign before as text"
};

// The full-width forms of East Asian input, U+FF01 to U+FF5E, are ASCII moved by 0xFEE0.
char ascii_of_full_width(std::string_view character) {
    if (character.size() != 3 || character[0] != '\xEF') return kForeignSign;
    const unsigned middle = static_cast<unsigned char>(character[1]);
    const unsigned last = static_cast<unsigned char>(character[2]);
    const unsigned code = 0xF000U | (middle & 0x3FU) << 6U | (last & 0x3FU);
    if (code < 0xFF01U || code > 0xFF5EU) return kForeignSign;
    return static_cast<char>(code - 0xFEE0U);
}

class PlainTextMaker {
  public:
    void add(char plain, std::size_t origin) {
        // One blank is as good as several.
        if (plain == ' ' && out_.size > 0 && out_.characters[out_.size - 1] == ' ') return;
        if (out_.size == PlainText::kLongest) {
            out_.too_long = true;
            return;
        }
        out_.characters[out_.size] = plain;
        out_.origin[out_.size] = static_cast<std::uint32_t>(origin);
        ++out_.size;
    }
    void add_character(std::string_view character, std::size_t origin) {
        for (const LookAlike& look_alike : kLookAlikes) {
            if (character != look_alike.sign) continue;
            for (const char plain : look_alike.plain) add(plain, origin);
            return;
        }
        add(ascii_of_full_width(character), origin);
    }
    PlainText finished(std::size_t end) {
        out_.characters[out_.size] = '\0';
        out_.origin[out_.size] = static_cast<std::uint32_t>(end);
        return out_;
    }
    [[nodiscard]] bool full() const { return out_.too_long; }

  private:
    PlainText out_;
};

}  // namespace

PlainText plain_text(std::string_view text) {
    PlainTextMaker maker;
    for (std::size_t i = 0; i < text.size() && !maker.full();) {
        const char c = text[i];
        if (c >= ' ' && c < '\x7f') {
            maker.add(c == '\\' ? '/' : c, i);
            ++i;
        } else if (c == '\t' || c == '\r' || c == '\n') {
            maker.add(' ', i);
            ++i;
        } else {
            const std::size_t length = character_length(text, i);
            maker.add_character(text.substr(i, length), i);
            i += length;
        }
    }
    return maker.finished(text.size());
}

}  // namespace shedbook
