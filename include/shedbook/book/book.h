// The practice book of one or more tunes: which chords, which drills, in which order, as a sequence of
// blocks. A book is data; a writer makes a file of it.
//
//     BookPart part{.instrument = alto, .range = alto.practical};
//     assemble_book(tunes, parts, 0, options, sink);
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/book/plan.h"
#include "shedbook/chart/chart.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/etude.h"
#include "shedbook/harmony/analysis.h"
#include "shedbook/notation/document.h"
#include "shedbook/notation/notate.h"

namespace shedbook {

// A tune, read and understood.
struct Tune {
    Chart chart;
    Timeline timeline;
    Analysis analysis;
};

[[nodiscard]] TuneName name_of(const Chart& chart);
// As the chart says, else as the analysis finds it.
[[nodiscard]] Key key_of(const Tune& tune);

// Under which notes the row of fingerings stands, where the instrument's data has one.
enum class Fingerings { None, Scales, All };
template <>
inline constexpr Worded<Fingerings> kWords<Fingerings>[] = {
    {Fingerings::None, "none"}, {Fingerings::Scales, "scales"}, {Fingerings::All, "all"}};

// A player of the book. Books made together share their bar numbers.
struct BookPart {
    const Instrument* instrument = nullptr;
    WrittenRange range;
    std::optional<FretSpan> frets = {};  // the part of the neck that the range was asked for by
    Fingerings fingerings = Fingerings::None;
    bool keeps_comfortable = true;  // etudes stay where the instrument reads and speaks well
};

// General advice on playing without harm: NASM/PAMA, Protecting Your Neuromusculoskeletal Health (student
// sheet). No minutes are given there, so none here.
inline constexpr std::string_view kCaution =
    "Take short breaks. Stop at pain, numbness or tingling, and ask a teacher or a doctor. Mind the volume: "
    "protect your ears.";

// What its sections are about: each chord by itself, or the units of the tune, the hardest first.
enum class BookBy { Chord, Unit };
template <>
inline constexpr Worded<BookBy> kWords<BookBy>[] = {{BookBy::Chord, "chord"}, {BookBy::Unit, "unit"}};

// Of the lines on units, where no level is asked for: they can be played at the tempo of the tune.
inline constexpr int kUsualLevelOfUnits = 3;

// Which signature stands before drills: none; that of the tune; or that of the drill's own scale, where a
// scale has one. Teachers differ.
enum class Signatures { None, Tune, Scale };
template <>
inline constexpr Worded<Signatures> kWords<Signatures>[] = {
    {Signatures::None, "none"}, {Signatures::Tune, "tune"}, {Signatures::Scale, "scale"}};

struct BookOptions {
    BookBy by = BookBy::Chord;
    std::vector<const DrillTemplate*> drills;  // in this order
    DrillSetting setting;                      // all drills in this meter, rhythm and so on
    std::optional<Signatures> signatures;      // nothing: the tune's in a book by units, else none
    std::optional<Meter> usual_meter;          // of the tune: said once, not over every drill
    const BookPlan* plan = nullptr;            // nothing: one sitting with everything
    Material material = Material::Chords;
    Order order = Order::Blocked;
    Memory memory = Memory::None;
    bool basic_first = false;
    int goal_tempo = 100;                          // beats a minute
    std::vector<int> tempos{60, 80, 100};          // of the tick boxes, per cent of the goal
    std::vector<ChordSymbol> only_chords;          // concert; empty: all
    std::optional<std::pair<int, int>> only_bars;  // written bars from 1, both ends in
    std::optional<std::size_t> most_chords;        // nothing: all
    Prefer prefer = Prefer::Fewest;
    std::string player;                   // name for the title page; may be empty
    bool with_line = true;                // the etude at the end
    std::vector<std::string> etudes;      // kinds, one after the other; empty: that of `etude`
    std::optional<int> speed_level = {};  // whose speed the fastest boxes keep; nothing: the level of `etude`
    EtudeRequest etude;  // of which kind, level and seed; its bars: those of the book unless it has its own
};

// A chord with the scale it takes: what one section of the book is about.
struct ChordInContext {
    ChordSymbol symbol;
    ScaleChoice scale;
    Key key;  // local key where it is met first
    std::string numeral;
    std::vector<int> bars;            // written bars from 1 where it stands, rising
    std::vector<int> bars_of_reason;  // those in which its scale is chosen for the reason that `scale` has
    Duration sounding;                // in all
};

// Every different chord-in-context (root, kind and scale) of a tune in order of its first place, filtered by
// the options.
[[nodiscard]] std::vector<ChordInContext> chords_in_context(const Tune& tune, const BookOptions& options);

// The blocks of the book of parts[which], to the sink. What does not fit or was left out is said in
// `diagnostics`.
void assemble_book(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                   const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics);

// One or more drills on the chords of a tune for everybody at once: a document of several parts, lines and
// pages broken at the same bars. A chord on which nothing fits all parts is left out; no piece at all is no
// error here.
void assemble_score(const Tune& tune, std::span<const BookPart> parts, const BookOptions& options,
                    BlockSink& sink, Diagnostics& diagnostics);

// A sheet of drills on chords or scales without a tune.
struct SheetTopic {
    std::optional<ChordSymbol> symbol;
    ScaleChoice scale;
};
void assemble_sheet(const std::vector<SheetTopic>& topics, std::span<const BookPart> parts, std::size_t which,
                    const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics);

// The drills a book has when nothing else is asked.
[[nodiscard]] std::vector<const DrillTemplate*> usual_drills();
// Ids of those that a sheet has: as many as one page holds.
[[nodiscard]] std::vector<std::string> sheet_drills();

}  // namespace shedbook
