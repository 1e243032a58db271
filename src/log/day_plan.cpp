#include "shedbook/log/day_plan.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "day_order.h"
#include "shedbook/base/checksum.h"

namespace shedbook {
namespace {

// Minutes of one piece, before what is left is shared out (common practice, no source).
constexpr int kMinutesBack = 3;
constexpr int kMinutesUnit = 5;
constexpr int kMinutesNew = 5;
constexpr int kMinutesAgain = 4;
constexpr int kMinutesForm = 5;
constexpr int kMinutesBreak = 2;
constexpr int kPlayingBetweenBreaks = 25;
// Of the playing time, in per cent: what comes back takes no more, while there is a tune to work on or not.
constexpr int kShareBackWithTune = 50;
constexpr int kShareBackAlone = 65;
// An unknown thing a day, and no more than so much of the time where little is known.
constexpr int kMinutesOfDayPerNew = 6;

int in_fours(int tempo) {
    return (tempo + 2) / 4 * 4;
}

// As good as another number for each item, and the same wherever it is worked out.
std::uint64_t lot_of(const Item& item, std::uint64_t seed) {
    const std::uint64_t sum = checksum(item.subject + "/" + item.work + "/" + std::to_string(item.root),
                                       kEmptyChecksum ^ (seed * 0x9E3779B97F4A7C15U));
    return sum ^ (sum >> 29U);
}

// Another one each day.
std::uint64_t lot(const Item& item, const DayWishes& wishes) {
    return lot_of(item, wishes.seed + static_cast<std::uint64_t>(days_between(Day{}, wishes.today)) * 7919);
}

// How urgent: days beyond its day, of an item with long gaps less so. Everything gets there in the end.
double urgency(int overdue, int step) {
    return (overdue + 1) / (1 + kGaps[static_cast<std::size_t>(step)] / 4.0);
}

std::string days_text(int days) {
    return days == 1 ? "a day" : std::to_string(days) + " days";
}

std::string why_back(const Standing& standing, const DayWishes& wishes, bool is_for_gig) {
    if (standing.last_result == DayResult::Poor) return "it went badly last time: one step back";
    const int overdue = days_between(standing.due, wishes.today);
    if (is_for_gig && overdue < 0) return "before the gig";
    const std::string after = days_text(days_between(standing.last, wishes.today));
    return overdue > 0 ? "due " + days_text(overdue) + " ago, last played " + after + " ago"
                       : "comes back after " + after;
}

std::string why_again(const Standing& standing) {
    switch (standing.state) {
        case Mastery::AtTempo:
            return "at tempo, not yet from memory";
        case Mastery::Fluent:
            return "fluent, to keep it so";
        case Mastery::FromMemory:
            return "from memory on " + days_text(standing.memory_days) + " of three";
        default:
            return standing.clean_tempo > 0
                       ? "clean at " + std::to_string(standing.clean_tempo) + ", not yet at tempo"
                       : "not yet clean";
    }
}

class DayPlanner {
  public:
    explicit DayPlanner(const DayWishes& wishes) : wishes_{wishes} {
        for (const KnownItem& known : wishes.known) standings_.emplace(known.item, known.standing);
        find_due();
    }

    DayPlan plan() {
        const int breaks = std::max(0, (wishes_.minutes - 1) / (kPlayingBetweenBreaks + kMinutesBreak));
        playing_ = wishes_.minutes - breaks * kMinutesBreak;
        const bool has_tune = !wishes_.units.empty();
        has_room_ = has_room_for_more(has_tune);
        take_form();
        take_unit(0);
        take_back(minutes_back(has_tune));
        if (due_at_ == due_.size() && has_room_) take_new();
        fill();
        share_out();
        DayPlan out;
        out.waiting = static_cast<int>(due_.size() - due_at_);
        out.pieces =
            in_order_of_day(std::move(pieces_), wishes_.level >= kLevelThatMixes, breaks, kMinutesBreak);
        return out;
    }

  private:
    struct Due {
        const KnownItem* known;
        double urgency;
        bool is_for_gig;
        std::uint64_t lot;
    };

    // All of it on the day before would be too much: what was not played in the last week before the gig has
    // its day within that week.
    [[nodiscard]] Day due_for_gig(const KnownItem& known) const {
        constexpr int kWeek = 7;
        const Day due = due_before_gig(known.standing, wishes_.today, wishes_.gig);
        const Day week_before = day_after(*wishes_.gig, -kWeek);
        if (known.standing.last >= week_before) return due;
        const std::uint64_t day_of_week = lot_of(known.item, wishes_.seed) % kWeek;
        return std::min(due, day_after(week_before, static_cast<int>(day_of_week)));
    }

