// One measure of a MusicXML part as it was read, before neighbours are looked at: what a lead sheet needs of
// it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/chart/chart.h"

namespace shedbook {

enum class EndingType { Start, Stop };

struct EndingSign {
    EndingType type = EndingType::Start;
    std::vector<int> numbers;
    bool at_right = false;
};

struct ScoreBar {
    Bar bar;
    int measure = 0;             // of the part, from 0
    Duration content;            // what notes and rests fill
    std::optional<Meter> meter;  // in force
    std::string label;           // a section begins here
    bool has_label = false;
    bool has_full_rest = false;       // nothing but a rest that stands for the whole bar
    bool is_implicit = false;         // not counted on paper: a pickup, or part of a bar
    bool opens_repeat_after = false;  // a forward repeat drawn at its right
    bool closes_repeat_before = false;
    bool has_double_bar_before = false;  // drawn at its left
    bool has_bare_coda = false;          // a coda sign that does not say whether it sends or receives
    int measure_repeat = 0;              // under a sign for repeated bars: of how many
    std::vector<EndingSign> endings;

    // A sign that is drawn: where it stands decides what a coda sign means.
    void take_drawn(FormSign sign) {
        if (sign == FormSign::Coda) {
            has_bare_coda = true;
        } else {
            bar.marks.signs.put(sign);
        }
    }
};

}  // namespace shedbook
