#include <algorithm>
#include <iostream>
#include <memory>
#include <optional>
#include <string>

#include "command.h"
#include "help_text.h"
#include "shedbook/base/text.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/etude.h"
#include "shedbook/job/caller.h"
#include "shedbook/notation/music_text.h"
#include "shedbook/report/glossary.h"
#include "terminal.h"

namespace shedbook {
namespace {

void print_term(const Term& term) {
    const std::string also = term.also.empty() ? "" : " (" + join(term.also, ", ") + ")";
    std::cout << wrapped_lines(term.name + also + ": " + term.about, 0);
}

void print_all_terms() {
    std::string heading;
    for (const Term& term : terms()) {
        if (term.heading != heading) std::cout << (heading.empty() ? "" : "\n") << term.heading << "\n\n";
        heading = term.heading;
        print_term(term);
    }
}

Words all_words() {
    Words out;
    for (const Term& term : terms()) {
        out.push_back(term.name);
        out.insert(out.end(), term.also.begin(), term.also.end());
    }
    return out;
}

// A line or a drill, by its name or by the title that stands over it on the page.
template <class Rows>
bool print_titled(const Rows& rows, const std::string& word) {
    const std::string wanted = slug(word);
    const auto found = std::ranges::find_if(
        rows, [&](const auto& row) { return row.id == wanted || slug(row.title) == wanted; });
    if (found == rows.end()) return false;
    std::cout << wrapped_lines(found->title + ": " + found->about, 0);
    return true;
}

// A numeral is worked out, and so is each of a row, "ii7-bII7"; "V7" and "ii" are as well explained by their
// chord as by the word.
bool print_numerals(const std::string& word) {
    std::string out;
    for (const std::string_view numeral : split(word, '-')) {
        const std::optional<std::string> about = explain_numeral(numeral);
        if (!about) return false;
        out += wrapped_lines(std::string{numeral} + ": " + *about + ".", 0);
    }
    std::cout << out;
    return true;
}

// "ii-V of V": the cadence, and what it leads to.
bool print_cadence_of(const std::string& word) {
    constexpr std::string_view kOf = " of ";
    const std::size_t of = word.find(kOf);
    if (of == std::string::npos) return false;
    const Term* cadence = find_term(word.substr(0, of));
    const std::string goal = word.substr(of + kOf.size());
    const std::optional<std::string> about = explain_numeral(goal);
    if (cadence == nullptr || !about) return false;
    print_term(*cadence);
    std::cout << wrapped_lines("It leads to " + goal + ": " + *about + ".", 0);
    return true;
}

bool explain(const std::string& typed) {
    const std::string word = with_letters(typed);
    const Term* term = find_term(word);
    const bool is_cadence = term != nullptr && word.find('-') != std::string::npos;
    if (!is_cadence && print_numerals(word)) return true;
    if (term != nullptr) {
        print_term(*term);
        return true;
    }
    if (print_cadence_of(word)) return true;
    if (print_titled(etude_kinds(), word) || print_titled(drill_templates(), word)) return true;
    // Some lines have another title on a few bars.
    for (const EtudeKind& kind : etude_kinds()) {
        if (slug(kind.title_on_bars) == slug(word)) return print_titled(etude_kinds(), kind.id);
    }
    const std::string near = nearest(lower_case(word), all_words());
    say_fault("no word here is '" + typed + "'" +
              (near.empty() ? "; 'shedbook explain' shows all; 'shedbook chord' explains a chord"
                            : "; did you mean '" + near + "'?"));
    return false;
}

int run_explain(const Words& words) {
    if (words.empty()) print_all_terms();
    bool all_known = true;
    for (const std::string& word : words) all_known = explain(word) && all_known;
    return all_known ? kDone : kUsage;
}

}  // namespace

Action explain_command(Syntax& syntax) {
    auto words = std::make_shared<Words>();
    syntax.add_option("word", *words, "words of pages and reasons; without any, all of them")
        .offers(all_words);
    return [words] { return run_explain(*words); };
}

}  // namespace shedbook
