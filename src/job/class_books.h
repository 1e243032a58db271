// The books of a class before they are written: what each student gets of the tune, and how much that is.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"
#include "shedbook/book/roster.h"

namespace shedbook {

struct StudentBook {
    Student student;
    BookOptions options;
    int bars = 0;
    Diagnostics said;  // what was left out
};

// Prepares books. The options of a book point into this: it must outlive them.
class ClassBooks {
  public:
    // Plans that are files lie in `folder`, where the roster is.
    ClassBooks(Tune tune, std::string folder);
    ClassBooks(const ClassBooks&) = delete;
    ClassBooks& operator=(const ClassBooks&) = delete;

    // Its bars are counted and its `said` is filled.
    [[nodiscard]] StudentBook prepare(const Student& student, Prefer prefer);
    void assemble(const StudentBook& book, BlockSink& sink, Diagnostics& diagnostics);
    // The tune with the scales of a level.
    [[nodiscard]] const Tune& tune_at(int level_number);
    // What a level asks of drills on this tune.
    [[nodiscard]] BookOptions options_at(int level_number);

  private:
    [[nodiscard]] const std::vector<Tune>& tunes_at(int level_number);
    [[nodiscard]] const BookPlan& plan_named(const std::string& name);

    Tune tune_;
    std::string folder_;
    std::map<Palette, std::vector<Tune>> tunes_;
    std::map<std::string, BookPlan> plans_;
};

}  // namespace shedbook