    void find_due() {
        const std::set<Item> for_gig{wishes_.for_gig.begin(), wishes_.for_gig.end()};
        for (const KnownItem& known : wishes_.known) {
            if (known.standing.last >= wishes_.today) continue;
            const bool is_for_gig = wishes_.gig && *wishes_.gig > wishes_.today &&
                                    (for_gig.empty() || for_gig.contains(known.item));
            const Day due = is_for_gig ? due_for_gig(known) : known.standing.due;
            if (due > wishes_.today) continue;
            due_.push_back({&known, urgency(days_between(due, wishes_.today), known.standing.step),
                            is_for_gig, lot(known.item, wishes_)});
        }
        std::ranges::sort(due_, [](const Due& a, const Due& b) {
            if (a.is_for_gig != b.is_for_gig) return a.is_for_gig;
            if (a.urgency != b.urgency) return a.urgency > b.urgency;
            return a.lot != b.lot ? a.lot < b.lot : a.known->item < b.known->item;
        });
    }

    [[nodiscard]] int minutes_back(bool has_tune) const {
        return playing_ * (has_tune ? kShareBackWithTune : kShareBackAlone) / 100;
    }
    // Whether what is due fits today, and all that is known into its share of the days to come, with some to
    // spare: each item takes a piece of every so manieth day.
    [[nodiscard]] bool has_room_for_more(bool has_tune) const {
        constexpr double kFull = 0.6;
        double pieces_a_day = 0;
        for (const KnownItem& known : wishes_.known)
            pieces_a_day += 1.0 / kGaps[static_cast<std::size_t>(known.standing.step)];
        const int minutes = minutes_back(has_tune);
        return static_cast<int>(due_.size()) * kMinutesBack <= minutes &&
               pieces_a_day * kMinutesBack <= kFull * minutes;
    }

    [[nodiscard]] int used() const {
        int out = 0;
        for (const PlannedPiece& piece : pieces_) out += piece.minutes;
        return out;
    }
    [[nodiscard]] int left() const { return playing_ - used(); }
    [[nodiscard]] bool is_taken(const Item& item) const {
        return std::ranges::any_of(pieces_, [&](const PlannedPiece& piece) { return piece.item == item; });
    }
    [[nodiscard]] Standing standing_of_item(const Item& item) const {
        const auto found = standings_.find(item);
        return found == standings_.end() ? Standing{} : found->second;
    }

    void take(PieceOfDay what, const Item& item, int minutes, int goal, std::string why) {
        const Standing standing = standing_of_item(item);
        pieces_.push_back({what, item, std::min(minutes, std::max(1, left())),
                           tempo_steps(standing, standing.goal > 0 ? standing.goal : goal), std::move(why)});
    }

    // Of several tunes another one each day.
    void take_form() {
        constexpr int kFewestForForm = 10;
        if (wishes_.forms.empty() || playing_ < kFewestForForm) return;
        const auto turn = static_cast<std::size_t>(days_between(Day{}, wishes_.today));
        const Offer& form = wishes_.forms[turn % wishes_.forms.size()];
        take(PieceOfDay::Form, form.item, std::min(kMinutesForm, playing_ / 4), form.goal, form.why);
    }

    // Of the lines of a unit: one that is known from memory needs days between, not hours, and waits for the
    // one on which it is due; a new one waits while what comes back takes all its time.
    [[nodiscard]] bool is_its_turn(const Item& item) const {
        const Standing standing = standing_of_item(item);
        if (standing.state == Mastery::New) return has_room_;
        return standing.state != Mastery::FromMemory || standing.due <= wishes_.today;
    }

    // The first line that is not fluent, of the hardest unit that has one; with `skip` of the one after.
    bool take_unit(std::size_t skip) {
        for (const bool in_turn : {true, false}) {
            std::size_t units = skip;
            for (const std::vector<Offer>& lines : wishes_.units) {
                const auto line = std::ranges::find_if(lines, [&](const Offer& offer) {
                    return standing_of_item(offer.item).state != Mastery::Fluent && !is_taken(offer.item) &&
                           (!in_turn || is_its_turn(offer.item));
                });
                if (line == lines.end() || units-- > 0) continue;
                if (left() < 2) return false;
                take(PieceOfDay::Unit, line->item, std::max(2, std::min(kMinutesUnit, playing_ / 4)),
                     line->goal, line->why);
                return true;
            }
        }
        return false;
    }

