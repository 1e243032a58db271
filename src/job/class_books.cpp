#include "class_books.h"

#include <filesystem>
#include <utility>

#include "books_in_order.h"
#include "level_request.h"
#include "tunes.h"

namespace shedbook {

ClassBooks::ClassBooks(Tune tune, std::string folder, Caller& caller)
    : folder_{std::move(folder)}, caller_{caller} {
    tunes_.emplace(Palette::Usual, std::vector<Tune>{std::move(tune)});
}

const std::vector<Tune>& ClassBooks::tunes_at(int level_number) {
    const Palette palette = level(level_number).palette;
    const auto known = tunes_.find(palette);
    if (known != tunes_.end()) return known->second;
    Tune tune = tunes_.at(Palette::Usual).front();
    tune.analysis = analyse(tune.chart, tune.timeline, {palette});
    return tunes_.emplace(palette, std::vector<Tune>{std::move(tune)}).first->second;
}

const Tune& ClassBooks::tune_at(int level_number) {
    return tunes_at(level_number).front();
}

const BookPlan& ClassBooks::plan_named(const std::string& name) {
    const auto known = plans_.find(name);
    if (known != plans_.end()) return known->second;
    const bool comes_with_us = find_plan(name) != nullptr;
    const std::string where = comes_with_us ? name : (std::filesystem::path{folder_} / name).string();
    return plans_.emplace(name, plan_called(where, caller_)).first->second;
}

BookOptions ClassBooks::options_at(int level_number) {
    const std::vector<Tune>& tunes = tunes_at(level_number);
    BookOptions out;
    apply_level(level(level_number), out);
    out.setting.meter = out.usual_meter = meter_for_drills(tunes);
    if (tunes.front().chart.tempo) out.goal_tempo = *tunes.front().chart.tempo;
    return out;
}

StudentBook ClassBooks::make(const Student& student, Prefer prefer) {
    StudentBook out;
    out.student = student;
    BookOptions options = options_at(student.level);
    options.prefer = prefer;
    options.player = student.name;
    if (student.goal > 0) options.goal_tempo = student.goal;
    if (!student.plan.empty()) options.plan = &plan_named(student.plan);
    options.by = options.plan == nullptr || options.plan->is_on_units() ? BookBy::Unit : BookBy::Chord;
    BooksInOrder books{tunes_at(student.level), {&student.part, 1}, options};
    Recorder recorder;
    BarCount counted{recorder};
    hand_over(books.book(0, out.said), counted);
    out.document = std::move(recorder.document);
    out.bars = counted.bars();
    return out;
}

}  // namespace shedbook
