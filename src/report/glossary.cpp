#include "shedbook/report/glossary.h"

#include <algorithm>
#include <array>

#include "shedbook/base/text.h"
#include "shedbook/io/embedded.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {
namespace {

constexpr std::string_view kTermStart = "- **";

// "- **name** (also, also): a sentence."
Term read_term(std::string_view line, const std::string& heading) {
    Term out;
    out.heading = heading;
    line.remove_prefix(kTermStart.size());
    const std::size_t end = line.find("**");
    out.name = line.substr(0, end);
    line.remove_prefix(end + 2);
    const std::size_t colon = line.find(": ");
    const std::string_view between = trimmed(line.substr(0, colon));
    if (between.size() > 2) {
        for (const std::string_view word : split(between.substr(1, between.size() - 2), ','))
            out.also.emplace_back(trimmed(word));
    }
    out.about = line.substr(colon + 2);
    return out;
}

std::vector<Term> read_terms() {
    std::vector<Term> out;
    std::string heading;
    for (const std::string_view line : split(embedded_template("words.md"), '\n')) {
        if (line.starts_with("## ")) heading = line.substr(3);
        if (line.starts_with(kTermStart)) out.push_back(read_term(line, heading));
    }
    return out;
}

bool has_name(const Term& term, const auto& is_meant) {
    return is_meant(term.name) || std::ranges::any_of(term.also, is_meant);
}

// A degree of the major scale, as in "bVII".
struct NumeralRoot {
    Interval above;            // the tonic
    std::string_view ordinal;  // "seventh"
    int alter = 0;
    bool is_small = false;
};

struct RomanRow {
    std::string_view roman;
    std::string_view ordinal;
    int steps;  // above the tonic
};
constexpr std::array<RomanRow, 7> kRoman{{{"vii", "seventh", 6},
                                          {"iii", "third", 2},
                                          {"iv", "fourth", 3},
                                          {"vi", "sixth", 5},
                                          {"ii", "second", 1},
                                          {"i", "first", 0},
                                          {"v", "fifth", 4}}};

// So many steps of the major scale above its tonic, moved by half steps.
Interval degree(int steps, int alter) {
    constexpr std::array<int, 7> kMajor{0, 2, 4, 5, 7, 9, 11};
    return {steps, kMajor.at(static_cast<std::size_t>(steps)) + alter};
}

// Takes the number off the front of a numeral.
std::optional<NumeralRoot> take_numeral_root(std::string_view& text) {
    NumeralRoot out;
    if (text.starts_with('b')) out.alter = -1;
    if (text.starts_with('#')) out.alter = 1;
    if (out.alter != 0) text.remove_prefix(1);
    const std::string small = lower_case(text);
    for (const RomanRow& row : kRoman) {
        if (!small.starts_with(row.roman)) continue;
        const std::string_view typed = text.substr(0, row.roman.size());
        out.is_small = typed == row.roman;
        const bool is_capital = std::ranges::all_of(typed, [](char c) { return c >= 'A' && c <= 'Z'; });
        if (!out.is_small && !is_capital) return std::nullopt;
        out.ordinal = row.ordinal;
        out.above = degree(row.steps, out.alter);
        text.remove_prefix(row.roman.size());
        return out;
    }
    return std::nullopt;
}

// The chord of a numeral in the key of `tonic`: "7b5" behind a small numeral is m7b5, "o7" is dim7.
std::optional<ChordSymbol> chord_of(const NumeralRoot& root, std::string_view rest, PitchClass tonic) {
    const PitchClass note = tonic + root.above;
    std::string quality{rest};
    if (quality.starts_with('o')) {
        quality = "dim" + quality.substr(1);
    } else if (root.is_small) {
        quality = "m" + quality;
    }
    Diagnostics faults;
    return read_chord_symbol(SourceText{"numeral", to_string(note) + quality}, faults);
}

std::string degree_in_words(const NumeralRoot& root) {
    const std::string_view moved = root.alter < 0 ? "lowered " : root.alter > 0 ? "raised " : "";
    return "the " + std::string{moved} + std::string{root.ordinal} + " degree";
}

bool is_dominant(const NumeralRoot& root, std::string_view rest) {
    return root.ordinal == "fifth" && root.alter == 0 && !root.is_small && rest.starts_with('7');
}

}  // namespace

std::span<const Term> terms() {
    static const std::vector<Term> kTerms = read_terms();
    return kTerms;
}

const Term* find_term(std::string_view word) {
    const auto first = [&](const auto& is_meant) -> const Term* {
        const auto found =
            std::ranges::find_if(terms(), [&](const Term& term) { return has_name(term, is_meant); });
        return found == terms().end() ? nullptr : &*found;
    };
    if (const Term* term = first([&](const std::string& name) { return name == word; })) return term;
    const std::string wanted = slug(word);
    return first([&](const std::string& name) { return slug(name) == wanted; });
}

std::optional<std::string> explain_numeral(std::string_view numeral) {
    const std::size_t stroke = numeral.find('/');
    std::string_view rest = numeral.substr(0, stroke);
    const std::optional<NumeralRoot> root = take_numeral_root(rest);
    if (!root) return std::nullopt;
    PitchClass tonic = kC;
    std::string of;
    std::string leads;
    if (stroke != std::string_view::npos) {
        std::string_view behind = numeral.substr(stroke + 1);
        const std::optional<NumeralRoot> goal = take_numeral_root(behind);
        if (!goal || !behind.empty()) return std::nullopt;
        tonic = kC + goal->above;
        of = " of " + degree_in_words(*goal) + ", as if that were home for a moment";
        if (is_dominant(*root, rest))
            leads = ", which leads to " + to_string(tonic) + (goal->is_small ? "m" : "");
    }
    const std::optional<ChordSymbol> chord = chord_of(*root, rest, tonic);
    if (!chord) return std::nullopt;
    const std::string what =
        is_dominant(*root, rest) ? "the dominant" : "the chord on " + degree_in_words(*root);
    return what + of + "; in C major " + to_string(*chord) + leads;
}

}  // namespace shedbook
