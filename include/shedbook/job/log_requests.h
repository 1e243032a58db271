// What can be asked of the practice log, as words: see requests.h. Whoever asks says what day it is.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/job/requests.h"
#include "shedbook/log/day.h"

namespace shedbook {

// Whose log, and now.
struct LogPlace {
    std::string data;    // a file; else as the environment says
    std::string player;  // empty: me
    Day today;
    std::int64_t now = 0;  // seconds since 1970
};

// What was practised: a chord or a scale ("Db7#11", "F lydian"), a unit in a key ("ii-V-I in F") or a tune,
// and the drill or kind of line. Empty where nothing was said.
struct EntryRequest {
    LogPlace place;
    std::string topic;
    std::string work;
    std::string bars;  // of a tune: the unit that stands there
    std::string instrument;
    std::string tempo;
    std::string goal;
    std::string right;
    std::string wrong;
    std::string minutes;
    std::string note;
    std::string tune;  // in which it was practised
    std::string on;
    int level = 3;  // whose tempo is the goal, where none is said
    bool from_memory = false;
    bool with_sheet = false;  // corrections only: no longer from memory
    bool is_written = false;  // the topic is named as the instrument reads it
    TuneRequest reading;      // of a tune's file
};

struct TicksRequest {
    LogPlace place;
    std::vector<std::string> words;  // a code, then "2.3@86,115" and "2.4m"; or a file of such lines
    std::string pages;               // a file with the table of these pages, from another machine
    std::string on;
};

struct ShowRequest {
    LogPlace place;
    std::string topic;
    std::string work;
    std::string instrument;
    std::string tune;
    std::string from;
    std::string to;
    int last = 0;  // 0: a screen full
    bool all_players = false;
    bool history = false;
    bool json = false;
};

struct ProgressRequest {
    LogPlace place;
    std::string what;  // a tune's file, or a chord or scale; empty: all
    std::string instrument;
    int level = 0;
    TuneRequest reading;
    std::string output;  // a picture
    bool json = false;
};

struct TodayRequest {
    LogPlace place;
    int minutes = 30;
    std::vector<std::string> tunes;
    PartRequest part;
    int level = 3;
    std::string gig;
    std::string on;
    std::uint64_t seed = 1;
    std::string roster;  // of a class: a day for each student, under its name as the player
    TuneRequest reading;
    OutputRequest output;
};

}  // namespace shedbook
