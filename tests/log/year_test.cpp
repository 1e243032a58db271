// A year of five players who do what the plan of the day says, as well as each of them can: what comes back
// stays within its share of the time, nothing is left for good, and time away brings no avalanche.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <iostream>
#include <map>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "shedbook/log/day_plan.h"

namespace shedbook {
namespace {

const Day kStart = *parse_date("2026-01-01");
constexpr int kYear = 365;

struct Player {
    std::string name;
    int minutes = 30;
    double talent = 0.5;  // chance of a clean try at the start; grows with each day on an item
    double plays = 1;     // chance that a day is one
    int away_from = -1;   // days of the year
    int away_to = -1;
    int gig = -1;
};

struct Year {
    std::map<Item, std::vector<Entry>> entries;
    std::vector<int> due;   // items due, day by day of practice
    std::vector<int> back;  // of them taken
    std::vector<int> waiting;
    std::vector<int> days;             // of the year on which it was practised
    std::map<Item, int> longest_wait;  // days beyond its due day when it was played or at the end
    double worst_minutes = 0;          // difference to what was asked, in parts of it
    int known_before_gig = 0;
    int for_gig = 0;
};

class Simulation {
  public:
    explicit Simulation(const Player& player) : player_{player}, random_{11} {
        for (const char* kind : {"major", "dorian", "mixolydian", "altered", "lydian_dominant"}) {
            for (int root = 0; root < 12; ++root) {
                for (const char* drill : {"range-scale", "thirds", "triads", "sevenths", "groups-of-four"})
                    fresh_.push_back({{ItemKind::Scale, kind, root, drill, "alto-sax"}, 100, "next"});
            }
        }
        for (const char* unit : {"minor-ii-v-i", "turnaround", "ii-v-i", "backdoor"}) {
            std::vector<Offer>& lines = units_.emplace_back();
            for (const char* line : {"guide-tones", "arpeggios-up", "unbroken-scale"})
                lines.push_back({{ItemKind::Unit, unit, 5, line, "alto-sax"}, 100, "hard"});
        }
        forms_.push_back(
            {{ItemKind::Etude, "goat-path", kNoRoot, "guide-tones", "alto-sax"}, 120, "the form"});
    }

    Year run() {
        for (int day = 0; day < kYear; ++day) {
            if (day >= player_.away_from && day < player_.away_to) continue;
            if (chance() >= player_.plays) continue;
            practise(day);
        }
        return std::move(year_);
    }

  private:
    double chance() { return static_cast<double>(random_() >> 11U) * 0x1.0p-53; }

    [[nodiscard]] DayWishes wishes(int day) const {
        DayWishes out;
        out.today = day_after(kStart, day);
        out.minutes = player_.minutes;
        if (player_.gig > day) out.gig = day_after(kStart, player_.gig);
        for (const auto& [item, entries] : year_.entries) out.known.push_back({item, standing_of(entries)});
        for (const auto& lines : units_) {
            for (const Offer& line : lines) out.for_gig.push_back(line.item);
        }
        out.fresh = fresh_;
        out.units = units_;
        out.forms = forms_;
        return out;
    }

    void practise(int day) {
        const DayWishes wish = wishes(day);
        const DayPlan plan = plan_day(wish);
        const double off = std::abs(plan.minutes() - wish.minutes) / static_cast<double>(wish.minutes);
        year_.worst_minutes = std::max(year_.worst_minutes, off);
        std::set<Item> played;
        int back = 0;
        for (const PlannedPiece& piece : plan.pieces) {
            if (piece.what == PieceOfDay::Break || !played.insert(piece.item).second) continue;
            back += piece.what == PieceOfDay::Back ? 1 : 0;
            play(piece, wish.today);
        }
        year_.days.push_back(day);
        year_.back.push_back(back);
        year_.waiting.push_back(plan.waiting);
        year_.due.push_back(back + plan.waiting);
        for (const KnownItem& known : wish.known) {
            const int waited = days_between(known.standing.due, wish.today);
            int& longest = year_.longest_wait[known.item];
            if (waited > 0) longest = std::max(longest, waited);
        }
    }

    void play(const PlannedPiece& piece, Day today) {
        std::vector<Entry>& entries = year_.entries[piece.item];
        Entry entry;
        entry.item = piece.item;
        entry.day = today;
        entry.goal = piece.tempo.goal;
        entry.seconds = piece.minutes * 60;
        const double skill = std::min(0.97, player_.talent + 0.06 * static_cast<double>(entries.size()));
        int tempo = piece.tempo.start;
        entry.right = 0;
        entry.wrong = 0;
        for (int i = 0; i < 5; ++i) ++(chance() < skill ? *entry.right : *entry.wrong);
        if (4 * *entry.wrong <= *entry.right)
            tempo = std::min(piece.tempo.goal, tempo + 2 * piece.tempo.step);
        entry.tempo = tempo;
        entry.from_memory = skill > 0.8;
        entries.push_back(entry);
    }

