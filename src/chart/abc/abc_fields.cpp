#include "abc_fields.h"

#include <algorithm>

#include "../form_words.h"
#include "../numbers.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Modes count by their first three letters, a lone m is minor.
std::optional<Mode> abc_mode(std::string_view word) {
    const std::string lower = lower_case(word);
    if (lower == "m") return Mode::Minor;
    if (lower.size() < 3) return std::nullopt;
    for (const Mode mode : {Mode::Major, Mode::Minor, Mode::Dorian, Mode::Phrygian, Mode::Lydian,
                            Mode::Mixolydian, Mode::Aeolian, Mode::Locrian}) {
        if (to_string(mode).substr(0, 3) == lower.substr(0, 3)) return mode;
    }
    if (lower.starts_with("ion")) return Mode::Major;
    return std::nullopt;
}

// "^f", "_b", "=c" behind a key: the notes that differ from it.
bool take_accidental(std::string_view word, std::array<int, 7>& alters) {
    int alter = 0;
    std::size_t at = 0;
    for (; at < word.size() && (word[at] == '^' || word[at] == '_' || word[at] == '='); ++at) {
        if (word[at] != '=') alter += word[at] == '^' ? 1 : -1;
    }
    if (at == 0 || at + 1 != word.size() || at > 2) return false;
    constexpr std::string_view kLetters = "cdefgab";
    const std::size_t step = kLetters.find(lower_case(word.substr(at))[0]);
    if (step == std::string_view::npos) return false;
    alters[step] = alter;
    return true;
}

void set_signature(AbcKey& out) {
    const int fifths = signature(*out.key);
    for (int step = 0; step < 7; ++step) {
        out.alters[static_cast<std::size_t>(step)] = signature_alter(fifths, static_cast<Step>(step));
    }
}

}  // namespace

AbcKey parse_abc_key(std::string_view text) {
    AbcKey out;
    std::vector<std::string_view> words = words_in(trimmed(text));
    if (words.empty() || lower_case(words[0]) == "none") return out;
    if (words[0] == "HP" || words[0] == "Hp") {
        // Highland pipes: F and C sharp, whether or not they are drawn (section 3.1.14).
        out.alters[3] = out.alters[0] = 1;
        return out;
    }
    const std::string_view first = words[0];
    const std::size_t tonic_length = first.size() > 1 && (first[1] == '#' || first[1] == 'b') ? 2 : 1;
    const auto tonic = parse_pitch_class(first.substr(0, tonic_length));
    std::size_t next = 1;
    if (!tonic) {
        // No tonic: what follows may still be a clef or accidentals.
        out.is_understood = first.find('=') != std::string_view::npos || first.find_first_of("^_") == 0;
        next = 0;
    } else {
        Mode mode = Mode::Major;
        bool is_explicit = false;
        std::string_view mode_word = first.substr(tonic_length);
        if (mode_word.empty() && words.size() > 1) mode_word = words[next];
        if (lower_case(mode_word) == "exp") is_explicit = true;
        if (const auto found = abc_mode(mode_word)) mode = *found;
        out.key = Key{*tonic, mode};
        if (!is_explicit) set_signature(out);
        const bool knows_mode = is_explicit || abc_mode(mode_word) || mode_word.empty();
        if (first.size() > tonic_length && !knows_mode) out.is_understood = false;
    }
    for (; next < words.size(); ++next) {
        take_accidental(words[next], out.alters);
        out.has_transpose = out.has_transpose || words[next].starts_with("transpose=");
    }
    return out;
}

AbcMeter parse_abc_meter(std::string_view text) {
    std::string plain{trimmed(text)};
    std::erase_if(plain, [](char c) { return c == '(' || c == ')' || c == ' '; });
    if (lower_case(plain) == "none") return {};
    const auto meter = parse_meter(plain);
    return {meter, meter.has_value()};
}

Duration default_unit(const std::optional<Meter>& meter) {
    if (!meter || meter->bar_length() >= Duration{Rational{3, 4}}) return kEighth;
    return Duration{Rational{1, 16}};
}

AbcTempo parse_abc_tempo(std::string_view text, const std::optional<Meter>& meter) {
    AbcTempo out;
    std::string plain;
    bool in_quotes = false;
    for (const char c : text) {
        if (c == '"')
            in_quotes = !in_quotes;
        else if (in_quotes)
            out.words += c;
        else
            plain += c;
    }
    std::optional<Rational> per_minute;
    Duration beat;
    const std::size_t equals = plain.find('=');
    if (equals == std::string::npos) {
        // The old form: so many quarters.
        per_minute = parse_decimal(plain);
        beat = kQuarter;
    } else {
        per_minute = parse_decimal(std::string_view{plain}.substr(equals + 1));
        for (const std::string_view word : words_in(std::string_view{plain}.substr(0, equals))) {
            if (const auto length = parse_length(trimmed(word))) beat += *length;
        }
    }
    if (per_minute) out.tempo = tempo_of(*per_minute, beat, meter);
    return out;
}

}  // namespace shedbook
