#include "shedbook/drill/drill_template.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <set>
#include <utility>

#include "cell.h"
#include "shedbook/base/text.h"
#include "shedbook/io/data.h"
#include "shedbook/io/embedded.h"

namespace shedbook {
namespace {

constexpr std::array<std::pair<std::string_view, Rational>, 5> kRhythms{{
    {"quarters", {1, 4}},
    {"quarter triplets", {1, 6}},
    {"eighths", {1, 8}},
    {"triplets", {1, 12}},
    {"sixteenths", {1, 16}},
}};

constexpr std::array<std::string_view, 15> kFields{"id",   "title", "about",   "level",  "form",
                                                   "walk", "start", "octaves", "rising", "falling",
                                                   "up",   "down",  "end",     "rhythm", "cells"};

// Reads one [[drill]] entry and reports everything that is wrong in it.
class EntryReader {
  public:
    EntryReader(const SourceText& source, const Data& entry, Diagnostics& diagnostics)
        : source_{source}, entry_{entry}, diagnostics_{diagnostics} {}

    std::optional<DrillTemplate> read() {
        check_fields();
        DrillTemplate out;
        out.id = text("id", true);
        out.title = text("title", true);
        out.about = text("about", false);
        out.level = number("level", 1, 1, 6);
        out.form =
            word("form", {"cells", "range"}) == 1 ? DrillTemplate::Form::Range : DrillTemplate::Form::Cells;
        out.walk =
            word("walk", {"scale", "chord"}) == 1 ? DrillTemplate::Walk::Chord : DrillTemplate::Walk::Scale;
        out.holds_cells = word("cells", {"joined", "held"}) == 1;
        out.start = number("start", 1, 1, 7);
        out.octaves = number("octaves", 1, 1, 3);
        out.fewest_notes = number("notes", 5, 3, 12);
        read_rhythm(out);
        if (out.form == DrillTemplate::Form::Cells) read_cells(out);
        if (failed_) return std::nullopt;
        return out;
    }

  private:
    void fail(Span where, std::string message, std::string hint = {}) {
        diagnostics_.error(source_, where, std::move(message), std::move(hint));
        failed_ = true;
    }

    void check_fields() {
        std::vector<std::string> known(kFields.begin(), kFields.end());
        known.emplace_back("notes");
        const Data::Object* object = entry_.as_object();
        if (object == nullptr) return fail(entry_.where, "a drill is a [[drill]] table");
        for (const auto& [name, value] : *object) {
            if (std::ranges::find(known, name) != known.end()) continue;
            const std::string near = nearest(name, known);
            fail(value.where, "a drill has no field '" + name + "'",
                 near.empty() ? "fields: " + join(known, ", ") : "did you mean '" + near + "'?");
        }
    }

    std::string text(const char* key, bool needed) {
        const Data* member = entry_.find(key);
        if (member == nullptr) {
            if (needed) fail(entry_.where, std::string{"this drill has no '"} + key + "'");
            return {};
        }
        const std::optional<std::string> out = member->as_string();
        if (!out || out->empty()) fail(member->where, std::string{"'"} + key + "' must be a text");
        return out.value_or("");
    }

    int number(const char* key, int absent, int low, int high) {
        const Data* member = entry_.find(key);
        if (member == nullptr) return absent;
        const std::optional<std::int64_t> out = member->as_int();
        if (!out || *out < low || *out > high) {
            fail(member->where, std::string{"'"} + key + "' must be a number from " + std::to_string(low) +
                                    " to " + std::to_string(high));
            return absent;
        }
        return static_cast<int>(*out);
    }

    // Which of the words the field says; the first where it is absent.
    std::size_t word(const char* key, const std::vector<std::string>& words) {
        const Data* member = entry_.find(key);
        if (member == nullptr) return 0;
        const auto at = std::ranges::find(words, member->as_string().value_or(""));
        if (at == words.end()) {
            fail(member->where, std::string{"'"} + key + "' must be one of: " + join(words, ", "));
            return 0;
        }
        return static_cast<std::size_t>(at - words.begin());
    }

