#include "shedbook/notation/music_text.h"

#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// "bVII7", "V7/bIII", "ii-bII", "biiio7": a roman numeral by itself, behind a slash or in a row, not the
// beginning of a word.
bool before_numeral(std::string_view text, std::size_t first, std::size_t last) {
    if (first > 0 && std::string_view{"/ -"}.find(text[first - 1]) == std::string_view::npos) return false;
    std::size_t end = last + 1;
    while (end < text.size() && std::string_view{"IViv"}.find(text[end]) != std::string_view::npos) ++end;
    if (end == last + 1) return false;
    return end == text.size() || !is_letter(text[end]) ||
           std::string_view{"omdas"}.find(text[end]) != std::string_view::npos;
}

// The flat or sharp at `at` belongs to a note name ("Bb", "F#m7", "Abb") or to a figure ("b9", "maj7(#11)").
bool is_sign(std::string_view text, std::size_t at) {
    std::size_t first = at;
    while (first > 0 && text[first - 1] == text[at]) --first;
    const bool after_note = first > 0 && text[first - 1] >= 'A' && text[first - 1] <= 'G' &&
                            (first == 1 || !is_letter(text[first - 2]));
    std::size_t last = at;
    while (last + 1 < text.size() && text[last + 1] == text[at]) ++last;
    const bool before_figure =
        last + 1 < text.size() && is_digit(text[last + 1]) && (first == 0 || !is_letter(text[first - 1]));
    return after_note || before_figure || before_numeral(text, first, last);
}

// The o of "viio7", "biiio": behind a roman numeral, before its figure or its end.
bool is_circle(std::string_view text, std::size_t at) {
    constexpr std::string_view kNumeral = "IViv";
    if (at + 1 < text.size() && is_letter(text[at + 1])) return false;
    std::size_t first = at;
    while (first > 0 && kNumeral.find(text[first - 1]) != std::string_view::npos) --first;
    if (first == at) return false;
    if (first > 0 && (text[first - 1] == 'b' || text[first - 1] == '#')) --first;
    return first == 0 || std::string_view{"/ -"}.find(text[first - 1]) != std::string_view::npos;
}

}  // namespace

std::string with_signs(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if ((text[i] == 'b' || text[i] == '#') && is_sign(text, i)) {
            out += text[i] == 'b' ? "\u266D" : "\u266F";
        } else if (text[i] == 'o' && is_circle(text, i)) {
            out += "\u00B0";
        } else {
            out += text[i];
        }
    }
    return out;
}

std::string with_letters(std::string text) {
    for (const auto& [sign, letter] :
         {std::pair{"\u266D", "b"}, std::pair{"\u266F", "#"}, std::pair{"\u00B0", "o"}}) {
        for (std::size_t at = text.find(sign); at != std::string::npos; at = text.find(sign))
            text.replace(at, std::string_view{sign}.size(), letter);
    }
    return text;
}

}  // namespace shedbook
