// Instruments: what they read, how that sounds, and how far they reach. One TOML entry each in
// templates/instruments.toml.
//
//     const Instrument* alto = find_instrument("alto-sax");
//     to_sounding(alto->transposition);                        // a major sixth down
//     alto->practical;                                         // written Bb3 to F#6
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/theory/pitch.h"

namespace shedbook {

// A note as it stands on paper. Mixing it up with a sounding Pitch does not compile; notate() and sounding()
// are the only ways across.
class WrittenPitch {
  public:
    constexpr WrittenPitch() = default;
    explicit constexpr WrittenPitch(Pitch on_paper) : on_paper_{on_paper} {}
    [[nodiscard]] constexpr Pitch on_paper() const { return on_paper_; }
    friend constexpr bool operator==(WrittenPitch, WrittenPitch) = default;

  private:
    Pitch on_paper_;
};

struct WrittenRange {
    WrittenPitch low;
    WrittenPitch high;
    friend constexpr bool operator==(const WrittenRange&, const WrittenRange&) = default;
};

// What to add to a written note to get the sounding one; the octaves are not in the first two (as in
// MusicXML).
struct Transposition {
    int diatonic = 0;
    int chromatic = 0;
    int octaves = 0;
    friend constexpr bool operator==(const Transposition&, const Transposition&) = default;
};
[[nodiscard]] constexpr Interval to_sounding(const Transposition& t) {
    return {t.diatonic + 7 * t.octaves, t.chromatic + 12 * t.octaves};
}

struct Clef {
    char sign = 'G';  // G, F or C
    int line = 2;     // staff line from below
    int octaves = 0;  // -1: the small 8 below; the notes are then counted as they sound
    friend constexpr bool operator==(const Clef&, const Clef&) = default;
};
// Place (letters above C0) of the staff's middle line.
[[nodiscard]] int middle_line(const Clef& clef);

// A part of a fretboard, both ends in; 0 is the open string.
struct FretSpan {
    int low = 0;
    int high = 0;
    friend constexpr bool operator==(const FretSpan&, const FretSpan&) = default;
};
inline constexpr int kMostFrets = 24;

// How far the left hand of a keyboard plays below the right one.
enum class HandsApart { Octave, Tenth };
template <>
inline constexpr Worded<HandsApart> kWords<HandsApart>[] = {{HandsApart::Octave, "octave"},
                                                            {HandsApart::Tenth, "tenth"}};

struct Instrument {
    std::string id;          // "alto-sax"
    std::string name;        // "Alto Saxophone"
    std::string short_name;  // "A. Sx."
    std::vector<std::string> also;
    Clef clef;
    Transposition transposition;
    WrittenRange student;
    WrittenRange practical;
    WrittenRange full;
    std::optional<WrittenRange> first;        // of the first year; nothing: the lower part of `student`
    std::optional<WrittenRange> comfortable;  // where lines read and speak well, if that is less
    std::optional<int> ledger_lines;          // more than so many are read under an octave line; nothing: all
    std::optional<Clef> high_clef;            // bars that lie high stand in it; nothing: none does
    std::optional<Clef> left_hand;            // clef of a second staff, where both hands play
    HandsApart hands_apart = HandsApart::Octave;
    std::vector<WrittenPitch> strings;  // open, the lowest first
    std::string fingering;              // id of a chart in fingering_chart.h; may be empty
    WrittenPitch open;                  // where that chart counts from, if it goes by notes
    std::string sound;                  // MusicXML sound id
    int program = 1;                    // General MIDI, from 1
    std::string source;                 // where the figures come from
};

[[nodiscard]] std::vector<Instrument> read_instruments(const SourceText& source, Diagnostics& diagnostics);
// Those that come with the program.
[[nodiscard]] const std::vector<Instrument>& instruments();
// By id or another name; case, blanks and hyphens do not count. Null if there is none.
[[nodiscard]] const Instrument* find_instrument(std::string_view name);
[[nodiscard]] std::vector<std::string> instrument_names();

[[nodiscard]] PitchRange sounding_range(const Instrument& instrument, const WrittenRange& range);
// "first" (its own, or the lowest octave and a fifth of "student"), "student", "practical", "full", "frets
// 5-9" where there are frets, or two written notes, "Bb3-F6"; "low G to top C" is not understood.
[[nodiscard]] std::optional<WrittenRange> parse_range(std::string_view text, const Instrument& instrument);
// "frets 5-9": the part of the neck; nothing for any other text.
[[nodiscard]] std::optional<FretSpan> parse_frets(std::string_view text);

}  // namespace shedbook
