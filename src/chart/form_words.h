// What words that stand in a score say about the form.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "shedbook/theory/form_sign.h"

namespace shedbook {

// Blanks of any kind between words become one; none at the ends.
[[nodiscard]] std::string plain_words(std::string_view text);

// The words of a text, blanks between them dropped.
[[nodiscard]] std::vector<std::string_view> words_in(std::string_view text);

// Puts a sign on a bar; "al Fine" and "al Coda" say more than a plain jump, and no other jump replaces them.
void put_said(SignSet& signs, FormSign sign);
// Takes signs of the form out of words ("D.S. al Coda", "To Coda", "Fine"), at their beginning or, for the
// way to the coda and jumps, anywhere in them. Whether there was one.
bool take_form_words(const std::string& text, SignSet& signs);

}  // namespace shedbook
