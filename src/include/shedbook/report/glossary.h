// The words of pages and reasons, each explained in a sentence. They are written down once, in docs/words.md,
// which is part of the program.
//
//     explain_word("guide tones");                             // "the third and the seventh of a chord, ..."
//     explain_word("V7/ii");                                   // "the dominant of the second degree ... A7"
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace shedbook {

struct Term {
    std::string name;
    std::vector<std::string> also;  // other forms under which it is found
    std::string about;              // a sentence
    std::string heading;            // under which it stands
};
[[nodiscard]] std::span<const Term> terms();
// By its name or one of the others, whatever the case; where two differ in that alone (I and i), as it is
// written. Null if there is none.
[[nodiscard]] const Term* find_term(std::string_view word);
// What a numeral says, "bVII7", "ii7b5/V", with the chord in C major; nothing if it is no numeral.
[[nodiscard]] std::optional<std::string> explain_numeral(std::string_view numeral);

}  // namespace shedbook
