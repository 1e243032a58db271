#include "template_reader.h"

#include <algorithm>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/drill/material.h"

namespace shedbook {
namespace {

const std::vector<std::string> kDrillFields{
    "id",       "title",    "about",     "family",       "like",   "level", "form",    "walk",
    "order",    "ends",     "start",     "every",        "rising", "turn",  "falling", "up",
    "down",     "end",      "rhythm",    "cells",        "notes",  "meter", "octave",  "octaves",
    "material", "displace", "inversion", "articulation", "count",  "begin", "keeps"};
const std::vector<std::string> kRhythmFields{"id", "about", "level", "lengths"};
const std::vector<std::string> kArticulationFields{"id", "about", "level", "marks"};

}  // namespace

void EntryReader::fail_inside(const Data& member, const PatternFault& fault) {
    // The text begins behind its quotation mark.
    fields_.fail({member.where.begin + 1 + fault.begin, member.where.begin + 1 + fault.end}, fault.message,
                 fault.hint);
}

void EntryReader::text(const char* key, std::string& value, bool needed) {
    value = needed ? fields_.text(key) : fields_.text(key, value);
}

void EntryReader::number(const char* key, int& value, int low, int high) {
    value = fields_.number(key, low, high, value);
}

std::optional<DrillTemplate> EntryReader::read_drill() {
    fields_.allow_only(kDrillFields);
    DrillTemplate out;
    read_like(out);
    text("id", out.id, true);
    text("title", out.title, true);
    text("about", out.about);
    text("family", out.family);
    number("level", out.level, 1, 6);
    out.form = fields_.word("form", out.form);
    out.walk = fields_.word("walk", out.walk);
    out.order = fields_.word("order", out.order);
    out.ends = fields_.word("ends", out.ends);
    out.holds_cells = fields_.either("cells", "joined", "held", out.holds_cells);
    out.in_every_octave = fields_.either("octave", "best", "all", out.in_every_octave);
    out.counts_notes = fields_.either("count", "degrees", "notes", out.counts_notes);
    out.keeps_start = fields_.either("begin", "chord tone", "start", out.keeps_start);
    number("start", out.start, 1, 7);
    number("octaves", out.octaves, 1, 3);
    number("every", out.every, 1, 7);
    number("notes", out.fewest_notes, 1, 12);
    read_material(out);
    read_rhythm_field(out);
    read_articulation_field(out);
    read_meter(out);
    read_displaced(out);
    read_cells(out);
    if (const Data* keeps = entry_.find("keeps"))
        is_fine_ = read_invariants(source_, *keeps, out.keeps, diagnostics_);
    if (!is_fine_ || fields_.has_failed()) return std::nullopt;
    return in_setting(std::move(out), {});
}

std::optional<NamedRhythm> EntryReader::read_rhythm() {
    fields_.allow_only(kRhythmFields);
    NamedRhythm out;
    text("id", out.id, true);
    text("about", out.about);
    number("level", out.level, 1, 6);
    std::string typed;
    text("lengths", typed, true);
    if (fields_.has_failed()) return std::nullopt;
    PatternFault fault;
    std::optional<Rhythm> rhythm = parse_rhythm(typed, fault);
    if (!rhythm) {
        fail_inside(*entry_.find("lengths"), fault);
        return std::nullopt;
    }
    out.rhythm = std::move(*rhythm);
    return out;
}

std::optional<NamedArticulation> EntryReader::read_articulation() {
    fields_.allow_only(kArticulationFields);
    NamedArticulation out;
    text("id", out.id, true);
    text("about", out.about);
    number("level", out.level, 1, 6);
    std::string typed;
    text("marks", typed, true);
    if (fields_.has_failed()) return std::nullopt;
    PatternFault fault;
    std::optional<ArticulationPattern> pattern = parse_articulation(typed, fault);
    if (!pattern) {
        fail_inside(*entry_.find("marks"), fault);
        return std::nullopt;
    }
    out.pattern = std::move(*pattern);
    return out;
}

void EntryReader::read_like(DrillTemplate& out) {
    const Data* member = entry_.find("like");
    if (member == nullptr) return;
    const std::string typed = member->as_string().value_or("");
    if (const DrillTemplate* model = library_.find_drill(typed)) {
        out = *model;
        out.id.clear();
        return;
    }
    std::vector<std::string> known;
    for (const DrillTemplate& drill : library_.drills) known.push_back(drill.id);
    fields_.fail_unknown(member->where, "drill before this one", typed, known,
                         "'shedbook list drills' names them");
}

void EntryReader::read_material(DrillTemplate& out) {
    const Data* member = entry_.find("material");
    if (member == nullptr) return;
    const std::string typed = member->as_string().value_or("");
    const std::vector<std::string> known = material_names();
    if (std::ranges::find(known, typed) == known.end()) {
        return fields_.fail_unknown(member->where, "material", typed, known,
                                    "materials: " + join(known, ", "));
    }
    out.material = typed;
}

void EntryReader::read_rhythm_field(DrillTemplate& out) {
    const Data* member = entry_.find("rhythm");
    if (member == nullptr) return;
    const std::string typed = member->as_string().value_or("");
    if (const NamedRhythm* named = library_.find_rhythm(typed)) {
        out.rhythm = named->rhythm;
        return;
    }
    PatternFault fault;
    if (std::optional<Rhythm> rhythm = parse_rhythm(typed, fault)) {
        out.rhythm = std::move(*rhythm);
        return;
    }
    if (typed.find('/') != std::string::npos) return fail_inside(*member, fault);
    std::vector<std::string> known = rhythm_words();
    for (const NamedRhythm& rhythm : library_.rhythms) known.push_back(rhythm.id);
    fields_.fail_unknown(member->where, "rhythm", typed, known, "rhythms: " + join(known, ", "));
}

void EntryReader::read_articulation_field(DrillTemplate& out) {
    const Data* member = entry_.find("articulation");
    if (member == nullptr) return;
    const std::string typed = member->as_string().value_or("");
    if (const NamedArticulation* named = library_.find_articulation(typed)) {
        out.articulation = named->pattern;
        return;
    }
    PatternFault fault;
    if (std::optional<ArticulationPattern> pattern = parse_articulation(typed, fault)) {
        out.articulation = std::move(*pattern);
        return;
    }
    std::vector<std::string> known;
    for (const NamedArticulation& one : library_.articulations) known.push_back(one.id);
    const std::string near = nearest(typed, known);
    if (near.empty()) return fail_inside(*member, fault);
    fields_.fail(member->where, "no articulation is called '" + typed + "'", "did you mean '" + near + "'?");
}

void EntryReader::read_meter(DrillTemplate& out) {
    const Data* member = entry_.find("meter");
    if (member == nullptr) return;
    const std::optional<Meter> meter = parse_meter(member->as_string().value_or(""));
    if (!meter) {
        return fields_.fail(member->where, "'meter' must be a meter",
                            "as \"3/4\", \"12/8\", or with its groups \"3+2/4\"");
    }
    out.meter = *meter;
}

void EntryReader::read_displaced(DrillTemplate& out) {
    const Data* member = entry_.find("displace");
    if (member == nullptr) return;
    int eighths = 0;
    number("displace", eighths, 0, 7);
    if (eighths % 2 != 0 && has_tuplets(out.rhythm)) {
        return fields_.fail(member->where, "triplets are moved by whole beats", "2, 4 or 6 eighths");
    }
    out.displaced = eighths;
}

void EntryReader::read_cells(DrillTemplate& out) {
    auto rising = cells("rising");
    auto falling = cells("falling");
    auto turn = cells("turn");
    if (rising && !falling) falling = rising;
    if (rising) out.rising = std::move(*rising);
    if (falling) out.falling = std::move(*falling);
    if (turn && !turn->empty()) out.turn = turn->front();
    if (out.rising.empty() && !fields_.has_failed()) {
        if (out.form == DrillTemplate::Form::Cells) {
            return fields_.fail(entry_.where, "this drill has no 'rising'", "give it a cell, as \"1 3\"");
        }
        out.rising = out.falling = {DrillCell{CellNote{}}};
    }
    if (out.form == DrillTemplate::Form::Range && entry_.find("like") == nullptr) {
        // Through the range and home, no note of the turn twice.
        out.falling_from = {.from_top = true, .offset = -1};
        out.falling_to = {.from_top = false, .offset = 1};
        out.end = CellNote{};
    }
    walk("up", out.rising_from, out.rising_to);
    walk("down", out.falling_from, out.falling_to);
    read_end(out);
    int inversion = 0;
    number("inversion", inversion, 0, 6);
    for (auto* list : {&out.rising, &out.falling}) {
        for (DrillCell& cell : *list) {
            const bool plain = std::ranges::all_of(cell, [](const CellNote& note) {
                return note.kind == CellNote::Kind::Degree || note.kind == CellNote::Kind::ChordTone;
            });
            if (inversion > 0 && !plain) {
                return fields_.fail(entry_.find("inversion")->where,
                                    "only degrees and chord tones can be inverted",
                                    "write the cell as it is to be played");
            }
            cell = inverted(cell, inversion);
        }
    }
}

void EntryReader::read_end(DrillTemplate& out) {
    const Data* member = entry_.find("end");
    if (member == nullptr) return;
    PatternFault fault;
    const std::string typed = member->as_string().value_or("");
    if (typed == "none") {
        out.end.reset();
        return;
    }
    const std::optional<DrillCell> end = parse_cell(typed, fault);
    if (!end || end->size() != 1 || end->front().kind != CellNote::Kind::Degree) {
        return fields_.fail(member->where, "'end' must be one degree, as \"1\" or \"1'\", or \"none\"");
    }
    out.end = end->front();
}

std::optional<std::vector<DrillCell>> EntryReader::cells(const char* key) {
    const Data* member = entry_.find(key);
    if (member == nullptr) return std::nullopt;
    std::vector<DrillCell> out;
    const Data::Array one{*member};
    const Data::Array& list = member->as_array() != nullptr ? *member->as_array() : one;
    for (const Data& typed : list) {
        PatternFault fault;
        const std::string content = typed.as_string().value_or("");
        if (std::optional<DrillCell> cell = parse_cell(content, fault)) {
            out.push_back(std::move(*cell));
        } else {
            fail_inside(typed, fault);
        }
    }
    if (list.empty()) fields_.fail(member->where, std::string{"'"} + key + "' has no cell in it");
    return out;
}

void EntryReader::walk(const char* key, WalkEdge& from, WalkEdge& to) {
    const Data* member = entry_.find(key);
    if (member == nullptr || parse_walk(member->as_string().value_or(""), from, to)) return;
    fields_.fail(member->where,
                 std::string{"'"} + key +
                     "' must say from where to where, as \"bottom to top\" or \"top-1 to bottom\"");
}

}  // namespace shedbook
