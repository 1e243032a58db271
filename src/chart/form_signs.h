// Repeat signs and brackets put in order: where each repeat goes back to, and which brackets belong together.
#pragma once

#include <vector>

#include "shedbook/chart/chart.h"

namespace shedbook {

// Bars under one bracket.
struct Bracket {
    int first = 0;
    int last = 0;
    std::vector<int> numbers;
    bool repeats = false;  // a repeat sign ends one of its bars
    int group = 0;
    [[nodiscard]] bool is_for(int pass) const;
};

// First, second ... ending of one passage.
struct BracketGroup {
    int first_bracket = 0;
    int last_bracket = 0;
    int start = -1;  // bar that the passage repeats from; -1 where no repeat sign belongs to it
};

struct FormSigns {
    std::vector<const Bar*> bars;
    std::vector<Bracket> brackets;
    std::vector<BracketGroup> groups;
    std::vector<int> bracket_of;    // by bar: index into brackets, -1 for none
    std::vector<int> goes_back_to;  // by bar: where its repeat sign leads, -1 where there is none
    std::vector<int> unclosed;      // bars whose repeat opens and never closes
};

[[nodiscard]] FormSigns read_form_signs(const Chart& chart);

}  // namespace shedbook
