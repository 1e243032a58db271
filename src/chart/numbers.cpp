#include "numbers.h"

#include <algorithm>
#include <string>

#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

constexpr std::size_t kMostDigits = 9;  // fits an int

}  // namespace

std::optional<Rational> parse_decimal(std::string_view text) {
    text = trimmed(text);
    const bool is_negative = text.starts_with('-');
    if (is_negative || text.starts_with('+')) text.remove_prefix(1);
    const std::size_t point = std::min(text.find('.'), text.size());
    std::string digits{text.substr(0, point)};
    std::int64_t den = 1;
    if (point < text.size()) {
        const std::string_view fraction = text.substr(point + 1);
        digits += fraction;
        for (std::size_t i = 0; i < fraction.size() && i <= kMostDigits; ++i) den *= 10;
    }
    if (digits.empty() || digits.size() > kMostDigits ||
        digits.find_first_not_of("0123456789") != std::string::npos) {
        return std::nullopt;
    }
    const std::int64_t value = std::stoll(digits);
    return Rational{is_negative ? -value : value, den};
}

std::optional<int> take_number(std::string_view& text) {
    std::size_t digits = 0;
    int out = 0;
    while (digits < text.size() && text[digits] >= '0' && text[digits] <= '9') {
        if (digits == kMostDigits) return std::nullopt;
        out = 10 * out + (text[digits++] - '0');
    }
    if (digits == 0) return std::nullopt;
    text.remove_prefix(digits);
    return out;
}

std::optional<Rational> take_fraction(std::string_view& text) {
    const std::optional<int> above = take_number(text);
    if (!above || !text.starts_with('/')) return std::nullopt;
    text.remove_prefix(1);
    const std::optional<int> below = take_number(text);
    if (!below || *below == 0) return std::nullopt;
    return Rational{*above, *below};
}

std::optional<Duration> parse_length(std::string_view text) {
    const std::optional<Rational> fraction = take_fraction(text);
    if (!fraction || !text.empty() || *fraction <= Rational{}) return std::nullopt;
    return Duration{*fraction};
}

std::optional<int> tempo_of(Rational per_minute, Duration note, const std::optional<Meter>& meter) {
    const Rational tempo = per_minute * (note / meter.value_or(Meter{}).beat_length());
    if (tempo < Rational{kSlowestMark} || tempo > Rational{kFastestMark}) return std::nullopt;
    return static_cast<int>((tempo + Rational{1, 2}).floor());
}

}  // namespace shedbook
