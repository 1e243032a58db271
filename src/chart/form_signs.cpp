#include "form_signs.h"

#include <algorithm>

namespace shedbook {
namespace {

void find_brackets(FormSigns& signs) {
    const int count = static_cast<int>(signs.bars.size());
    signs.bracket_of.assign(signs.bars.size(), -1);
    for (int i = 0; i < count; ++i) {
        const BarMarks& marks = signs.bars[static_cast<std::size_t>(i)]->marks;
        if (marks.endings.empty()) continue;
        const bool goes_on = !marks.ending_start && !signs.brackets.empty() &&
                             signs.brackets.back().last == i - 1 &&
                             signs.brackets.back().numbers == marks.endings;
        if (!goes_on) signs.brackets.push_back({i, i, marks.endings, false, 0});
        Bracket& bracket = signs.brackets.back();
        bracket.last = i;
        bracket.repeats = bracket.repeats || marks.repeat_end > 0;
        signs.bracket_of[static_cast<std::size_t>(i)] = static_cast<int>(signs.brackets.size()) - 1;
    }
}

bool repeat_opens_between(const FormSigns& signs, int after, int upto) {
    for (int i = after + 1; i <= upto; ++i) {
        if (signs.bars[static_cast<std::size_t>(i)]->marks.repeat_start) return true;
    }
    return false;
}

// A bracket for the first time, or a repeat that opens in between, begins a new group.
void find_groups(FormSigns& signs) {
    for (int i = 0; i < static_cast<int>(signs.brackets.size()); ++i) {
        Bracket& bracket = signs.brackets[static_cast<std::size_t>(i)];
        const bool is_new =
            i == 0 || bracket.is_for(1) ||
            repeat_opens_between(signs, signs.brackets[static_cast<std::size_t>(i - 1)].last, bracket.first);
        if (is_new) signs.groups.push_back({i, i, -1});
        signs.groups.back().last_bracket = i;
        bracket.group = static_cast<int>(signs.groups.size()) - 1;
    }
}

// Walks once over the bars, with the repeats that are open on a stack; brackets keep theirs open to the last
// of the group.
class RepeatMatcher {
  public:
    explicit RepeatMatcher(FormSigns& signs) : signs_{signs} {}

    void run() {
        signs_.goes_back_to.assign(signs_.bars.size(), -1);
        for (int i = 0; i < static_cast<int>(signs_.bars.size()); ++i) visit(i);
        signs_.unclosed = open_;
    }

  private:
    void visit(int i) {
        const BarMarks& marks = signs_.bars[static_cast<std::size_t>(i)]->marks;
        if (marks.repeat_start) open_.push_back(i);
        const int start = open_.empty() ? implied_start_ : open_.back();
        BracketGroup* group = group_around(i);
        if (marks.repeat_end > 0) {
            signs_.goes_back_to[static_cast<std::size_t>(i)] = start;
            if (group != nullptr) {
                group->start = start;
            } else {
                close(i);
            }
        }
        if (group != nullptr && i == last_bar_of(*group) && group->start >= 0) close(i);
    }

    void close(int i) {
        if (!open_.empty()) open_.pop_back();
        implied_start_ = i + 1;
    }

    [[nodiscard]] int last_bar_of(const BracketGroup& group) const {
        return signs_.brackets[static_cast<std::size_t>(group.last_bracket)].last;
    }

    // The group whose brackets hold the bar, or between whose brackets it stands.
    BracketGroup* group_around(int i) {
        while (next_group_ < signs_.groups.size() && last_bar_of(signs_.groups[next_group_]) < i)
            ++next_group_;
        if (next_group_ == signs_.groups.size()) return nullptr;
        BracketGroup& group = signs_.groups[next_group_];
        return signs_.brackets[static_cast<std::size_t>(group.first_bracket)].first <= i ? &group : nullptr;
    }

    FormSigns& signs_;
    std::vector<int> open_;
    int implied_start_ = 0;
    std::size_t next_group_ = 0;
};

}  // namespace

bool Bracket::is_for(int pass) const {
    return std::ranges::find(numbers, pass) != numbers.end();
}

FormSigns read_form_signs(const Chart& chart) {
    FormSigns signs;
    for (const Section& section : chart.sections) {
        for (const Bar& bar : section.bars) signs.bars.push_back(&bar);
    }
    find_brackets(signs);
    find_groups(signs);
    RepeatMatcher{signs}.run();
    return signs;
}

}  // namespace shedbook
