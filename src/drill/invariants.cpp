#include "shedbook/drill/invariants.h"

#include <algorithm>

#include "pattern_text.h"
#include "shedbook/io/fields.h"

namespace shedbook {
namespace {

constexpr int kLargestGroup = 64;

void read_shape(Fields& fields, DrillInvariants& out) {
    const Data* member = fields.find("shape");
    if (member == nullptr) return;
    const std::string typed = member->as_string().value_or(" ");
    if (typed.empty()) return out.shape.clear();  // none, where a drill is like one that has it
    PatternFault fault;
    const auto cell = parse_cell(typed, fault);
    std::vector<int> shape;
    bool is_plain = cell.has_value();
    for (const CellNote& note : cell.value_or(DrillCell{})) {
        is_plain = is_plain && note.kind == CellNote::Kind::Degree && note.octaves == 0;
        shape.push_back(note.steps);
    }
    if (!is_plain || shape.front() != 0 || !std::ranges::is_sorted(shape)) {
        return fields.fail(member->where, "'shape' must be rising degrees over the lowest note",
                           "as \"1 3 5\", \"1 6 10\"");
    }
    out.shape = std::move(shape);
}

std::optional<Duration> length_field(Fields& fields, const char* key, std::optional<Duration> if_absent) {
    const Data* member = fields.find(key);
    if (member == nullptr) return if_absent;
    PatternFault fault;
    const auto rhythm = parse_rhythm(member->as_string().value_or(""), fault);
    if (rhythm && rhythm->size() == 1 && !rhythm->front().is_rest) return rhythm->front().length;
    fields.fail(member->where, std::string{"'"} + key + "' must be one length",
                "as \"1/4\", \"whole notes\"");
    return if_absent;
}

}  // namespace

bool read_invariants(const SourceText& source, const Data& table, DrillInvariants& out,
                     Diagnostics& diagnostics) {
    if (table.as_object() == nullptr) {
        diagnostics.error(source, table.where, "'keeps' must be a table",
                          "as { group = 2, shape = \"1 3\" }");
        return false;
    }
    Fields fields{source, table, "'keeps'", diagnostics};
    out.tones = fields.word("tones", out.tones);
    out.group = fields.number("group", 0, kLargestGroup, out.group);
    read_shape(fields, out);
    out.moves = fields.word("moves", out.moves);
    out.targets = fields.word("targets", out.targets);
    out.direction = fields.word("direction", out.direction);
    out.mirror = fields.flag("mirror", out.mirror);
    out.steps = fields.word("steps", out.steps);
    if (fields.find("turns") != nullptr) out.turns = fields.number("turns", 0, kLargestGroup);
    out.home = fields.word("home", out.home);
    out.beat = length_field(fields, "beat", out.beat);
    out.meets = fields.number("meets", 0, kLargestGroup, out.meets);
    out.lead = fields.number("lead", 0, kLargestGroup, out.lead);
    out.lead_from = fields.word("lead-from", out.lead_from);
    out.lead_by = fields.word("lead-by", out.lead_by);
    out.notes = length_field(fields, "notes", out.notes);
    out.span = fields.number("span", 0, 15, out.span);
    out.through_range = fields.flag("through-range", out.through_range);
    out.heard = fields.number("heard", 0, 12, out.heard);
    const bool needs_group = !out.shape.empty() || out.lead > 0 || out.meets > 0 || out.beat || out.mirror ||
                             out.span > 0 || out.direction != DrillInvariants::Direction::Free ||
                             out.moves != DrillInvariants::Among::Free ||
                             out.targets != DrillInvariants::Among::Free;
    if (needs_group && out.group == 0 && !fields.has_failed()) {
        fields.fail(table.where, "'keeps' speaks of groups and does not say how large they are",
                    "add group = 2, or 3 ...");
    }
    const auto shaped = static_cast<std::size_t>(std::max(0, out.group - out.lead));
    if (!out.shape.empty() && out.shape.size() != shaped && !fields.has_failed()) {
        fields.fail(table.find("shape") != nullptr ? table.find("shape")->where : table.where,
                    "'shape' has " + std::to_string(out.shape.size()) + " notes and a group " +
                        std::to_string(shaped),
                    "write as many degrees as the group has notes");
    }
    return fields.finish();
}

}  // namespace shedbook
