#include <catch2/catch.hpp>

#include "theory/typed_chord.h"

namespace shedbook {
namespace {

// Seven letters, each with none, one or two sharps or flats.
std::vector<PitchClass> all_roots() {
    std::vector<PitchClass> out;
    for (int fifths = -15; fifths <= 19; ++fifths) out.push_back(PitchClass::from_fifths(fifths));
    return out;
}

std::vector<SymbolStyle> all_styles() {
    std::vector<SymbolStyle> out;
    for (const auto major : {SymbolStyle::Major::Maj, SymbolStyle::Major::M, SymbolStyle::Major::Triangle}) {
        for (const auto minor : {SymbolStyle::Minor::M, SymbolStyle::Minor::Dash}) {
            for (const auto signs : {SymbolStyle::Accidentals::Letters, SymbolStyle::Accidentals::Signs}) {
                out.push_back({major, minor, signs});
            }
        }
    }
    return out;
}

struct PrintedRow {
    std::string_view symbol;
    std::string_view expected;
};

}  // namespace

TEST_CASE("every kind on 35 roots in every style is read back as the same chord", "[theory][chord]") {
    int count = 0;
    for (const SymbolStyle& style : all_styles()) {
        for (const PitchClass root : all_roots()) {
            for (const ChordKind& kind : chord_kinds()) {
                const ChordSymbol symbol{root, &kind, {}, {}};
                const std::string text = to_string(symbol, style);
                const auto again = parse_chord_symbol(text);
                if (!again || *again != symbol) FAIL_CHECK(text);
                ++count;
            }
        }
    }
    CHECK(count == 12 * 35 * static_cast<int>(chord_kinds().size()));
}

TEST_CASE("any kind with up to three changes is read back as the same chord in every style",
          "[theory][chord]") {
    const std::vector<std::string> changes = {"b5",  "#5",   "b9",    "#9",    "#11",   "b13",
                                              "b6",  "add2", "add4",  "add9",  "add11", "add13",
                                              "no3", "no5",  "addb9", "add#9", "add#11"};
    const std::vector<SymbolStyle> styles = all_styles();
    const std::vector<PitchClass> roots = all_roots();
    std::size_t count = 0;
    const auto check = [&](const std::string& text) {
        const auto symbol = parse_chord_symbol(text);
        if (!symbol) return;  // contradictions ("5" with "#9") are refused
        ChordSymbol placed = *symbol;
        placed.root = roots[count % roots.size()];
        placed.bass = roots[(count / 3) % roots.size()];
        if (placed.bass == placed.root) placed.bass.reset();
        const SymbolStyle& style = styles[count % styles.size()];
        const auto again = parse_chord_symbol(to_string(placed, style));
        if (!again || *again != placed) FAIL_CHECK(text << " printed " << to_string(placed, style));
        ++count;
    };
    for (const ChordKind& kind : chord_kinds()) {
        const std::string stem = "C" + std::string{kind.suffix} + "(";
        for (std::size_t i = 0; i < changes.size(); ++i) {
            check(stem + changes[i] + ")");
            for (std::size_t j = 0; j < changes.size(); ++j) {
                if (j != i) check(stem + changes[i] + "," + changes[j] + ")");
                for (std::size_t k = j + 1; j > i && k < changes.size(); ++k) {
                    check(stem + changes[i] + "," + changes[j] + "," + changes[k] + ")");
                }
            }
        }
    }
    CHECK(count > 20000);
}

// Common practice, no source: what players write.
TEST_CASE("symbols are printed as players write them", "[theory][chord]") {
    const PrintedRow rows[] = {
        {"D minor 7", "Dm7"},
        {"G7b9", "G7(b9)"},
        {"Bbmaj7#11", "Bbmaj7(#11)"},
        {"C7sus", "C7sus4"},
        {"F#\u00F8", "F#m7b5"},
        {"E\u00B07", "Edim7"},
        {"Caug", "C+"},
        {"CmM7", "Cm(maj7)"},
        {"C69", "C6/9"},
        {"Galt", "G7alt"},
        {"D/F#", "D/F#"},
        {"C7b9#5", "C7(#5,b9)"},
        {"C13b9#11", "C13(b9,#11)"},
        {"Cm9b5", "Cm9(b5)"},
        {"Em7b5b9", "Em7b5(b9)"},
        {"Cm7#5", "Cm7(#5)"},
        {"Cmb6", "Cm(b6)"},
        {"Cmadd9", "Cm(add9)"},
        {"Cmaj9#5", "Cmaj9(#5)"},
        {"C+maj7", "Cmaj7(#5)"},
        {"Cm11b5", "Cm11(b5)"},
        {"C9no5", "C9(no5)"},
        {"C7no3no5", "C7(no3,no5)"},
        {"C7b5#5b9#9", "C7(b5,#5,b9,#9)"},
        {"C9(add#9)", "C9(add#9)"},
        {"Cadd#11", "C(add#11)"},
        {"C6#11", "C6(#11)"},
        {"C\u00B0M7", "Cdim(maj7)"},
        {"C\u00B07(maj7)", "Cdim7(maj7)"},
        {"C7sus4b9", "C7sus4(b9)"},
        {"A-6/9/F#", "Am6/9/F#"},
        {"Cmaj7sus4", "Cmaj7sus4"},
        {"C2", "C(add2)"},
        {"Ebmaj7/F", "Ebmaj7/F"},
        {"C##m7b5/D##", "C##m7b5/D##"},
        {"Cdim7(add9)", "Cdim7(add9)"},
    };
    for (const PrintedRow& row : rows) {
        INFO(row.symbol);
        CHECK(to_string(chord(row.symbol)) == row.expected);
    }
}

TEST_CASE("a reader's own habit is printed", "[theory][chord]") {
    const SymbolStyle triangles{SymbolStyle::Major::Triangle, SymbolStyle::Minor::Dash,
                                SymbolStyle::Accidentals::Signs};
    const SymbolStyle letters{SymbolStyle::Major::M, SymbolStyle::Minor::M,
                              SymbolStyle::Accidentals::Letters};
    const std::tuple<std::string_view, std::string_view, std::string_view> rows[] = {
        {"Bbmaj7(#11)", "B\u266D\u25B37(\u266F11)", "BbM7(#11)"},
        {"F#m7b5", "F\u266F-7\u266D5", "F#m7b5"},
        {"Cm(maj7)", "C-(\u25B37)", "Cm(M7)"},
        {"Ebm6/9/Gb", "E\u266D-6/9/G\u266D", "Ebm6/9/Gb"},
        {"Cdim7(maj7)", "Cdim7(\u25B37)", "Cdim7(M7)"},
        {"Cmaj9sus4", "C\u25B39sus4", "CM9sus4"},
        {"F##m", "F\U0001D12A-", "F##m"},
        {"Dbb7(b9)", "D\U0001D12B7(\u266D9)", "Dbb7(b9)"},
        {"Cm(add9)", "C-(add9)", "Cm(add9)"},
        {"C", "C", "C"},
    };
    for (const auto& [plain, with_triangles, with_letters] : rows) {
        const ChordSymbol symbol = chord(plain);
        CHECK(to_string(symbol) == plain);
        CHECK(to_string(symbol, triangles) == with_triangles);
        CHECK(to_string(symbol, letters) == with_letters);
    }
}

}  // namespace shedbook
