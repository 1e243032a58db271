#include "shedbook/report/glossary.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <regex>
#include <set>
#include <sstream>
#include <string>

#include "shedbook/base/text.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

const fs::path kSources = fs::path{SHEDBOOK_SOURCE_DIR} / "src/harmony";

// Lists of ids and of books, which are no sentences.
bool is_list(std::string_view before) {
    return before.ends_with(".source = ") || before.ends_with(".others = ") || before.ends_with(".rich = ");
}

// Every sentence that a reason can be made of, as it stands in the sources: with its holes taken out. What
// has no two blanks is no sentence.
std::vector<std::string> sentences_of_reasons() {
    static const std::regex kSentence{R"((?=.*\b[a-z]{2,}\b)[^ _]+ [^ _]+ [^_]*)"};
    static const std::regex kHole{R"(\{\w+\})"};
    std::vector<std::string> out;
    for (const auto& entry : fs::directory_iterator{kSources}) {
        if (entry.path().filename() == "own_scales.cpp") continue;  // what is wrong with a file of a user's
        std::istringstream in{read_file(entry.path().string())};
        for (std::string line; std::getline(in, line);) {
            if (trimmed(line).starts_with("//")) continue;
            const std::vector<std::string_view> pieces = split(line, '"');
            for (std::size_t i = 1; i + 1 < pieces.size(); i += 2) {
                const std::string text{pieces[i]};
                if (!is_list(pieces[i - 1]) && std::regex_match(text, kSentence))
                    out.push_back(std::regex_replace(text, kHole, " "));
            }
        }
    }
    return out;
}

std::vector<std::string> words_of_text(const std::string& sentence) {
    static const std::regex kWord{R"([#A-Za-z0-9/][\w#/'-]*)"};
    std::vector<std::string> out;
    for (std::sregex_iterator at{sentence.begin(), sentence.end(), kWord}, end; at != end; ++at)
        out.push_back(at->str());
    return out;
}

// What everybody knows: a word of a reason is explained, or it stands there.
std::set<std::string> everyday_words() {
    std::set<std::string> out;
    std::istringstream in{read_file(std::string{SHEDBOOK_SOURCE_DIR} + "/tests/report/everyday_words.txt")};
    for (std::string word; in >> word;) out.insert(word);
    return out;
}

std::string without_possession(const std::string& word) {
    return word.ends_with("'s") ? word.substr(0, word.size() - 2) : word;
}

bool is_explained(const std::string& word) {
    return find_term(word) != nullptr || explain_numeral(word);
}

}  // namespace

TEST_CASE("every term of the reasons is explained", "[report][words]") {
    const std::set<std::string> everyday = everyday_words();
    const std::vector<std::string> sentences = sentences_of_reasons();
    CHECK(sentences.size() > 120);
    std::set<std::string> unknown;
    for (const std::string& sentence : sentences) {
        for (const std::string& whole : words_of_text(sentence)) {
            const std::string word = without_possession(whole);
            if (!everyday.contains(lower_case(word)) && !is_explained(word)) unknown.insert(word);
        }
    }
    CHECK(unknown == std::set<std::string>{});
}

TEST_CASE("no word counts as everybody's and as a term of the trade", "[report][words]") {
    for (const std::string& word : everyday_words()) {
        INFO(word);
        CHECK(find_term(word) == nullptr);
    }
}

TEST_CASE("each term is explained once, in a sentence, under a heading", "[report][words]") {
    CHECK(terms().size() > 80);
    std::set<std::string> seen;
    for (const Term& term : terms()) {
        INFO(term.name);
        CHECK(term.about.ends_with('.'));
        CHECK_FALSE(term.heading.empty());
        CHECK(seen.insert(term.name).second);
        for (const std::string& other : term.also) CHECK(seen.insert(other).second);
        CHECK(find_term(term.name) == &term);
    }
}

TEST_CASE("numerals are worked out in C major", "[report][words]") {
    // Common practice, no source.
    CHECK(explain_numeral("V7/ii") ==
          "the dominant of the second degree, as if that were home for a moment; in C major A7, which leads "
          "to Dm");
    CHECK(explain_numeral("ii7b5/V") ==
          "the chord on the second degree of the fifth degree, as if that were home for a moment; in C major "
          "Am7b5");
    CHECK(explain_numeral("bVII7") == "the chord on the lowered seventh degree; in C major Bb7");
    CHECK(explain_numeral("#ivo7") == "the chord on the raised fourth degree; in C major F#dim7");
    CHECK(explain_numeral("Imaj7") == "the chord on the first degree; in C major Cmaj7");
    CHECK(explain_numeral("bII7/bvii") ==
          "the chord on the lowered second degree of the lowered seventh degree, as if that were home for a "
          "moment; in C major Cb7");
    for (const char* other : {"", "b", "X", "Vq", "iI", "V7/", "V7/x", "V7/ii7", "viva"}) {
        INFO(other);
        CHECK_FALSE(explain_numeral(other));
    }
}

TEST_CASE("a term is found in every form that it has", "[report][words]") {
    REQUIRE(find_term("Guide Tones") != nullptr);
    CHECK(find_term("Guide Tones")->name == "guide tone");
    CHECK(find_term("N.C.")->name == "N.C.");
    CHECK(find_term("i") == find_term("I"));
    CHECK(find_term("flux") == nullptr);
}

}  // namespace shedbook
