#include "sign_words.h"

#include <algorithm>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

std::string plain(std::string_view word) {
    std::string out = lower_case(word);
    std::erase(out, '.');
    return out;
}

// "D. C. al Fine" as "dc al fine"; without the full stops it would be two chords.
std::string joined(std::span<const std::string_view> words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const bool initials = i == 1 && (words[0] == "D." || words[0] == "d.");
        text += (i > 0 && !initials ? " " : "") + plain(words[i]);
    }
    return text;
}

bool is_spelling_of(const FormSignRow& row, std::string_view text) {
    if (text == plain(row.word)) return true;
    const std::vector<std::string_view> others = split(row.others, ',');
    return !row.others.empty() && std::ranges::find(others, text) != others.end();
}

}  // namespace

std::optional<FoundSign> find_sign(std::span<const std::string_view> words) {
    constexpr std::size_t kMostWords = 5;
    const std::size_t most = std::min(words.size(), kMostWords);
    for (std::size_t count = most; count > 0; --count) {
        const std::string text = joined(words.first(count));
        for (const FormSignRow& row : form_signs()) {
            if (is_spelling_of(row, text)) return FoundSign{row.sign, count};
        }
    }
    return std::nullopt;
}

std::vector<std::string> sign_words() {
    std::vector<std::string> out;
    for (const FormSignRow& row : form_signs()) out.emplace_back(row.word);
    return out;
}

}  // namespace shedbook
