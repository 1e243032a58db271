#include "class_books.h"

#include <filesystem>
#include <utility>

#include "level_arguments.h"
#include "tunes.h"

namespace shedbook {
namespace {

class BarCounter : public BlockSink {
  public:
    void begin(const DocumentHead& /*head*/) override { bars = 0; }
    void take(const Block& block) override {
        if (const auto* music = std::get_if<WrittenMusic>(&block))
            bars += static_cast<int>(music->measures.size());
    }
    void finish() override {}

    int bars = 0;
};

}  // namespace

ClassBooks::ClassBooks(Tune tune, std::string folder) : tune_{std::move(tune)}, folder_{std::move(folder)} {}

const std::vector<Tune>& ClassBooks::tunes_at(int level_number) {
    const Palette palette = level(level_number).palette;
    const auto known = tunes_.find(palette);
    if (known != tunes_.end()) return known->second;
    Tune tune = tune_;
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
    return plans_.emplace(name, plan_called(where)).first->second;
}

BookOptions ClassBooks::options_at(int level_number) {
    BookOptions out;
    apply_level(level(level_number), out);
    out.setting.meter = out.usual_meter = meter_for_drills({tune_});
    if (tune_.chart.tempo) out.goal_tempo = *tune_.chart.tempo;
    return out;
}

StudentBook ClassBooks::prepare(const Student& student, Prefer prefer) {
    StudentBook out;
    out.student = student;
    out.options = options_at(student.level);
    out.options.prefer = prefer;
    out.options.player = student.name;
    if (student.goal > 0) out.options.goal_tempo = student.goal;
    if (!student.plan.empty()) out.options.plan = &plan_named(student.plan);
    BarCounter counter;
    assemble(out, counter, out.said);
    out.bars = counter.bars;
    return out;
}

void ClassBooks::assemble(const StudentBook& book, BlockSink& sink, Diagnostics& diagnostics) {
    assemble_book(tunes_at(book.student.level), {&book.student.part, 1}, 0, book.options, sink, diagnostics);
}

}  // namespace shedbook
