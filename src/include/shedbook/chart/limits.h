// Limits of what the chart readers take. They bound time and memory on hostile or broken files and are far
// above anything that a person writes.
#pragma once

#include <cstddef>

namespace shedbook {

// A text chart of 100,000 bars is about 1 MiB. Its words take some sixty times their length while they are
// read.
inline constexpr std::size_t kLargestTextChart = 4 * 1024 * 1024;
// A tune in ABC has a few thousand bytes, each of which may be a note.
inline constexpr std::size_t kLargestAbc = 1024 * 1024;
// Nobody types a longer line.
inline constexpr std::size_t kLongestChartLine = 20'000;
// Written bars of one chart; a long opera act has about 5,000.
inline constexpr int kMostWrittenBars = 200'000;
// Whole notes in a bar: the longest meter has 64, and cadenzas that are written as one bar about 30.
inline constexpr int kLongestBar = 100;
// Lengths of bars, and places and lengths in them, are fractions of a whole note. The largest denominator of
// one: a 64th triplet has 96, a quintuplet of 64ths 80, a tick of a file with 480 divisions a quarter 1920.
inline constexpr int kFinestTime = 1'920;
// The least common multiple of all denominators of one chart: ticks as above, septuplets and triplets of
// triplets together (1920 = 2^7 * 3 * 5; times 3 * 7).
inline constexpr int kFinestGrid = 40'320;
// Chords in one bar: a chord on every 64th note of a bar of 64 quarters.
inline constexpr int kMostChordsInBar = 1'024;
// Beats a minute between which a tempo mark is one; metronomes go from 30 to 300.
inline constexpr int kSlowestMark = 10;
inline constexpr int kFastestMark = 600;
// How often a passage may be repeated by one sign; vamps say "till cue" beyond this.
inline constexpr int kMostTimes = 99;
// The highest number of a repeat ending.
inline constexpr int kHighestEnding = 99;

// MusicXML nests 12 levels or so; pugixml and our own walk are safe far beyond.
inline constexpr int kDeepestXml = 100;
// Elements, attributes and stray pieces of text in one score, counted before a tree is built: a tree of this
// size takes about 200 MiB. A full orchestral symphony movement has about 600,000.
inline constexpr std::size_t kMostXmlNodes = 1'500'000;
// Divisions of a quarter note: the standard's readers stop at 16,383 for MIDI; files in the wild use 10,080
// and 40,320.
inline constexpr int kMostDivisions = 1'000'000;

}  // namespace shedbook
