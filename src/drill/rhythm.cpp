#include <algorithm>
#include <array>
#include <utility>

#include "pattern_text.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr std::array<std::pair<std::string_view, Rational>, 9> kLengthWords{{
    {"whole notes", {1}},
    {"half notes", {1, 2}},
    {"quarters", {1, 4}},
    {"quarter triplets", {1, 6}},
    {"eighths", {1, 8}},
    {"triplets", {1, 12}},
    {"sixteenths", {1, 16}},
    {"quintuplets", {1, 20}},
    {"sextuplets", {1, 24}},
}};

constexpr std::size_t kMostSteps = 64;
// Thirty-second notes, in threes and fives too: what a page of notes can show.
constexpr std::int64_t kFinest = 32 * 3 * 5;

std::optional<std::int64_t> parse_number(std::string_view digits) {
    if (digits.empty() || digits.size() > 3) return std::nullopt;
    std::int64_t out = 0;
    for (const char c : digits) {
        if (c < '0' || c > '9') return std::nullopt;
        out = 10 * out + (c - '0');
    }
    return out;
}

// "1/8", "3/16", "1"; "r1/8" is a rest.
std::optional<RhythmStep> parse_step(std::string_view word) {
    RhythmStep out;
    if (word.starts_with('r')) {
        out.is_rest = true;
        word.remove_prefix(1);
    }
    const std::size_t slash = word.find('/');
    const auto num = parse_number(word.substr(0, slash));
    const auto den = slash == std::string_view::npos ? std::optional<std::int64_t>{1}
                                                     : parse_number(word.substr(slash + 1));
    if (!num || !den || *num == 0 || *den == 0 || kFinest % *den != 0) return std::nullopt;
    const Rational length{*num, *den};
    if (length > Rational{2} || length < Rational{1, 32}) return std::nullopt;
    out.length = Duration{length};
    return out;
}

// Triplets come in threes, quintuplets in fives: a run of them must be as long as plain notes are.
bool tuplets_are_full(const Rhythm& rhythm) {
    Duration run;
    for (const RhythmStep& step : rhythm) {
        if (is_tuplet(step.length)) {
            run += step.length;
        } else if (is_tuplet(run)) {
            return false;
        } else {
            run = {};
        }
    }
    // A single length goes on for ever.
    return rhythm.size() == 1 || !is_tuplet(run);
}

}  // namespace

bool is_tuplet(Duration length) {
    const std::int64_t den = length.whole_notes.den();
    return (den & (den - 1)) != 0;
}

bool has_tuplets(const Rhythm& rhythm) {
    return std::ranges::any_of(rhythm, [](const RhythmStep& step) { return is_tuplet(step.length); });
}

std::vector<std::string> rhythm_words() {
    std::vector<std::string> out;
    out.reserve(kLengthWords.size());
    for (const auto& [word, length] : kLengthWords) out.emplace_back(word);
    return out;
}

std::optional<Rhythm> parse_rhythm(std::string_view text, PatternFault& fault) {
    for (const auto& [word, length] : kLengthWords) {
        if (slug(text) == slug(word)) return Rhythm{{Duration{length}}};
    }
    Rhythm out;
    bool sounds = false;
    std::size_t at = 0;
    for (const std::string_view word : split(text, ' ')) {
        const std::size_t begin = at;
        at += word.size() + 1;
        if (word.empty()) continue;
        const std::optional<RhythmStep> step = parse_step(word);
        if (!step) {
            fault = {begin, begin + word.size(), "'" + std::string{word} + "' is no length of a note",
                     "lengths are parts of a whole note: 1/4 1/8 3/16 1/12 (a triplet); r1/8 is a rest"};
            return std::nullopt;
        }
        sounds = sounds || !step->is_rest;
        out.push_back(*step);
    }
    if (!sounds || out.size() > kMostSteps) {
        fault = {0, text.size(), "a rhythm has 1 to 64 lengths, and one of them at least is a note", ""};
        return std::nullopt;
    }
    if (!tuplets_are_full(out)) {
        fault = {0, text.size(),
                 "triplets stand in threes and quintuplets in fives, so that they fill their beat",
                 "as in \"1/12 1/12 1/12 1/4\""};
        return std::nullopt;
    }
    return out;
}

}  // namespace shedbook
