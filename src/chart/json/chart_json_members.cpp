#include "chart_json_members.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"
#include "shedbook/theory/form_sign.h"

namespace shedbook {
namespace {

struct PartRow {
    std::string_view name;
    std::string_view members;  // "order", "root", "bass" and "pcs" are written, and follow from the rest
};

constexpr PartRow kParts[] = {
    {"a chart",
     "id title composer key meter tempo feel written_for headers comments sections closing_comments order "
     "bar_meters type"},
    {"a key", "tonic mode signature_only"},
    {"a meter of a bar", "bar meter"},
    {"a section", "label bars comments remark"},
    {"a bar",
     "chords meter key pickup length simile repeat times ending ending_start double_bar melody comments "
     "remark"},
    {"a chord", "beat symbol root bass pcs push optional scale"},
    {"a note", "beat length pitch tie"},
};
static_assert(has_a_row_each<JsonPart>(kParts));

std::vector<std::string_view> members_of(JsonPart part) {
    std::vector<std::string_view> out = split(kParts[row_index(part)].members, ' ');
    if (part != JsonPart::Bar) return out;
    for (const FormSignRow& row : form_signs()) out.push_back(row.id);
    return out;
}

}  // namespace

void JsonMembers::check(const Data& data, JsonPart part) {
    const Data::Object* object = data.as_object();
    if (object == nullptr) return;
    const std::vector<std::string_view> known = members_of(part);
    for (const auto& [name, value] : *object) {
        if (std::ranges::find(known, name) != known.end()) continue;
        if (!said_.emplace(part, name).second) continue;
        const std::string near = nearest(name, {known.begin(), known.end()});
        diagnostics_.warning(
            source_, value.where, std::string{kParts[row_index(part)].name} + " has no field '" + name + "'",
            (near.empty() ? "" : "did you mean '" + near + "'? ") + std::string{"it is left out"});
    }
}

}  // namespace shedbook
