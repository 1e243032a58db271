#include <iostream>
#include <memory>
#include <optional>
#include <string>

#include "command.h"
#include "help_text.h"
#include "shedbook/base/text.h"
#include "shedbook/job/caller.h"
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

// A numeral is worked out; "V7" and "ii" are as well explained by their chord as by the word.
bool explain(const std::string& word) {
    const std::optional<std::string> numeral = explain_numeral(word);
    if (numeral) {
        std::cout << wrapped_lines(word + ": " + *numeral + ".", 0);
        return true;
    }
    if (const Term* term = find_term(word)) {
        print_term(*term);
        return true;
    }
    const std::string near = nearest(lower_case(word), all_words());
    say_fault("no word here is '" + word + "'" +
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
