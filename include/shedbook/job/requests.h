// What can be asked for, as words: each face of the program fills these in, and the jobs (jobs.h) make values
// of them. An empty word or a 0 means that nothing was said. UsageError names what a word could have been.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/harmony/analysis.h"

namespace shedbook {

// A tune from a file, or "-".
struct TuneRequest {
    std::string part;       // of a score with several
    std::string transpose;  // a key ("Eb") or an interval ("up m3")
    std::string scales;     // plain, usual, rich
    std::string key;        // its home, as written in the file ("G minor", "D dorian"), whatever it says
};

// For whom.
struct PartRequest {
    std::vector<std::string> instruments;
    std::string range;       // as parse_range takes it; practical
    std::string fingerings;  // none, scales, all
    std::string prefer;      // sharps, flats
};

// How it sounds.
struct SoundRequest {
    std::string tempo;  // 92; 60-120; 60,80,100; boxes
    int tempo_step = 10;
    int tempo_bars = 0;
    std::string eighths;  // swing, straight, 12-8
    std::vector<std::string> mute;
    std::string clicks;       // empty: none where there are drums
    std::string silent_bars;  // 2/8
    int trade = 0;            // bars
    std::string keys;         // in which order a piece goes through the keys: fourths ...
    int times = 0;
    int seed = 0;  // of the band; 0: the usual one
    std::string sound_font;
};

// Into which file.
struct OutputRequest {
    std::string file;
    std::string paper;              // A4, letter, tablet
    int page = 0;                   // of a picture
    bool no_cache = false;          // set all pages anew
    std::vector<std::string> only;  // numbers of pieces: "2.3"; "2" for a section
    SoundRequest sound;
};

// Which drills, and in which setting.
struct DrillRequest {
    std::vector<std::string> drills;  // names; "usual", "all"
    std::string rhythm;
    std::string meter;
    std::string articulation;
    std::string octaves = "best";  // or all
    int displaced = 0;             // eighths
    std::string signatures;        // none, tune, scale; empty: as the book has them
};

// What is asked of the player.
struct LevelRequest {
    int level = 0;
    std::string plan;  // a name, or a file
    int goal = 0;      // beats a minute; the tune's
    std::string order;
    std::string memory;
    bool basic_first = false;
    std::string etude;
    std::uint64_t seed = 1;
};

// A chart to begin with.
struct StarterRequest {
    std::string title;
    std::string form;           // a word of Form; empty: aaba, or `bars` plain bars
    int bars = 0;               // of a form without sections
    std::string key = "C";      // major or minor
    std::string meter = "4/4";  // as parse_meter takes it
    std::string file;           // empty: the title as a file name, in the folder at hand
};

// A book of a chart that comes with the program.
struct TrialRequest {
    PartRequest part;
    OutputRequest output;
    std::string form;
};

struct BookRequest {
    std::vector<std::string> tunes;
    TuneRequest tune;
    PartRequest part;
    DrillRequest drill;
    LevelRequest level;
    OutputRequest output;
    std::string by;                   // "unit"; empty: by chord
    std::string bars;                 // "5-8"
    std::vector<std::string> chords;  // "Dm7", also several with commas between
    bool all = false;
    bool no_line = false;
};

struct SheetRequest {
    std::vector<std::string> topics;  // chords and scales
    std::string unit;                 // or a practice unit, by its name
    LevelRequest level;               // its drills, range and tempos, or its lines
    PartRequest part;
    DrillRequest drill;
    OutputRequest output;
    std::string keys;  // an order of keys
    std::uint64_t seed = 1;
};

struct EtudeJobRequest {
    std::vector<std::string> tunes;
    TuneRequest tune;
    PartRequest part;
    OutputRequest output;
    std::string kind = "composed";
    int level = 4;
    std::uint64_t seed = 1;
    std::string density = "usual";
    std::string feel;
    std::string style;  // empty: by the tune's feel, meter and harmony
    int choruses = 1;
    std::string bars;
    int start = 0;
    int end = 0;
    std::string cell;
    bool explain = false;
};

struct ConvertRequest {
    std::string input;
    TuneRequest tune;
    PartRequest part;  // none: the changes as they are
    OutputRequest output;
    std::string symbols;  // letters, signs, triangle, M, dash, joined by commas
};

struct ClassRequest {
    std::string roster;  // a file
    std::string tune;
    std::string folder;
    std::string ending = "mxl";
    std::string score;  // drill of the score
    std::string paper;
    std::string prefer;
    bool no_cache = false;  // set all pages anew
    bool keep_going = false;
    bool no_score = false;
};

// What to listen to: a tune, its book's pieces, or chords and scales.
struct ListenRequest {
    std::vector<std::string> what;
    TuneRequest tune;
    PartRequest part;
    DrillRequest drill;
    std::vector<std::string> only;
    SoundRequest sound;
};

}  // namespace shedbook
