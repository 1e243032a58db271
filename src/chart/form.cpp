#include "form.h"

#include <algorithm>
#include <utility>

#include "form_signs.h"
#include "shedbook/chart/timeline.h"

namespace shedbook {
namespace {

// Plays the chart bar by bar. After a D.C. or D.S. repeats are not taken again and of several endings the
// last is played, unless the Fine or the way to the coda that is looked for stands in another one (common
// practice, no source).
class Player {
  public:
    explicit Player(const Chart& chart)
        : signs_{read_form_signs(chart)}, pass_(signs_.bars.size(), 1), jumped_(signs_.bars.size(), false) {}

    FormPlan run() {
        const int count = static_cast<int>(signs_.bars.size());
        int i = 0;
        while (i < count && !is_over_) {
            if (is_skipped(i)) {
                i = enter(bracket_at(i)->last + 1);
                continue;
            }
            if (std::ssize(plan_.order) >= kMostPlayedBars) {
                fault(Severity::Error, i, "more than 200,000 bars would be played",
                      "look for a repeat within a repeat, or a count that is too high");
                return std::move(plan_);
            }
            plan_.order.push_back(i);
            i = after(i);
        }
        check_ends();
        return std::move(plan_);
    }

  private:
    [[nodiscard]] const BarMarks& marks(int i) const {
        return signs_.bars[static_cast<std::size_t>(i)]->marks;
    }
    [[nodiscard]] bool has(int i, FormSign sign) const { return marks(i).signs.has(sign); }
    // The row of the jump at a bar; null if there is none.
    [[nodiscard]] const FormSignRow* jump_at(int i) const {
        const std::optional<FormSign> jump = marks(i).signs.jump();
        return jump ? &row_of(*jump) : nullptr;
    }
    [[nodiscard]] const Bracket* bracket_at(int i) const {
        const int at = signs_.bracket_of[static_cast<std::size_t>(i)];
        return at < 0 ? nullptr : &signs_.brackets[static_cast<std::size_t>(at)];
    }
    [[nodiscard]] const BracketGroup& group_of(const Bracket& bracket) const {
        return signs_.groups[static_cast<std::size_t>(bracket.group)];
    }
    [[nodiscard]] bool is_last_of_group(const Bracket& bracket) const {
        return &bracket == &signs_.brackets[static_cast<std::size_t>(group_of(bracket).last_bracket)];
    }
    [[nodiscard]] bool is_alone(const Bracket& bracket) const {
        return group_of(bracket).first_bracket == group_of(bracket).last_bracket;
    }
    int& pass_from(int start) { return pass_[static_cast<std::size_t>(start)]; }

    // Comes to a bar, but not by its own repeat sign: whatever repeats from here starts to count again.
    int enter(int i) {
        if (i < static_cast<int>(pass_.size())) pass_from(i) = 1;
        return i;
    }

    template <class Wanted>
    [[nodiscard]] bool later_in_group(const Bracket& bracket, Wanted wanted) const {
        const auto first = &bracket - signs_.brackets.data() + 1;
        for (auto i = first; i <= group_of(bracket).last_bracket; ++i) {
            if (wanted(signs_.brackets[static_cast<std::size_t>(i)])) return true;
        }
        return false;
    }

    [[nodiscard]] bool ends_second_time(int i) const {
        return (stops_at_fine_ && has(i, FormSign::Fine)) || (takes_coda_ && has(i, FormSign::ToCoda));
    }

    [[nodiscard]] bool has_way_out(const Bracket& bracket) const {
        for (int i = bracket.first; i <= bracket.last; ++i) {
            if (ends_second_time(i)) return true;
        }
        return false;
    }

    bool is_skipped(int i) {
        const Bracket* bracket = bracket_at(i);
        if (bracket == nullptr || i != bracket->first) return false;
        if (is_second_time_) {
            if (has_way_out(*bracket)) return false;
            return later_in_group(*bracket, [](const Bracket&) { return true; });
        }
        const int start = group_of(*bracket).start;
        const int pass = start < 0 ? 1 : pass_from(start);
        if (bracket->is_for(pass)) return false;
        if (later_in_group(*bracket, [&](const Bracket& other) { return other.is_for(pass); })) return true;
        // A first ending with none after it is left out when its time is over; else what no bracket asks for
        // is played straight on.
        return is_alone(*bracket) && bracket->repeats && pass > bracket->numbers.back();
    }

    // Whether the repeat sign of a bar is obeyed on this pass.
    [[nodiscard]] bool goes_back(int i, int pass) const {
        const Bracket* bracket = bracket_at(i);
        if (bracket == nullptr) return pass < marks(i).repeat_end;
        const int highest = bracket->numbers.back();
        // The sign that closes the last of several endings is decoration: the passage is over.
        return !is_alone(*bracket) && is_last_of_group(*bracket) ? pass < highest : pass <= highest;
    }

    int after(int i) {
        const int start = signs_.goes_back_to[static_cast<std::size_t>(i)];
        if (start >= 0 && !is_second_time_ && goes_back(i, pass_from(start))) {
            ++pass_from(start);
            return start;
        }
        if (is_second_time_) {
            if (stops_at_fine_ && has(i, FormSign::Fine)) {
                is_over_ = true;
                sought_ = -1;
                return i;
            }
            if (takes_coda_ && has(i, FormSign::ToCoda)) return go_to_coda(i);
        }
        const FormSignRow* jump = jump_at(i);
        if (jump != nullptr && !jumped_[static_cast<std::size_t>(i)]) return take_jump(i, *jump);
        // The jump was obeyed before: what follows it is new.
        if (jump != nullptr && sought_ < 0) is_second_time_ = false;
        return enter(i + 1);
    }