    // What comes back, within so many minutes.
    void take_back(int minutes) {
        for (; due_at_ < due_.size(); ++due_at_) {
            const Due& due = due_[due_at_];
            if (is_taken(due.known->item)) continue;
            if (minutes < kMinutesBack || left() < kMinutesBack) return;
            take(PieceOfDay::Back, due.known->item, kMinutesBack, due.known->standing.goal,
                 why_back(due.known->standing, wishes_, due.is_for_gig));
            minutes -= kMinutesBack;
        }
    }

    bool take_new() {
        if (left() < 2) return false;
        for (; fresh_at_ < wishes_.fresh.size(); ++fresh_at_) {
            const Offer& offer = wishes_.fresh[fresh_at_];
            if (standings_.contains(offer.item) || is_taken(offer.item)) continue;
            take(PieceOfDay::New, offer.item, kMinutesNew, offer.goal, offer.why);
            return true;
        }
        return false;
    }

    // What is known worst and was not played for the longest time; with `fluent_too`, where nothing else is
    // left.
    bool take_again(bool fluent_too = false) {
        const KnownItem* best = nullptr;
        const auto key = [&](const KnownItem& known) {
            return std::tuple{known.standing.state, known.standing.last, lot(known.item, wishes_)};
        };
        for (const KnownItem& known : wishes_.known) {
            const bool is_kept = known.standing.state == Mastery::Fluent && !fluent_too;
            if (known.standing.last >= wishes_.today || is_kept || is_taken(known.item)) continue;
            if (best == nullptr || key(known) < key(*best)) best = &known;
        }
        if (best == nullptr || left() < 2) return false;
        take(PieceOfDay::Again, best->item, kMinutesAgain, best->standing.goal, why_again(best->standing));
        return true;
    }

    // The time that is left: first what is due, then what is not known well, then more that is new.
    void fill() {
        take_back(left());
        const int most_new = std::max(1, wishes_.minutes / kMinutesOfDayPerNew);
        // As much is taken up again as comes back: the rest of the time would be all repetition.
        const int most_again = std::max(1, wishes_.minutes / 15);
        for (int i = 0; i < most_again && left() >= kMinutesAgain && take_again(); ++i) {
        }
        const auto is_new = [](const PlannedPiece& piece) { return piece.what == PieceOfDay::New; };
        const bool little_is_known = 3 * static_cast<int>(wishes_.known.size()) < wishes_.minutes;
        while (left() >= kMinutesBack && std::ranges::count_if(pieces_, is_new) < most_new) {
            const bool taken = (little_is_known && take_new()) || take_again() || take_unit(1);
            if (!taken && !take_new() && !take_again(true)) break;
        }
    }

    // To the minute: a minute more for each in turn.
    void share_out() {
        if (pieces_.empty()) return;
        for (std::size_t i = 0; left() > 0; i = (i + 1) % pieces_.size()) ++pieces_[i].minutes;
    }

    const DayWishes& wishes_;
    std::map<Item, Standing> standings_;
    std::vector<Due> due_;
    std::size_t due_at_ = 0;
    std::size_t fresh_at_ = 0;
    int playing_ = 0;
    bool has_room_ = true;  // for something new
    std::vector<PlannedPiece> pieces_;
};

}  // namespace

int DayPlan::minutes() const {
    int out = 0;
    for (const PlannedPiece& piece : pieces) out += piece.minutes;
    return out;
}

DayPlan plan_day(const DayWishes& wishes) {
    return DayPlanner{wishes}.plan();
}

TempoSteps tempo_steps(const Standing& standing, int goal) {
    if (goal <= 0) return {};
    constexpr int kSlowest = 40;
    TempoSteps out;
    out.goal = goal;
    out.step = std::max(4, in_fours(goal / 20));
    if (standing.clean_tempo == 0) {
        out.start = in_fours(goal * 3 / 5);
    } else {
        const int back = standing.last_result == DayResult::Poor ? 2 : 1;
        out.start = standing.clean_tempo - back * out.step;
    }
    out.start = std::clamp(out.start, std::min(kSlowest, goal), goal);
    return out;
}

TempoSteps tempo_steps(const Standing& standing, const std::vector<int>& boxes) {
    if (boxes.empty()) return {};
    TempoSteps out = tempo_steps(standing, boxes.back());
    if (standing.clean_tempo == 0) out.start = boxes.front();
    return out;
}

}  // namespace shedbook