    void read_rhythm(DrillTemplate& out) {
        const Data* member = entry_.find("rhythm");
        if (member == nullptr) return;
        const std::string name = member->as_string().value_or("");
        std::vector<std::string> names;
        for (const auto& [known, length] : kRhythms) {
            if (name == known) {
                out.note = Duration{length};
                return;
            }
            names.emplace_back(known);
        }
        const std::string near = nearest(name, names);
        fail(member->where, "no rhythm is called '" + name + "'",
             near.empty() ? "rhythms: " + join(names, ", ") : "did you mean '" + near + "'?");
    }

    void read_cells(DrillTemplate& out) {
        out.rising = cells("rising");
        out.falling = entry_.find("falling") != nullptr ? cells("falling") : out.rising;
        walk("up", out.rising_from, out.rising_to);
        walk("down", out.falling_from, out.falling_to);
        if (const Data* member = entry_.find("end"); member != nullptr) {
            CellFault fault;
            const std::string typed = member->as_string().value_or("");
            const std::optional<Cell> end = parse_cell(typed, fault);
            if (!end || end->size() != 1 || end->front().kind != CellNote::Kind::Degree) {
                fail(member->where, "'end' must be one degree, as \"1\" or \"1'\"");
            } else {
                out.end = end->front().steps;
            }
        }
    }

    std::vector<Cell> cells(const char* key) {
        std::vector<Cell> out;
        const Data* member = entry_.find(key);
        if (member == nullptr) {
            fail(entry_.where, std::string{"this drill has no '"} + key + "'", "give it a cell, as \"1 3\"");
            return out;
        }
        const Data::Array one{*member};
        const Data::Array& list = member->as_array() != nullptr ? *member->as_array() : one;
        for (const Data& typed : list) {
            CellFault fault;
            const std::string content = typed.as_string().value_or("");
            std::optional<Cell> cell = parse_cell(content, fault);
            if (!cell) {
                // The text begins behind its quotation mark.
                fail({typed.where.begin + 1 + fault.begin, typed.where.begin + 1 + fault.end}, fault.message,
                     fault.hint);
                continue;
            }
            out.push_back(std::move(*cell));
        }
        return out;
    }

    void walk(const char* key, WalkEdge& from, WalkEdge& to) {
        const Data* member = entry_.find(key);
        if (member == nullptr || parse_walk(member->as_string().value_or(""), from, to)) return;
        fail(member->where,
             std::string{"'"} + key +
                 "' must say from where to where, as \"bottom to top\" or \"top-1 to bottom\"");
    }

    const SourceText& source_;
    const Data& entry_;
    Diagnostics& diagnostics_;
    bool failed_ = false;
};

}  // namespace

std::vector<DrillTemplate> read_drill_templates(const SourceText& source, Diagnostics& diagnostics) {
    std::vector<DrillTemplate> out;
    const std::optional<Data> data = read_toml(source, diagnostics);
    const Data* list = data ? data->find("drill") : nullptr;
    if (list == nullptr || list->as_array() == nullptr) {
        if (data) diagnostics.error(source, {}, "no [[drill]] entry in this file");
        return out;
    }
    std::set<std::string> ids;
    for (const Data& entry : *list->as_array()) {
        auto drill = EntryReader{source, entry, diagnostics}.read();
        if (!drill) continue;
        if (!ids.insert(drill->id).second) {
            diagnostics.error(source, entry.find("id")->where, "two drills are called '" + drill->id + "'");
            continue;
        }
        out.push_back(std::move(*drill));
    }
    return out;
}

const std::vector<DrillTemplate>& drill_templates() {
    static const std::vector<DrillTemplate> kTemplates = [] {
        Diagnostics diagnostics;
        const SourceText source{"drills.toml", std::string{embedded_template("drills.toml")}};
        std::vector<DrillTemplate> out = read_drill_templates(source, diagnostics);
        assert(!diagnostics.has_errors());  // a test reads the shipped file
        return out;
    }();
    return kTemplates;
}

const DrillTemplate* find_drill(std::string_view name) {
    const std::string key = slug(name);
    for (const DrillTemplate& drill : drill_templates()) {
        if (drill.id == key) return &drill;
    }
    return nullptr;
}

std::vector<std::string> drill_names() {
    std::vector<std::string> out;
    for (const DrillTemplate& drill : drill_templates()) out.push_back(drill.id);
    return out;
}

}  // namespace shedbook
