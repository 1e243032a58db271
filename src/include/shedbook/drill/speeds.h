// How fast a drill is played: its own boxes to tick, from how many notes it has to a beat, from its leaps,
// and from the instrument.
//
//     const Speeds& speeds = speeds_of(instrument.sound);
//     top_tempo(line, Meter{}, speeds, 3);                     // 160, for eighths by step on a saxophone
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/base/time.h"
#include "shedbook/theory/concert_line.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// What an instrument of harmony plays under others: a bass line, chords for two hands, chords on frets.
enum class HandLine { None, Walking, Voicings, Shapes };
template <>
inline constexpr Worded<HandLine> kWords<HandLine>[] = {{HandLine::None, "none"},
                                                        {HandLine::Walking, "walking"},
                                                        {HandLine::Voicings, "voicings"},
                                                        {HandLine::Shapes, "shapes"}};

// A row of templates/speeds.toml.
struct Speeds {
    std::string id;
    std::vector<std::string> sounds;  // beginnings of MusicXML sound ids
    std::array<double, 6> notes{};    // a second, by step, at levels 1 to 6
    double leap = 0;                  // how much longer a leap takes, for each half step beyond a fourth
    bool is_bass = false;  // it plays the roots: its drills begin on them, and are shortened if need be
    HandLine line = HandLine::None;
};
[[nodiscard]] const std::vector<Speeds>& speed_rows();
// Of an instrument with this MusicXML sound id; the first row if none fits.
[[nodiscard]] const Speeds& speeds_of(std::string_view sound);

// The most that a line asks in a beat, where it asks most: notes, each of them longer by its leap; over four
// notes at least, so that one short note does not count as a run.
[[nodiscard]] double notes_in_a_beat(const ConcertLine& line, const Meter& meter, const Speeds& speeds);
// The number on a metronome's dial at or below a tempo, in beats a minute; 40 at least. Beyond the dial's 208
// it goes on by eights.
[[nodiscard]] int on_dial(double tempo);
// The fastest tempo on the dial, in beats of the meter a minute, at which a player of this level (1 to 6)
// keeps up; 40 where he does not.
[[nodiscard]] int top_tempo(const ConcertLine& line, const Meter& meter, const Speeds& speeds, int level);

// The tempos of the boxes: these per cents of the drill's own top tempo, which is not above the goal, each
// once, from the slowest. The goal is said as it is, all others as the dial has them. `goal` in beats a
// minute.
[[nodiscard]] std::vector<int> box_tempos(const ConcertLine& line, const Meter& meter, const Speeds& speeds,
                                          int level, int goal, const std::vector<int>& per_cent);

}  // namespace shedbook
