// Plans and levels of a book, as data: which chords and drills, in which order, at which tempos, in which
// sittings. docs/plans.md explains the form to the teacher who writes one.
//
//     const BookPlan* plan = find_plan("evening");
//     plan->sittings.size();                                   // 4
//     const Level& third = level(3);
//     third.drills;                                            // ids of templates/drills.toml
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/etude/etude.h"
#include "shedbook/harmony/analysis.h"

namespace shedbook {

inline constexpr int kLowestLevel = 1;

enum class Material { Keys, Chords };      // scales of the keys, or a scale for each chord
enum class Order { Blocked, Mixed };       // a chord at a time, or every time another chord and another drill
enum class Memory { None, Cell, Symbol };  // empty staves behind the first bar, or behind the chord symbol
template <>
inline constexpr Worded<Material> kWords<Material>[] = {{Material::Keys, "keys"},
                                                        {Material::Chords, "chords"}};
template <>
inline constexpr Worded<Order> kWords<Order>[] = {{Order::Blocked, "blocked"}, {Order::Mixed, "mixed"}};
template <>
inline constexpr Worded<Memory> kWords<Memory>[] = {
    {Memory::None, "none"}, {Memory::Cell, "cell"}, {Memory::Symbol, "symbol"}};

// What a player at a level gets when nothing else is asked (trade-notes: common practice, no source; the
// figures of `shedbook measure` say what it comes to).
struct Level {
    int number = 1;
    std::string about;
    Material material = Material::Chords;
    Palette palette = Palette::Usual;
    std::string range;  // as parse_range takes it
    std::vector<std::string> drills;
    int chords = 0;                   // at most; 0: all
    std::vector<std::string> etudes;  // kinds, in this order at the end
    std::vector<int> tempos;          // per cent of the goal tempo
};

// One sitting of a plan: an evening's half hour or a week.
struct Sitting {
    enum class Chords { All, Next, Same };       // Next: those after the ones of the sitting before
    enum class Units { None, All, Next, Same };  // of a book by units, the hardest first

    std::string title;
    std::string subject;  // may be empty, as the advice
    std::string advice;
    Chords which = Chords::All;
    int most = 0;       // chords; 0: all there are
    bool each = false;  // one sitting for each chord, scale or key, numbered
    bool basic_first = false;
    std::vector<std::string> drills;  // empty: those of the level; "none" alone: none
    std::vector<int> tempos;          // per cent of the goal tempo; empty: those of the level
    std::vector<std::string> etudes;  // kinds
    Order order = Order::Blocked;
    Memory memory = Memory::None;
    Units units = Units::None;
    int most_units = 0;  // 0: all; with Next: what is left, shared with those that say the same
    std::vector<std::string>
        lines;      // on each unit: kinds of etude, or kPhrasesOfUnit; empty: those of a few systems
    int notes = 0;  // sets of notes of those units, those with notes outside the key first; with `drills`
};
template <>
inline constexpr Worded<Sitting::Chords> kWords<Sitting::Chords>[] = {
    {Sitting::Chords::All, "all"}, {Sitting::Chords::Next, "next"}, {Sitting::Chords::Same, "same"}};

template <>
inline constexpr Worded<Sitting::Units> kWords<Sitting::Units>[] = {{Sitting::Units::None, "none"},
                                                                    {Sitting::Units::All, "all"},
                                                                    {Sitting::Units::Next, "next"},
                                                                    {Sitting::Units::Same, "same"}};

// Among the lines on a unit: its phrases, with bars for the player's own version.
inline constexpr std::string_view kPhrasesOfUnit = "phrases";

struct BookPlan {
    std::string id;
    std::string title;
    std::string about;
    std::vector<Sitting> sittings;
    // Whether a book by units can be made of it.
    [[nodiscard]] bool is_on_units() const;
};

[[nodiscard]] std::vector<Level> read_levels(const SourceText& source, Diagnostics& diagnostics);
[[nodiscard]] std::vector<BookPlan> read_plans(const SourceText& source, Diagnostics& diagnostics);

// Those that come with the program. `number` is kLowestLevel to kHighestLevel.
[[nodiscard]] const Level& level(int number);
[[nodiscard]] const std::vector<BookPlan>& book_plans();
[[nodiscard]] const BookPlan* find_plan(std::string_view name);
[[nodiscard]] std::vector<std::string> plan_names();

}  // namespace shedbook
