// What was practised, as a picture: tempos over days, or how well scales are known in each key. Plain values;
// a writer draws them.
#pragma once

#include <string>
#include <vector>

namespace shedbook {

// One line of practice, day by day.
struct TempoLine {
    struct Dot {
        int day = 0;  // from the first one
        int tempo = 0;
        bool is_clean = false;
        bool from_memory = false;
    };
    std::string name;  // "thirds"
    int goal = 0;      // 0: none
    std::vector<Dot> dots;
};
struct TempoChart {
    std::string title;
    std::string first_day;
    std::string last_day;
    int days = 0;  // from the first to the last
    std::vector<TempoLine> lines;
};

// A row for each scale or unit, a column for each key. A cell that nothing is known of is empty.
struct KeyMap {
    struct Cell {
        bool is_there = false;
        int share = 0;     // per cent
        std::string sign;  // a letter for the best state
    };
    struct Row {
        std::string label;
        std::vector<Cell> cells;  // as many as columns
    };
    std::string title;
    std::string about;
    std::vector<std::string> columns;
    std::vector<Row> rows;
};

}  // namespace shedbook