    Player player_;
    std::mt19937_64 random_;
    Year year_;
    std::vector<Offer> fresh_;
    std::vector<std::vector<Offer>> units_;
    std::vector<Offer> forms_;
};

int most(const std::vector<int>& counts) {
    return counts.empty() ? 0 : *std::ranges::max_element(counts);
}

int most_waiting_after(const Year& year, int day) {
    int out = 0;
    for (std::size_t i = 0; i < year.days.size(); ++i) {
        if (year.days[i] >= day) out = std::max(out, year.waiting[i]);
    }
    return out;
}

int longest_wait(const Year& year) {
    int out = 0;
    for (const auto& [item, days] : year.longest_wait) out = std::max(out, days);
    return out;
}

// On the first day of practice from there on.
int waiting_on(const Year& year, int day) {
    const auto at = std::ranges::lower_bound(year.days, day);
    return at == year.days.end() ? 0 : year.waiting[static_cast<std::size_t>(at - year.days.begin())];
}

void tell(const Player& player, const Year& year) {
    if (std::getenv("SHEDBOOK_TEST_ALL") == nullptr) return;
    std::map<Mastery, int> states;
    for (const auto& [item, entries] : year.entries) ++states[standing_of(entries).state];
    std::cout << player.name << ": " << year.days.size() << " days, " << year.entries.size() << " items, "
              << states[Mastery::Fluent] << " fluent, most due on a day " << most(year.due) << ", most taken "
              << most(year.back) << ", most waiting " << most(year.waiting) << ", longest wait "
              << longest_wait(year) << " days, waiting by month";
    for (int day = 15; day < kYear; day += 30) std::cout << " " << waiting_on(year, day);
    std::cout << ", minutes off by at most " << 100 * year.worst_minutes << " %\n";
}

Year year_of(const Player& player) {
    Year out = Simulation{player}.run();
    tell(player, out);
    return out;
}

}  // namespace

TEST_CASE("a year of a slow, a fast and an irregular player stays in bounds", "[log]") {
    const std::vector<Player> players{{.name = "slow", .minutes = 20, .talent = 0.3},
                                      {.name = "fast", .minutes = 60, .talent = 0.75},
                                      {.name = "irregular", .minutes = 30, .talent = 0.55, .plays = 0.4}};
    for (const Player& player : players) {
        INFO(player.name);
        const Year year = year_of(player);
        CHECK(year.worst_minutes <= 0.1);
        // What comes back never takes more than the whole playing time, at three minutes each.
        CHECK(most(year.back) * 3 <= player.minutes);
        // The most that waits is two days' worth.
        CHECK(most(year.waiting) <= 2 * player.minutes / 3);
        CHECK(longest_wait(year) <= 30);
        // Everything that was begun was taken up again, but for what is a few days old.
        for (const auto& [item, entries] : year.entries) {
            if (days_between(entries.front().day, day_after(kStart, kYear)) > 60) CHECK(entries.size() >= 3);
        }
    }
}

TEST_CASE("after two months away there is no avalanche", "[log]") {
    const Player player{.name = "two months away", .talent = 0.6, .away_from = 150, .away_to = 210};
    const Year year = year_of(player);
    CHECK(most(year.back) * 3 <= player.minutes);
    // All that was known is due on the day of the return, and gone through within two months.
    CHECK(most_waiting_after(year, 270) <= player.minutes / 3);
    // Nothing waits longer than the time away and those two months.
    CHECK(longest_wait(year) <= 120);
    CHECK(year.worst_minutes <= 0.1);
}

TEST_CASE("what a gig needs has been played in its last fortnight", "[log]") {
    const Player player{.name = "gig", .minutes = 40, .talent = 0.6, .gig = 120};
    const Year year = year_of(player);
    int needed = 0;
    for (const auto& [item, entries] : year.entries) {
        if (item.kind != ItemKind::Unit || entries.front().day >= day_after(kStart, 119)) continue;
        ++needed;
        const bool is_fresh = std::ranges::any_of(entries, [&](const Entry& entry) {
            const int before = days_between(entry.day, day_after(kStart, 120));
            return before > 0 && before <= 14;
        });
        INFO(item.subject << " " << item.work);
        CHECK(is_fresh);
    }
    CHECK(needed >= 3);
}

}  // namespace shedbook
