#include "tune_endings.h"

#include <string_view>

#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

int take_number(std::string_view text, std::size_t& at) {
    constexpr int kEnough = 100'000;
    int out = 0;
    for (; at < text.size() && is_digit(text[at]); ++at) {
        if (out < kEnough) out = 10 * out + (text[at] - '0');
    }
    return out;
}

bool is_separator(char c) {
    return c == '.' || c == ',' || c == '-';
}

struct EndingNumbers {
    std::vector<int> numbers;
    std::size_t length = 0;  // of the text that says them
    bool is_in_range = true;
};

// "1.", "1,2.", "1-3." at the front of a word.
std::optional<EndingNumbers> parse_endings(std::string_view word, bool is_behind_bar_line) {
    EndingNumbers out;
    std::size_t at = 0;
    int range_from = 0;
    char last = '\0';
    while (at < word.size() && is_digit(word[at])) {
        const int number = take_number(word, at);
        const int first = range_from > 0 ? range_from + 1 : number;
        out.is_in_range = out.is_in_range && number >= 1 && number <= kHighestEnding && first <= number;
        for (int i = first; out.is_in_range && i <= number; ++i) out.numbers.push_back(i);
        range_from = 0;
        last = '\0';
        while (at < word.size() && is_separator(word[at])) {
            last = word[at++];
            if (last == '-') range_from = number;
        }
    }
    if (out.numbers.empty() && out.is_in_range) return std::nullopt;
    const bool is_bare = is_behind_bar_line && at == word.size() && last == '\0';
    if (last != '.' && last != ',' && !is_bare) return std::nullopt;
    out.length = at;
    return out;
}

// "x3", "3x", "(x3)"; 0 where the count is out of range.
std::optional<int> parse_times(std::string_view word) {
    if (word.starts_with('(') && word.ends_with(')')) word = word.substr(1, word.size() - 2);
    constexpr std::string_view kTimesSign = "\u00D7";
    bool has_sign = false;
    for (const std::string_view sign : {std::string_view{"x"}, std::string_view{"X"}, kTimesSign}) {
        if (!has_sign && word.starts_with(sign)) {
            word.remove_prefix(sign.size());
            has_sign = true;
        } else if (!has_sign && word.ends_with(sign)) {
            word.remove_suffix(sign.size());
            has_sign = true;
        }
    }
    if (!has_sign || word.empty()) return std::nullopt;
    std::size_t at = 0;
    const int count = take_number(word, at);
    if (at != word.size()) return std::nullopt;
    return count >= 2 && count <= kMostTimes ? count : 0;
}

bool take_times(std::span<const TuneToken> words, BarNumbers& out) {
    const TuneToken& word = words[out.words];
    std::optional<int> times = parse_times(word.text);
    std::size_t used = 1;
    if (!times && out.words + 1 < words.size() && lower_case(words[out.words + 1].text) == "times") {
        times = parse_times("x" + std::string{word.text});
        used = 2;
    }
    if (!times) return false;
    if (*times == 0) {
        out.bad_times = word.span;
    } else {
        out.times = times;
    }
    out.words += used;
    return true;
}

}  // namespace

BarNumbers take_bar_numbers(std::span<TuneToken> words, std::size_t sign_end, bool repeats) {
    BarNumbers out;
    while (out.words < words.size()) {
        TuneToken& word = words[out.words];
        if (repeats && take_times(words, out)) continue;
        const auto endings = parse_endings(word.text, word.span.begin == sign_end);
        if (!endings) break;
        if (!endings->is_in_range) out.bad_ending = word.span;
        out.endings.insert(out.endings.end(), endings->numbers.begin(), endings->numbers.end());
        if (endings->length < word.text.size()) {
            word.text.remove_prefix(endings->length);
            word.span.begin += endings->length;
            break;
        }
        ++out.words;
    }
    return out;
}

std::string endings_text(const std::vector<int>& numbers) {
    std::string out;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        std::size_t last = i;
        while (last + 1 < numbers.size() && numbers[last + 1] == numbers[last] + 1) ++last;
        if (!out.empty()) out += ",";
        out += std::to_string(numbers[i]);
        if (last > i + 1) {
            out += "-" + std::to_string(numbers[last]);
            i = last;
        }
    }
    return out + ".";
}

}  // namespace shedbook
