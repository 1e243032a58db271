#include "shedbook/book/plan.h"

#include <algorithm>
#include <cassert>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/io/fields.h"
#include "shedbook/io/own_templates.h"

namespace shedbook {
namespace {

constexpr int kMostChords = 64;
constexpr int kMostUnits = 32;
constexpr int kLeastPerCent = 10;
constexpr int kMostPerCent = 200;

void check_names(Fields& fields, const char* key, const std::vector<std::string>& names,
                 const std::vector<std::string>& known, const std::string& what) {
    for (const std::string& name : names) {
        if (std::ranges::find(known, name) != known.end()) continue;
        fields.fail_unknown(fields.find(key)->where, what, name, known,
                            "'shedbook list' shows what there is");
    }
}

std::vector<std::string> drills_field(Fields& fields) {
    std::vector<std::string> out = fields.texts("drills");
    if (out == std::vector<std::string>{"none"}) return out;
    check_names(fields, "drills", out, drill_names(), "drill");
    return out;
}

std::vector<std::string> etudes_field(Fields& fields) {
    std::vector<std::string> out = fields.texts("etudes");
    check_names(fields, "etudes", out, etude_kind_names(), "kind of etude");
    return out;
}

std::vector<std::string> lines_field(Fields& fields) {
    std::vector<std::string> out = fields.texts("lines");
    std::vector<std::string> known = etude_kind_names();
    known.emplace_back(kPhrasesOfUnit);
    check_names(fields, "lines", out, known, "line on a unit");
    return out;
}

std::vector<int> tempos_field(Fields& fields) {
    const Data* member = fields.find("tempos");
    std::vector<int> out;
    if (member == nullptr) return out;
    const Data::Array* list = member->as_array();
    for (const Data& item : list != nullptr ? *list : Data::Array{}) {
        const std::int64_t value = item.as_int().value_or(0);
        if (value >= kLeastPerCent && value <= kMostPerCent) out.push_back(static_cast<int>(value));
    }
    if (list == nullptr || out.size() != list->size() || !std::ranges::is_sorted(out) || out.empty()) {
        fields.fail(member->where,
                    "'tempos' must be rising numbers, per cent of the goal tempo, as [60, 80, 100]");
    }
    return out;
}

std::optional<Level> read_level(Fields fields) {
    Level out;
    out.number = fields.number("number", kLowestLevel, kHighestLevel);
    out.about = fields.text("about");
    out.material = fields.word("material", Material::Chords);
    out.palette = fields.word("scales", Palette::Usual);
    out.range = fields.text("range", "practical");
    out.drills = drills_field(fields);
    out.chords = fields.number("chords", 0, kMostChords, 0);
    out.etudes = etudes_field(fields);
    out.tempos = tempos_field(fields);
    if (!fields.finish()) return std::nullopt;
    return out;
}

std::optional<Sitting> read_sitting(Fields fields) {
    Sitting out;
    out.title = fields.text("title");
    out.subject = fields.text("subject", "");
    out.advice = fields.text("advice", "");
    out.which = fields.word("chords", Sitting::Chords::All);
    out.most = fields.number("most", 0, kMostChords, 0);
    out.each = fields.flag("each", false);
    out.basic_first = fields.flag("basic-first", false);
    out.drills = drills_field(fields);
    out.tempos = tempos_field(fields);
    out.etudes = etudes_field(fields);
    out.order = fields.word("order", Order::Blocked);
    out.memory = fields.word("memory", Memory::None);
    out.units = fields.word("units", Sitting::Units::None);
    out.most_units = fields.number("most-units", 0, kMostUnits, 0);
    out.lines = lines_field(fields);
    out.notes = fields.number("notes", 0, kMostUnits, 0);
    if (!fields.finish()) return std::nullopt;
    return out;
}

std::optional<BookPlan> read_plan(const SourceText& source, const Data& entry, Diagnostics& diagnostics) {
    Fields fields{source, entry, "plan", diagnostics};
    BookPlan out;
    out.id = fields.text("id");
    out.title = fields.text("title");
    out.about = fields.text("about", "");
    const Data* sittings = fields.need("sitting");
    const Data::Array* list = sittings != nullptr ? sittings->as_array() : nullptr;
    if (sittings != nullptr && list == nullptr)
        fields.fail(sittings->where, "a sitting is written as [[plan.sitting]]");
    bool sound = true;
    for (const Data& item : list != nullptr ? *list : Data::Array{}) {
        if (auto sitting = read_sitting(Fields{source, item, "sitting", diagnostics})) {
            out.sittings.push_back(*std::move(sitting));
        } else {
            sound = false;
        }
    }
    if (!fields.finish() || !sound) return std::nullopt;
    return out;
}

}  // namespace

bool BookPlan::is_on_units() const {
    return std::ranges::any_of(sittings,
                               [](const Sitting& sitting) { return sitting.units != Sitting::Units::None; });
}

std::vector<Level> read_levels(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("level", source, diagnostics, read_level);
}

std::vector<BookPlan> read_plans(const SourceText& source, Diagnostics& diagnostics) {
    std::vector<BookPlan> out;
    const std::optional<Data> data = read_toml(source, diagnostics);
    if (!data) return out;
    for (const Data& entry : entries_of(*data, "plan", source, diagnostics)) {
        if (auto plan = read_plan(source, entry, diagnostics)) out.push_back(*std::move(plan));
    }
    return out;
}

const Level& level(int number) {
    static const std::vector<Level> kLevels =
        read_templates("levels.toml", "level", read_levels, &Level::number);
    const auto at = std::ranges::find(kLevels, number, &Level::number);
    assert(at != kLevels.end());
    return *at;
}

const std::vector<BookPlan>& book_plans() {
    static const std::vector<BookPlan> kPlans =
        read_templates("plans.toml", "plan", read_plans, &BookPlan::id);
    return kPlans;
}

const BookPlan* find_plan(std::string_view name) {
    const std::string key = slug(name);
    const auto at = std::ranges::find(book_plans(), key, &BookPlan::id);
    return at == book_plans().end() ? nullptr : &*at;
}

std::vector<std::string> plan_names() {
    std::vector<std::string> out;
    for (const BookPlan& plan : book_plans()) out.push_back(plan.id);
    return out;
}

}  // namespace shedbook
