#include "chart_json_members.h"

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

struct PartRow {
    std::string_view name;
    std::string_view members;  // "order", "root", "bass" and "pcs" are written, and follow from the rest
};

// By JsonPart.
constexpr std::array<PartRow, 7> kParts{{
    {"a chart",
     "id title composer key meter tempo feel written_for headers comments sections closing_comments order "
     "bar_meters type"},
    {"a key", "tonic mode signature_only"},
    {"a meter of a bar", "bar meter"},
    {"a section", "label bars comments remark"},
    {"a bar",
     "chords meter key pickup length simile repeat times ending ending_start jump segno coda to_coda fine "
     "double_bar melody comments remark"},
    {"a chord", "beat symbol root bass pcs push optional scale"},
    {"a note", "beat length pitch tie"},
}};

}  // namespace

void JsonMembers::check(const Data& data, JsonPart part) {
    const Data::Object* object = data.as_object();
    if (object == nullptr) return;
    const PartRow& row = kParts[static_cast<std::size_t>(part)];
    const std::vector<std::string_view> known = split(row.members, ' ');
    for (const auto& [name, value] : *object) {
        if (std::ranges::find(known, name) != known.end()) continue;
        if (!said_.emplace(part, name).second) continue;
        const std::string near = nearest(name, {known.begin(), known.end()});
        diagnostics_.warning(
            source_, value.where, std::string{row.name} + " has no field '" + name + "'",
            (near.empty() ? "" : "did you mean '" + near + "'? ") + std::string{"it is left out"});
    }
}

}  // namespace shedbook
