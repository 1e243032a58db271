// The books of a class before they are written: what each student gets of the tune, and how much that is.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"
#include "shedbook/book/roster.h"
#include "shedbook/job/caller.h"
#include "shedbook/notation/pieces.h"

namespace shedbook {

struct StudentBook {
    Student student;
    Document document;
    int bars = 0;
    Diagnostics said;  // what was left out
};

// Makes the books of one tune, which it understands once for each palette of scales.
class ClassBooks {
  public:
    // Plans that are files lie in `folder`, where the roster is.
    ClassBooks(Tune tune, std::string folder, Caller& caller);
    ClassBooks(const ClassBooks&) = delete;
    ClassBooks& operator=(const ClassBooks&) = delete;

    [[nodiscard]] StudentBook make(const Student& student, Prefer prefer);
    // The tune with the scales of a level.
    [[nodiscard]] const Tune& tune_at(int level_number);
    // What a level asks of drills on this tune.
    [[nodiscard]] BookOptions options_at(int level_number);

  private:
    [[nodiscard]] const std::vector<Tune>& tunes_at(int level_number);
    [[nodiscard]] const BookPlan& plan_named(const std::string& name);

    std::string folder_;
    Caller& caller_;
    std::map<Palette, std::vector<Tune>> tunes_;
    std::map<std::string, BookPlan> plans_;
};

}  // namespace shedbook
