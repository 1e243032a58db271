// A class: who plays what, at which level. One TOML file, a [[student]] for each, or a table (.csv) with a
// row for each; docs/class.md explains it to the teacher who writes one.
//
//     Roster roster = read_roster(source, diagnostics);
//     roster.students[0].name;                                 // "Ada Lind"
//     file_name_of(roster.students[0], roster.rows);           // "01-ada-lind-alto-sax"
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/book/book.h"

namespace shedbook {

struct Student {
    std::size_t number = 1;  // row of the roster, from 1
    Span where;              // that row
    std::string name;
    BookPart part;
    int level = kLowestLevel;
    int goal = 0;      // tempo in beats a minute; 0: the tune's
    std::string plan;  // name of one that comes with the program, or a file beside the roster; empty: none
};

struct Roster {
    std::vector<Student> students;  // the rows without a fault
    std::size_t rows = 0;           // all of them
};

// Every fault of every row is reported; a row with one is left out.
[[nodiscard]] Roster read_roster(const SourceText& source, Diagnostics& diagnostics);

// Number, name and instrument, without an ending. The number has as many digits as the last row's, at least
// two: names sort as the roster does, and no two are the same.
[[nodiscard]] std::string file_name_of(const Student& student, std::size_t rows);

// The letters and digits of a name in plain lower case, "Zoë Ångström" as "zoe-angstrom"; empty if it has
// none of the Latin alphabet.
[[nodiscard]] std::string plain_name(std::string_view name);

// The parts of a score that the whole class plays from: each instrument once, in the order of the roster,
// with the notes that all who play it have.
[[nodiscard]] std::vector<BookPart> parts_together(const std::vector<Student>& students);

}  // namespace shedbook
