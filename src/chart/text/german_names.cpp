#include "german_names.h"

#include <algorithm>
#include <array>
#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

using Pair = std::pair<std::string_view, std::string_view>;

constexpr std::array<Pair, 6> kGermanHeaders{{{"titel", "Title"},
                                              {"komponist", "Composer"},
                                              {"musik", "Composer"},
                                              {"tonart", "Key"},
                                              {"takt", "Meter"},
                                              {"taktart", "Meter"}}};

// Longer names first. Of German names (Duden); "as" and "es" are Ab and Eb.
constexpr std::array<Pair, 14> kGermanRoots{{{"cis", "C#"},
                                             {"dis", "D#"},
                                             {"eis", "E#"},
                                             {"fis", "F#"},
                                             {"gis", "G#"},
                                             {"ais", "A#"},
                                             {"his", "B#"},
                                             {"ces", "Cb"},
                                             {"des", "Db"},
                                             {"fes", "Fb"},
                                             {"ges", "Gb"},
                                             {"es", "Eb"},
                                             {"as", "Ab"},
                                             {"h", "B"}}};

// What may stand behind a root that is written small, so that no word of a song is taken for a chord.
bool is_quality(std::string_view rest) {
    static constexpr std::array<std::string_view, 10> kQualities{"",  "7",    "6",   "m",    "m7",
                                                                 "9", "maj7", "7b5", "m7b5", "dim"};
    return std::ranges::find(kQualities, rest) != kQualities.end();
}

bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '|' || c == ':' || c == '\r';
}

// Where an H stands in the chart this is B flat.
bool is_german_b(std::string_view word) {
    return word.starts_with('B') && !word.starts_with("Bb") && !word.starts_with("B#");
}

// "c" and "fis" of a key line are minor, "C" and "Fis-Dur" major.
std::string key_in_english(std::string_view value) {
    std::string word{trimmed(value)};
    const std::string all = lower_case(word);
    bool is_minor = !word.empty() && word.front() >= 'a' && word.front() <= 'h';
    for (const auto& [ending, minor] : {std::pair{"dur", false}, std::pair{"moll", true}}) {
        if (!all.ends_with(ending)) continue;
        is_minor = minor;
        word.resize(word.size() - std::string_view{ending}.size());
        while (!word.empty() && (word.back() == '-' || word.back() == ' ')) word.pop_back();
    }
    const std::string small = lower_case(word);
    for (const auto& [german, english] : kGermanRoots) {
        if (small == german) return std::string{english} + (is_minor ? "m" : "");
    }
    const bool is_letter_alone = small.size() == 1 && small[0] >= 'a' && small[0] <= 'g';
    if (!is_letter_alone) return std::string{value};
    return std::string(1, static_cast<char>(small[0] - 'a' + 'A')) + (is_minor ? "m" : "");
}

}  // namespace

void GermanNames::look_at(std::string_view line) {
    if (line.find('|') == std::string_view::npos) return;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (i > 0 && !is_space(line[i - 1])) continue;
        has_h_ = has_h_ || line[i] == 'H';
        has_b_flat_ = has_b_flat_ || line.substr(i).starts_with("Bb");
    }
}

std::optional<std::size_t> GermanNames::doubtful_b(std::string_view line) const {
    if (!has_h_ || !has_b_flat_ || line.find('|') == std::string_view::npos) return std::nullopt;
    const std::size_t end = std::min(line.find(';'), line.size());
    for (std::size_t i = 0; i < end; ++i) {
        if ((i == 0 || is_space(line[i - 1])) && is_german_b(line.substr(i))) return i;
    }
    return std::nullopt;
}

std::string GermanNames::in_english(std::string_view line) const {
    const std::string_view text = trimmed(line);
    if (text.find('|') != std::string_view::npos) return chords_in_english(line);
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos) return std::string{line};
    const std::string name = lower_case(trimmed(text.substr(0, colon)));
    const std::string_view value = trimmed(text.substr(colon + 1));
    for (const auto& [german, english] : kGermanHeaders) {
        if (name == german)
            return std::string{english} + ": " +
                   (english == "Key" ? key_in_english(value) : std::string{value});
    }
    const bool is_small_key = name == "key" && !value.empty() && value.front() >= 'a' && value.front() <= 'h';
    return is_small_key ? "Key: " + key_in_english(value) : std::string{line};
}

std::string GermanNames::chords_in_english(std::string_view line) const {
    const std::size_t comment = line.find(';');
    const std::string_view music = line.substr(0, comment);
    std::string out;
    for (std::size_t i = 0; i < music.size();) {
        std::size_t end = i;
        while (end < music.size() && !is_space(music[end])) ++end;
        out += chord_in_english(music.substr(i, end - i));
        for (i = end; i < music.size() && is_space(music[i]); ++i) out += music[i];
    }
    return out + std::string{line.substr(music.size())};
}

std::string GermanNames::chord_in_english(std::string_view word) const {
    if (word.empty()) return {};
    const bool is_small = word.front() >= 'a' && word.front() <= 'h';
    const std::string small = lower_case(word);
    for (const auto& [german, english] : kGermanRoots) {
        if (!small.starts_with(german)) continue;
        const std::string_view rest = word.substr(german.size());
        const bool is_root = is_small ? is_quality(rest) : german.size() > 1 || has_h_;
        // "Ges7", but not "Gsus": a capital root of two letters and more has its ending small.
        if (!is_root || (!is_small && word.substr(1, german.size() - 1) != german.substr(1))) continue;
        if (!is_small && (german == "as" || german == "es") && rest.starts_with("us")) continue;
        const bool is_minor = is_small && !rest.starts_with('m');
        return std::string{english} + (is_minor ? "m" : "") + std::string{rest};
    }
    const std::string_view rest = word.substr(1);
    if (has_h_ && is_german_b(word)) return "Bb" + std::string{rest};
    if (is_small && has_h_ && word.front() <= 'g' && is_quality(rest)) {
        const std::string root =
            word.front() == 'b' ? "Bb" : std::string(1, static_cast<char>(word.front() - 'a' + 'A'));
        return root + (rest.starts_with('m') ? "" : "m") + std::string{rest};
    }
    return std::string{word};
}

}  // namespace shedbook
