#include "shedbook/etude/etude.h"

#include <algorithm>
#include <array>
#include <cassert>

#include "lines.h"
#include "shedbook/base/text.h"
#include "shedbook/etude/through_changes.h"
#include "shedbook/io/data.h"
#include "shedbook/io/embedded.h"

namespace shedbook {
namespace {

ConcertLine scale_line(const EtudeGround& ground, const EtudeRequest&, PitchRange range) {
    return unbroken_scale_line(ground.spans, range);
}

struct Maker {
    std::string_view kind;
    ConcertLine (*make)(const EtudeGround&, const EtudeRequest&, PitchRange);
};
constexpr std::array kMakers{
    Maker{"unbroken-scale", scale_line},
    Maker{"composed", composed_line},
};

std::vector<EtudeKind> read_kinds() {
    Diagnostics diagnostics;
    const SourceText source{"etudes.toml", std::string{embedded_template("etudes.toml")}};
    const std::optional<Data> data = read_toml(source, diagnostics);
    assert(data && !diagnostics.has_errors());
    std::vector<EtudeKind> out;
    for (const Data& entry : *data->find("kind")->as_array()) {
        EtudeKind& kind = out.emplace_back();
        kind.id = entry.find("id")->as_string().value_or("");
        kind.title = entry.find("title")->as_string().value_or("");
        kind.about = entry.find("about")->as_string().value_or("");
        for (const Data& level : *entry.find("levels")->as_array())
            kind.levels.push_back(level.as_string().value_or(""));
        assert(kind.levels.size() == kHighestLevel);
    }
    return out;
}

}  // namespace

const std::vector<EtudeKind>& etude_kinds() {
    static const std::vector<EtudeKind> kKinds = read_kinds();
    return kKinds;
}

const EtudeKind* find_etude_kind(std::string_view name) {
    const std::string key = slug(name);
    const auto& kinds = etude_kinds();
    const auto at = std::ranges::find(kinds, key, &EtudeKind::id);
    return at == kinds.end() ? nullptr : &*at;
}

std::vector<std::string> etude_kind_names() {
    std::vector<std::string> out;
    for (const EtudeKind& kind : etude_kinds()) out.push_back(kind.id);
    return out;
}

ConcertLine make_etude(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    const auto maker = std::ranges::find(kMakers, request.kind, &Maker::kind);
    assert(maker != kMakers.end());
    return maker->make(ground, request, range);
}

std::string fault_of_cell(std::string_view cell) {
    return trimmed(cell).empty() ? "a cell needs a degree" : "";
}

}  // namespace shedbook
