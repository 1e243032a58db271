#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include "command.h"
#include "shedbook/base/text.h"
#include "shedbook/report/report.h"
#include "terminal.h"

namespace shedbook {
namespace {

struct ChordArguments {
    std::vector<std::string> symbols;
    bool json = false;
};

bool answer_in_json(const std::string& symbol) {
    const ChordLine line = chord_json(symbol);
    std::cout << line.json << "\n";
    return line.ok;
}

bool answer_in_words(const std::string& symbol) {
    if (is_no_chord(symbol)) {
        std::cout << "N.C.: no chord; play what the melody asks for, or rest\n\n";
        return true;
    }
    Diagnostics diagnostics;
    const auto read = read_chord_symbol(SourceText{"chord", symbol}, diagnostics);
    Terminal{}.say(diagnostics);
    if (!read) return false;
    std::cout << explain_chord(*read) << "\n";
    return true;
}

int run_chord(const ChordArguments& arguments) {
    bool all_good = true;
    const auto answer = [&](const std::string& symbol) {
        all_good = (arguments.json ? answer_in_json(symbol) : answer_in_words(symbol)) && all_good;
    };
    for (const std::string& symbol : arguments.symbols) answer(symbol);
    if (arguments.symbols.empty()) {
        for (std::string line; std::getline(std::cin, line);) {
            if (!line.empty() && line.back() == '\r') line.pop_back();
            if (arguments.json || !trimmed(line).empty()) answer(line);
        }
    }
    return all_good ? kDone : kBadInput;
}

}  // namespace

Action chord_command(Syntax& syntax) {
    auto arguments = std::make_shared<ChordArguments>();
    syntax.add_option("symbol", arguments->symbols,
                      "chord symbols; without any, one a line is read from standard input");
    syntax.add_flag("--json", arguments->json, "one JSON object a line, for programs");
    return [arguments] { return run_chord(*arguments); };
}

}  // namespace shedbook
