#include "unit_patterns.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "unit_row.h"

namespace shedbook {
namespace {

using Family = UnitFamily;

PitchClass fifth_below(const UnitChord& chord) {
    return chord.symbol().bass && chord.root == chord.bass ? *chord.symbol().bass + (-kPerfectFifth)
                                                           : chord.symbol().root + (-kPerfectFifth);
}

// The V behind a ii, at most one chord between that is no longer than its neighbours.
std::optional<std::size_t> five_behind(const RowView& p, std::size_t ii) {
    if (p.follows(ii + 1) && p.leads_to_five(ii, ii + 1)) return ii + 1;
    if (!p.follows(ii + 1) || !p.follows(ii + 2) || !p.is_two(ii)) return std::nullopt;
    const UnitChord& between = p.at(ii + 1);
    const bool is_short = between.length <= p.at(ii).length && between.length <= p.at(ii + 2).length;
    const bool may_stand = between.family == Family::Dominant || between.family == Family::Diminished ||
                           between.bass != between.root;
    // An applied dominant of the V belongs to a chain, not in between.
    const bool is_applied = between.family == Family::Dominant && p.falls(ii + 1, ii + 2) == kFifthDown;
    if (is_short && may_stand && !is_applied && p.is_dominant(ii + 2) && p.falls(ii, ii + 2) == kFifthDown)
        return ii + 2;
    return std::nullopt;
}

// The goal of a V: a fifth below it, or a half step below where it stands for another one.
std::optional<std::size_t> goal_behind(const RowView& p, std::size_t ii, std::size_t v) {
    const int way = p.falls(ii, v) == kHalfStepDown ? kHalfStepDown : kFifthDown;
    if (p.follows(v + 1) && p.falls(v, v + 1) == way) return v + 1;
    // A dominant that stands for it, a diminished chord or a bass may come between.
    if (!p.follows(v + 1) || !p.follows(v + 2) || p.falls(v, v + 2) != way) return std::nullopt;
    const UnitChord& between = p.at(v + 1);
    const bool may_stand =
        between.family == Family::Diminished ||
        (between.family == Family::Dominant && down(between.root, p.at(v + 2).root) == kHalfStepDown);
    return may_stand && between.length <= p.at(v).length ? std::optional{v + 2} : std::nullopt;
}

UnitFound two_five(const RowView& p, std::size_t i) {
    const auto v = five_behind(p, i);
    if (!v) return std::nullopt;
    const auto goal = goal_behind(p, i, *v);
    FoundUnit out{UnitKind::TwoFive, i, *v, false, false, {}};
    const bool is_half = p.is(i, Family::HalfDiminished);
    if (!goal) {
        const PitchClass away = p.falls(i, *v) == kHalfStepDown ? p.at(*v).symbol().root + (-kMinorSecond)
                                                                : fifth_below(p.at(*v));
        out.key = {away, is_half ? Mode::Minor : Mode::Major};
        return out;
    }
    // A half-diminished goal begins what follows, in minor all the same.
    const bool is_minor = p.is(*goal, Family::Minor) || p.is(*goal, Family::HalfDiminished);
    out.key = p.key_on(*goal, is_minor ? Mode::Minor : Mode::Major);
    const bool blues_goal = p.is_dominant(*goal) && p.context().is_blues &&
                            (p.is_home(*goal) || up(p.home(), p.at(*goal).root) == 5);
    const bool arrives =
        p.is(*goal, Family::Major) || blues_goal || (p.is(*goal, Family::Minor) && !p.begins_pair(*goal));
    if (!arrives) return out;
    out.kind = is_minor ? UnitKind::MinorTwoFiveOne : UnitKind::MajorTwoFiveOne;
    out.last = *goal;
    out.has_goal = true;
    return out;
}

// iv6 has the notes of the ii with a flat fifth.
UnitFound minor_four_five_one(const RowView& p, std::size_t i) {
    if (!p.is(i, Family::Minor) || !p.at(i).is_tonic_minor || !p.follows(i + 1) || !p.follows(i + 2))
        return std::nullopt;
    const bool leads = p.is_dominant(i + 1) && up(p.at(i).root, p.at(i + 1).root) == 2 &&
                       p.is(i + 2, Family::Minor) && p.falls(i + 1, i + 2) == kFifthDown;
    if (!leads) return std::nullopt;
    return FoundUnit{UnitKind::MinorTwoFiveOne, i, i + 2, true, false, p.key_on(i + 2, Mode::Minor)};
}

UnitFound backdoor(const RowView& p, std::size_t i) {
    if (!p.is_dominant(i) || !p.follows(i + 1) || !p.is(i + 1, Family::Major)) return std::nullopt;
    if (up(p.at(i).root, p.at(i + 1).root) != 2) return std::nullopt;
    const bool has_four =
        i > 0 && p.follows(i) && p.is(i - 1, Family::Minor) && p.falls(i - 1, i) == kFifthDown;
    return FoundUnit{UnitKind::Backdoor,          has_four ? i - 1 : i, i + 1, true, false,
                     p.key_on(i + 1, Mode::Major)};
}

// Degrees that each of the four chords of a turnaround may have, with their families.
struct Degree {
    int over_tonic;
    std::initializer_list<Family> families;
};
bool is_any(const UnitChord& chord, int tonic, std::initializer_list<Degree> degrees) {
    return std::ranges::any_of(degrees, [&](const Degree& degree) {
        return up(tonic, chord.root) == degree.over_tonic &&
               std::ranges::find(degree.families, chord.family) != degree.families.end();
    });
}

bool has_turnaround_degrees(const RowView& p, std::size_t i, int tonic) {
    const bool are_triads = p.at(i).is_triad && p.at(i + 1).is_triad && p.at(i + 2).is_triad;
    const bool is_plain_five =
        are_triads && p.is(i + 3, Family::Major) && up(tonic, p.at(i + 3).root) == kFifthDown;
    return is_any(p.at(i), tonic,
                  {{0, {Family::Major, Family::Dominant, Family::Minor}},
                   {4, {Family::Minor, Family::HalfDiminished}}}) &&
           is_any(
               p.at(i + 1), tonic,
               {{9, {Family::Minor, Family::Dominant, Family::HalfDiminished}}, {3, {Family::Dominant}}}) &&
           is_any(p.at(i + 2), tonic,
                  {{2, {Family::Minor, Family::HalfDiminished, Family::Dominant}},
                   {5, {Family::Major}},
                   {8, {Family::Major, Family::Dominant}}}) &&
           (is_plain_five ||
            is_any(p.at(i + 3), tonic, {{kFifthDown, {Family::Dominant}}, {1, {Family::Dominant}}}));
}

// Each chord as long as the next, or each bar split alike; the first may have begun before.
bool has_turnaround_rhythm(const RowView& p, std::size_t i) {
    const Duration a = p.at(i).length;
    const Duration b = p.at(i + 1).length;
    const Duration c = p.at(i + 2).length;
    const Duration d = p.at(i + 3).length;
    const bool is_even = b == c && c == d && a >= b;
    const bool is_split = b == d && a >= c && p.at(i + 1).last_bar == p.at(i + 1).first_bar &&
                          p.at(i + 2).first_bar == p.at(i + 3).first_bar;
    if (!is_even && !is_split) return false;
    const bool is_fast = p.at(i + 2).first_bar == p.at(i + 3).first_bar;
    const bool is_bar_each = p.at(i + 1).first_bar + 1 == p.at(i + 2).first_bar &&
                             p.at(i + 2).first_bar + 1 == p.at(i + 3).first_bar &&
                             p.at(i + 3).last_bar == p.at(i + 3).first_bar;
    const int start = p.at(i + 1).bar_of_section - 1;
    return is_fast || (is_bar_each && start >= 0 && start % 4 == 0);
}

UnitFound turnaround(const RowView& p, std::size_t i) {
    for (std::size_t k = i + 1; k <= i + 3; ++k) {
        if (!p.follows(k)) return std::nullopt;
    }
    if (!has_turnaround_rhythm(p, i)) return std::nullopt;
    for (const int way : {kFifthDown, kHalfStepDown}) {
        const int tonic = (p.at(i + 3).root - way + 12) % 12;
        if (!has_turnaround_degrees(p, i, tonic)) continue;
        const bool goes_on = p.follows(i + 4);
        const bool is_chain = p.is_dominant(i + 2) && up(tonic, p.at(i + 2).root) == 2 && goes_on &&
                              p.is_dominant(i + 4) && p.falls(i + 3, i + 4) == kFifthDown;
        const bool is_near = p.at(i).root == tonic || (i > 0 && p.at(i - 1).root == tonic) ||
                             (goes_on && p.at(i + 4).root == tonic) || p.home() == tonic ||
                             p.at(0).root == tonic;
        if (is_chain || !is_near) continue;
        // Its tonic may stand at its beginning, or be where it goes.
        const bool goes_home = goes_on && p.at(i + 4).root == tonic;
        const bool is_minor = p.at(i).root == tonic ? p.is(i, Family::Minor)
                              : goes_home           ? p.is(i + 4, Family::Minor)
                              : tonic == p.home()   ? p.context().home.mode == Mode::Minor
                                                    : false;
        const PitchClass name =
            way == kFifthDown ? fifth_below(p.at(i + 3)) : p.at(i + 3).symbol().root + (-kMinorSecond);
        FoundUnit out{UnitKind::Turnaround,
                      i,
                      i + 3,
                      false,
                      p.at(i).length > p.at(i + 1).length,
                      {name, is_minor ? Mode::Minor : Mode::Major}};
        return out;
    }
    return std::nullopt;
}

UnitFound dominant_chain(const RowView& p, std::size_t i) {
    const auto goes_on = [&](std::size_t k) {
        return p.follows(k + 1) && p.is_dominant(k + 1) && p.falls(k, k + 1) == kFifthDown;
    };
    if (!p.is_dominant(i) || (i > 0 && p.is_dominant(i - 1) && goes_on(i - 1))) return std::nullopt;
    std::size_t last = i;
    while (goes_on(last)) ++last;
    if (last < i + 2) return std::nullopt;
    FoundUnit out{UnitKind::DominantChain, i, last, false, false, p.context().home};
    if (p.follows(last + 1) && p.falls(last, last + 1) == kFifthDown && p.is_tonic(last + 1)) {
        ++out.last;
        out.has_goal = true;
    }
    return out;
}

UnitFound chromatic_dominants(const RowView& p, std::size_t i) {
    for (const int way : {kHalfStepDown, 12 - kHalfStepDown}) {
        const auto goes_on = [&](std::size_t k) {
            return p.follows(k + 1) && p.is_dominant(k + 1) && p.falls(k, k + 1) == way;
        };
        if (!p.is_dominant(i) || (i > 0 && p.is_dominant(i - 1) && goes_on(i - 1))) continue;
        std::size_t last = i;
        while (goes_on(last)) ++last;
        if (last >= i + 2)
            return FoundUnit{UnitKind::ChromaticDominants, i, last, false, false, p.context().home};
    }
    return std::nullopt;
}

bool passes(const RowView& p, std::size_t dim) {
    if (dim == 0 || !p.is(dim, Family::Diminished) || !p.follows(dim) || !p.follows(dim + 1)) return false;
    const auto beside = [&](int pitch) {
        return down(pitch, p.at(dim).root) == kHalfStepDown || up(pitch, p.at(dim).root) == kHalfStepDown;
    };
    const bool comes = beside(p.at(dim - 1).root) || beside(p.at(dim - 1).bass);
    const bool goes = beside(p.at(dim + 1).root) || beside(p.at(dim + 1).bass);
    const bool stays = p.at(dim - 1).root == p.at(dim).root && p.at(dim + 1).root == p.at(dim).root;
    return comes || goes || stays;
}

UnitFound diminished_passing(const RowView& p, std::size_t i) {
    if (!passes(p, i + 1) || (i >= 1 && passes(p, i - 1))) return std::nullopt;
    std::size_t last = i + 2;
    while (last + 1 < p.size() && passes(p, last + 1)) last += 2;
    return FoundUnit{
        UnitKind::DiminishedPassing, i, last, true, p.at(i).last_bar > p.at(i).first_bar + 1, p.at(i).key()};
}

UnitFound triads_over_bass(const RowView& p, std::size_t i) {
    if (!is_over_bass(p.at(i)) || (i > 0 && p.follows(i) && is_over_bass(p.at(i - 1)))) return std::nullopt;
    std::size_t last = i;
    bool moves = false;
    while (p.follows(last + 1) && is_over_bass(p.at(last + 1))) {
        moves = moves || p.at(last + 1).bass != p.at(last).bass;
        ++last;
    }
    const bool is_long = p.at(last).last_bar > p.at(i).first_bar;
    const bool resolves = last == i && p.follows(i + 1) && p.falls(i, i + 1) == kFifthDown;
    if (!is_long || resolves || (last > i && !moves)) return std::nullopt;
    if (last == i && !p.at(i).has_foreign_bass) return std::nullopt;
    return FoundUnit{UnitKind::TriadsOverBass, i, last, false, false, p.context().home};
}

bool has_two_of(const RowView& p, std::size_t v) {
    return p.has_two_before(v);
}

UnitFound substitute(const RowView& p, std::size_t i) {
    if (!p.is_dominant(i) || !p.follows(i + 1) || p.falls(i, i + 1) != kHalfStepDown) return std::nullopt;
    if (has_two_of(p, i) || p.is(i + 1, Family::Diminished)) return std::nullopt;
    return FoundUnit{UnitKind::Substitute, i, i + 1, true, false, p.context().home};
}

UnitFound secondary_dominant(const RowView& p, std::size_t i) {
    if (!p.is_dominant(i) || !p.follows(i + 1) || p.falls(i, i + 1) != kFifthDown) return std::nullopt;
    if (has_two_of(p, i) || p.is_home(i + 1) || p.is_dominant(i + 1) || p.is(i + 1, Family::Diminished))
        return std::nullopt;
    return FoundUnit{UnitKind::SecondaryDominant, i, i + 1, true, false, p.context().home};
}

UnitFound five_one(const RowView& p, std::size_t i) {
    if (!p.follows(i + 1) || !p.is_home(i + 1) || p.falls(i, i + 1) != kFifthDown || !p.is_tonic(i + 1))
        return std::nullopt;
    const bool is_plain = p.is(i, Family::Major) && p.at(i).is_triad && p.at(i + 1).is_triad;
    if ((!p.is_dominant(i) && !is_plain) || has_two_of(p, i)) return std::nullopt;
    const bool has_four = i > 0 && p.follows(i) && p.is_tonic(i - 1) && up(p.home(), p.at(i - 1).root) == 5;
    return FoundUnit{UnitKind::FiveOne, has_four ? i - 1 : i, i + 1, true, false, p.context().home};
}

UnitFound plagal(const RowView& p, std::size_t i) {
    if (!p.follows(i + 1) || !p.is_tonic(i) || !p.is_tonic(i + 1) || !p.is_home(i + 1)) return std::nullopt;
    if (up(p.home(), p.at(i).root) != 5 || is_over_bass(p.at(i))) return std::nullopt;
    const bool has_major =
        i > 0 && p.follows(i) && p.at(i - 1).root == p.at(i).root && p.is(i - 1, Family::Major);
    return FoundUnit{UnitKind::Plagal, has_major ? i - 1 : i, i + 1, true, false, p.context().home};
}

using Rule = UnitFound (*)(const RowView&, std::size_t);
constexpr Rule kRules[]{blues_frame,
                        key_cycle,
                        pedal,
                        modal_stretch,
                        turnaround,
                        two_five,
                        minor_four_five_one,
                        backdoor,
                        dominant_chain,
                        chromatic_dominants,
                        diminished_passing,
                        line_cliche,
                        triads_over_bass,
                        substitute,
                        secondary_dominant,
                        five_one,
                        plagal};

}  // namespace

std::vector<FoundUnit> find_units(const std::vector<UnitChord>& row, const UnitContext& context) {
    const RowView place{row, context};
    std::vector<FoundUnit> out;
    for (std::size_t i = 0; i < row.size(); ++i) {
        for (const Rule rule : kRules) {
            if (const UnitFound found = rule(place, i)) out.push_back(*found);
        }
    }
    return out;
}

}  // namespace shedbook