    int take_jump(int i, const FormSignRow& row) {
        jumped_[static_cast<std::size_t>(i)] = true;
        const JumpRule& rule = *row.jump;
        const int target = rule.to_segno ? segno_before(i, row) : 0;
        const bool plain = !rule.al_fine && !rule.al_coda;
        if (target < 0 || (rule.al_fine && !need(i, row, FormSign::Fine, "'Fine'")) ||
            (rule.al_coda &&
             (!need(i, row, FormSign::ToCoda, "'To Coda'") || !need(i, row, FormSign::Coda, "coda sign")))) {
            return enter(i + 1);
        }
        is_second_time_ = true;
        takes_coda_ = rule.al_coda || (plain && exists(FormSign::ToCoda) && exists(FormSign::Coda));
        stops_at_fine_ = rule.al_fine || (plain && exists(FormSign::Fine));
        sought_ = plain ? -1 : i;
        return enter(target);
    }

    int segno_before(int i, const FormSignRow& row) {
        for (int at = i; at >= 0; --at) {
            if (has(at, FormSign::Segno)) return at;
        }
        fault(Severity::Error, i, std::string{row.printed} + " without a segno before it",
              "write 'segno' in the bar to go back to");
        return -1;
    }

    [[nodiscard]] bool exists(FormSign sign) const {
        return std::ranges::any_of(signs_.bars, [&](const Bar* bar) { return bar->marks.signs.has(sign); });
    }

    bool need(int i, const FormSignRow& row, FormSign sign, std::string_view name) {
        if (exists(sign)) return true;
        fault(Severity::Error, i, std::string{row.printed} + ", but no bar has a " + std::string{name},
              "write '" + std::string{row_of(sign).word} + "' in that bar");
        return false;
    }

    int go_to_coda(int i) {
        is_second_time_ = false;
        sought_ = -1;
        for (int at = i + 1; at < static_cast<int>(signs_.bars.size()); ++at) {
            if (has(at, FormSign::Coda)) return enter(at);
        }
        fault(Severity::Error, i, "'To Coda' with no coda after it",
              "write 'coda' in the bar where the coda begins, below this one");
        is_over_ = true;
        return i;
    }

    void check_ends() {
        if (sought_ >= 0) {
            const FormSignRow& row = *jump_at(sought_);
            fault(Severity::Error, sought_,
                  std::string{row.printed} + ": the " + (row.jump->al_fine ? "Fine" : "'To Coda'") +
                      " is not reached on the way from there",
                  "it must stand between the bar that is jumped to and this one");
        }
        if (std::ranges::any_of(plan_.faults,
                                [](const FormFault& f) { return f.severity == Severity::Error; })) {
            return;
        }
        for (const int bar : signs_.unclosed) {
            fault(Severity::Warning, bar, "a repeat opens here and is never closed", "close it with :|");
        }
        for (const BracketGroup& group : signs_.groups) {
            warn_of_straight_endings(group);
            warn_of_last_ending(group);
        }
        warn_of_unplayed_bars();
    }

    // A repeat sign at the end of the last ending is not obeyed. Where that ending is as long as the first it
    // is mere decoration; else what stands under its bracket may have been meant to be repeated.
    void warn_of_last_ending(const BracketGroup& group) {
        const Bracket& first = signs_.brackets[static_cast<std::size_t>(group.first_bracket)];
        const Bracket& last = signs_.brackets[static_cast<std::size_t>(group.last_bracket)];
        if (&first == &last || !last.repeats || last.last - last.first == first.last - first.first) return;
        fault(Severity::Warning, last.last, "the repeat sign of the last ending is not obeyed",
              "if what follows that ending repeats, close its bracket before it: ]");
    }

    void warn_of_straight_endings(const BracketGroup& group) {
        const int first = signs_.brackets[static_cast<std::size_t>(group.first_bracket)].first;
        const int last = signs_.brackets[static_cast<std::size_t>(group.last_bracket)].last;
        if (group.start >= 0) return;
        for (int i = first; i <= last; ++i) {
            if (jump_at(i) != nullptr || has(i, FormSign::Fine) || has(i, FormSign::ToCoda)) return;
        }
        fault(Severity::Warning, first, "an ending without a repeat sign: it is played straight on",
              "close the ending that goes back with :|");
    }

    void warn_of_unplayed_bars() {
        std::vector<bool> played(signs_.bars.size(), false);
        for (const int bar : plan_.order) played[static_cast<std::size_t>(bar)] = true;
        const int count = static_cast<int>(played.size());
        for (int i = 0; i < count; ++i) {
            if (played[static_cast<std::size_t>(i)]) continue;
            const int first = i;
            while (i < count && !played[static_cast<std::size_t>(i)]) ++i;
            fault(Severity::Warning, first,
                  i - first == 1 ? "this bar is never played"
                                 : "these " + std::to_string(i - first) + " bars are never played",
                  "look at the repeats, endings and jumps before it");
        }
    }

    void fault(Severity severity, int bar, std::string message, std::string hint) {
        plan_.faults.push_back({severity, bar, std::move(message), std::move(hint)});
    }

    FormSigns signs_;
    FormPlan plan_;
    std::vector<int> pass_;  // by the bar that a passage repeats from
    std::vector<bool> jumped_;
    bool is_second_time_ = false;  // after a D.C. or D.S., up to the coda
    bool takes_coda_ = false;
    bool stops_at_fine_ = false;
    bool is_over_ = false;
    int sought_ = -1;  // the bar with the "al Fine" or "al Coda" that is being carried out
};

}  // namespace

bool FormPlan::is_playable() const {
    return std::ranges::none_of(faults, [](const FormFault& f) { return f.severity == Severity::Error; });
}

FormPlan plan_form(const Chart& chart) {
    return Player{chart}.run();
}

}  // namespace shedbook
