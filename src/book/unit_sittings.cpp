#include "unit_sittings.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "shedbook/notation/memory_page.h"
#include "sittings.h"

namespace shedbook {
namespace {

bool shares_what_is_left(const Sitting& sitting) {
    return sitting.units == Sitting::Units::Next && sitting.most_units == 0;
}

void hide(std::vector<WrittenMusic>& parts, Memory memory) {
    if (memory == Memory::None) return;
    for (WrittenMusic& music : parts) music = with_empty_staves(music, memory == Memory::Cell ? 1 : 0);
}

}  // namespace

std::vector<UnitSitting::Section> UnitSitting::sections() {
    std::vector<Section> out;
    const auto add_notes_behind = [&](std::size_t count) {
        for (OnNotes& on_notes : notes) {
            if (std::min(on_notes.behind, units.size()) == count) out.emplace_back(&on_notes);
        }
    };
    add_notes_behind(0);
    for (std::size_t i = 0; i < units.size(); ++i) {
        out.emplace_back(&units[i]);
        add_notes_behind(i + 1);
    }
    return out;
}

namespace {

void number(UnitSitting::OnUnit& on_unit, int section) {
    on_unit.number = section;
    for (Etude& line : on_unit.lines) line.number.section = section;
}
void number(UnitSitting::OnNotes& on_notes, int section) {
    on_notes.number = section;
    for (Drill& drill : on_notes.drills) drill.number.section = section;
}

}  // namespace

void UnitSitting::number_from(int& last) {
    for (const Section& section : sections()) {
        ++last;
        std::visit([&](auto* each) { number(*each, last); }, section);
    }
    for (Etude& line : form) line.number = {++last, 0};
}

std::vector<std::vector<std::size_t>> units_of_sittings(const BookPlan& plan, std::size_t units) {
    std::vector<std::vector<std::size_t>> out(plan.sittings.size());
    if (units == 0) return out;
    auto sharing = static_cast<std::size_t>(std::ranges::count_if(plan.sittings, shares_what_is_left));
    std::size_t next = 0;
    std::vector<std::size_t> before;
    for (std::size_t i = 0; i < out.size(); ++i) {
        const Sitting& sitting = plan.sittings[i];
        const auto most = static_cast<std::size_t>(sitting.most_units);
        if (sitting.units == Sitting::Units::None) continue;
        if (sitting.units == Sitting::Units::All) {
            out[i].resize(most == 0 ? units : std::min(most, units));
            std::iota(out[i].begin(), out[i].end(), std::size_t{0});
        } else if (sitting.units == Sitting::Units::Next) {
            if (next == units) next = 0;
            std::size_t count = most;
            if (shares_what_is_left(sitting)) {
                count = (units - next + sharing - 1) / sharing;
                --sharing;
            }
            for (; count > 0 && next < units; --count) out[i].push_back(next++);
        } else {
            out[i] = before;
        }
        before = out[i];
    }
    return out;
}

std::vector<UnitSitting> UnitSittingMaker::make(const BookPlan& plan,
                                                const std::vector<const PracticeUnit*>& units,
                                                const std::vector<NoteSet>& sets) {
    units_ = &units;
    sets_ = &sets;
    shown_.assign(units.size(), false);
    drilled_.assign(sets.size(), false);
    known_.assign(units.size(), {});
    const std::vector<std::vector<std::size_t>> chosen = units_of_sittings(plan, units.size());
    std::vector<UnitSitting> out;
    for (std::size_t i = 0; i < chosen.size(); ++i) out.push_back(sitting_of(plan.sittings[i], chosen[i]));
    return out;
}

UnitSitting UnitSittingMaker::sitting_of(const Sitting& sitting, const std::vector<std::size_t>& chosen) {
    BookOptions options = options_;
    if (!sitting.tempos.empty()) options.tempos = sitting.tempos;
    UnitSitting out;
    out.start = SittingStart{sitting.title, sitting.subject, sitting.advice};
    out.memory = sitting.memory;
    add_units(out, sitting, chosen, options);
    add_notes(out, sitting, chosen, options);
    UnitLines lines{ensemble_, options, diagnostics_};
    for (const std::string& kind : sitting.etudes) {
        if (std::optional<Etude> etude = lines.make(tune_, {kind}, {})) out.form.push_back(*std::move(etude));
    }
    return out;
}

void UnitSittingMaker::add_units(UnitSitting& out, const Sitting& sitting,
                                 const std::vector<std::size_t>& chosen, const BookOptions& options) {
    UnitPieces pieces{tune_, ensemble_, options, diagnostics_};
    for (const std::size_t i : chosen) {
        const PracticeUnit& unit = *(*units_)[i];
        const std::vector<std::string> kinds = lines_for(sitting, i);
        std::vector<Etude> lines =
            kinds.empty() ? pieces.few(unit) : pieces.of_kinds(unit, kinds, !shown_[i]);
        if (lines.empty()) continue;
        known_[i].insert(known_[i].end(), kinds.begin(), kinds.end());
        for (Etude& line : lines) hide(line.music, sitting.memory);
        out.units.push_back({i, !shown_[i], std::move(lines)});
        shown_[i] = true;
    }
}

// By memory, what earlier pages have: the others could not be looked up.
std::vector<std::string> UnitSittingMaker::lines_for(const Sitting& sitting, std::size_t unit) const {
    std::vector<std::string> out = sitting.lines;
    if (sitting.memory != Memory::Cell || known_[unit].empty()) return out;
    std::erase_if(out, [&](const std::string& kind) {
        return std::ranges::find(known_[unit], kind) == known_[unit].end();
    });
    return out.empty() ? std::vector{known_[unit].front()} : out;
}

// Scales of the sitting's units that no sitting had before come first.
void UnitSittingMaker::add_notes(UnitSitting& out, const Sitting& sitting,
                                 const std::vector<std::size_t>& chosen, const BookOptions& options) {
    std::vector<std::size_t> sets;
    for (std::size_t i = 0; i < sets_->size(); ++i) {
        if (units_->empty() || belongs_to((*sets_)[i], chosen)) sets.push_back(i);
    }
    const Key key = key_of(tune_);
    // The furthest from the key stand first; what its signature has is played already.
    std::ranges::stable_sort(sets, {}, [&](std::size_t i) {
        return std::pair<bool, int>{drilled_[i], -notes_foreign_to(key, (*sets_)[i])};
    });
    sets.resize(std::min(sets.size(), static_cast<std::size_t>(sitting.notes)));
    const SectionWork work{drills_of(sitting, options), {}, options.tempos, sitting.memory};
    for (const std::size_t i : sets) {
        std::vector<Drill> drills = sections_.drills_of((*sets_)[i].topics.front(), work);
        if (drills.empty()) continue;
        out.notes.push_back({i, std::move(drills)});
        drilled_[i] = true;
    }
    if (out.notes.empty()) return;
    for (const DrillTemplate* drill : work.drills) out.drills.push_back(drill->title);
}

bool UnitSittingMaker::belongs_to(const NoteSet& set, const std::vector<std::size_t>& chosen) const {
    return std::ranges::any_of(chosen, [&](std::size_t i) {
        const std::vector<int>& chords = (*units_)[i]->hardest_place().chords;
        return std::ranges::any_of(tune_.analysis.readings, [&](const Reading& reading) {
            return std::ranges::find(chords, reading.inst) != chords.end() &&
                   has_notes_of(set, reading.scale.notes);
        });
    });
}

}  // namespace shedbook
