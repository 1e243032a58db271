#include "levels.h"

#include <algorithm>
#include <cassert>
#include <map>

#include "shedbook/base/text.h"
#include "shedbook/io/data.h"
#include "shedbook/io/embedded.h"

namespace shedbook {
namespace {

struct KindFile {
    std::vector<EtudeKind> kinds;
    std::map<std::string, std::vector<EtudeLevel>, std::less<>> levels;
};

int whole(const Data& entry, const char* key, int absent) {
    const Data* value = entry.find(key);
    return value == nullptr ? absent : static_cast<int>(value->as_int().value_or(absent));
}

EtudeLevel read_level(const Data& entry) {
    EtudeLevel out;
    const std::string note = entry.find("note")->as_string().value_or("1/8");
    out.note = Duration{Rational{1, std::stoi(note.substr(note.find('/') + 1))}};
    out.span = whole(entry, "span", 0);
    out.ornament = whole(entry, "ornament", 0);
    out.leap = whole(entry, "leap", out.leap);
    if (const Data* outside = entry.find("outside")) out.outside = outside->as_bool().value_or(true);
    if (const Data* demand = entry.find("demand")) out.demand = demand->as_number().value_or(0);
    if (const Data* plain = entry.find("plain")) out.plain = plain->as_number().value_or(0);
    return out;
}

KindFile read_kinds() {
    Diagnostics diagnostics;
    const SourceText source{"etudes.toml", std::string{embedded_template("etudes.toml")}};
    const std::optional<Data> data = read_toml(source, diagnostics);
    assert(data && !diagnostics.has_errors());  // a test reads every kind
    KindFile out;
    for (const Data& entry : *data->find("kind")->as_array()) {
        EtudeKind& kind = out.kinds.emplace_back();
        kind.id = entry.find("id")->as_string().value_or("");
        kind.title = entry.find("title")->as_string().value_or("");
        const Data* on_bars = entry.find("title-on-bars");
        kind.title_on_bars = on_bars == nullptr ? kind.title : on_bars->as_string().value_or("");
        kind.about = entry.find("about")->as_string().value_or("");
        kind.narrowest = whole(entry, "narrowest", kind.narrowest);
        for (const Data& level : *entry.find("levels")->as_array()) {
            kind.levels.push_back(level.find("says")->as_string().value_or(""));
            out.levels[kind.id].push_back(read_level(level));
        }
        assert(kind.levels.size() == kHighestLevel);
    }
    return out;
}

const KindFile& kind_file() {
    static const KindFile kFile = read_kinds();
    return kFile;
}

}  // namespace

const std::vector<EtudeKind>& etude_kinds() {
    return kind_file().kinds;
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

bool fits(const EtudeKind& kind, const PitchRange& range) {
    return range.high.midi() - range.low.midi() >= kind.narrowest;
}

const EtudeLevel& etude_level(const EtudeRequest& request) {
    const auto at = kind_file().levels.find(request.kind);
    assert(at != kind_file().levels.end());
    return at->second[static_cast<std::size_t>(std::clamp(request.level, 1, kHighestLevel) - 1)];
}

PitchRange range_at(const EtudeLevel& level, PitchRange range) {
    return middle_part(range, level.span == 0 ? kWidestLine : level.span);
}

PitchRange middle_part(PitchRange range, int span) {
    const int low = range.low.midi();
    const int high = range.high.midi();
    if (high - low <= span) return range;
    return part_from(range, (high - low - span) / 2, span);
}

PitchRange part_from(PitchRange range, int above, int span) {
    const int low = range.low.midi() + above;
    const auto pitch = [](int midi) { return Pitch{simplest_name(midi % 12), midi / 12 - 1}; };
    return {pitch(low), pitch(low + span)};
}

}  // namespace shedbook
