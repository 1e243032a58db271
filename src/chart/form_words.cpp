#include "form_words.h"

#include <algorithm>
#include <span>

#include "shedbook/base/text.h"
#include "sign_words.h"

namespace shedbook {

std::vector<std::string_view> words_in(std::string_view text) {
    std::vector<std::string_view> out = split(text, ' ');
    std::erase_if(out, [](std::string_view word) { return trimmed(word).empty(); });
    return out;
}

void put_said(SignSet& signs, FormSign sign) {
    const std::optional<FormSign> before = signs.jump();
    const bool has_more = before && (row_of(*before).jump->al_fine || row_of(*before).jump->al_coda);
    if (row_of(sign).jump && has_more) return;
    signs.put(sign);
}

std::string plain_words(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool no_break = text.substr(i).starts_with("\u00A0");
        const char c = text[i];
        if (c == ' ' || c == '\t' || c == '\n' || c == '\r' || no_break) {
            if (!out.empty() && out.back() != ' ') out += ' ';
            if (no_break) ++i;
        } else {
            out += c;
        }
    }
    return std::string{trimmed(out)};
}

bool take_form_words(const std::string& text, SignSet& signs) {
    const std::vector<std::string_view> words = words_in(text);
    for (std::size_t i = 0; i < words.size(); ++i) {
        const auto found = find_sign(std::span{words}.subspan(i));
        if (!found) continue;
        const bool anywhere = found->sign == FormSign::ToCoda || row_of(found->sign).jump;
        if (i > 0 && !anywhere) continue;
        put_said(signs, found->sign);
        return true;
    }
    return false;
}

}  // namespace shedbook
