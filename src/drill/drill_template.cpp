#include "shedbook/drill/drill_template.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <functional>
#include <map>
#include <mutex>
#include <set>
#include <utility>

#include "pattern_text.h"
#include "shedbook/base/text.h"
#include "shedbook/io/data.h"
#include "shedbook/io/own_templates.h"
#include "template_reader.h"

namespace shedbook {
namespace {

template <class Entry>
const Entry* find_in(const std::vector<Entry>& list, std::string_view name) {
    const std::string key = slug(name);  // ids are slugs: read_list makes them so
    for (const Entry& entry : list) {
        if (entry.id == key) return &entry;
    }
    return nullptr;
}

// Reads the entries of one kind of table into a list; an id may stand once in a file and replaces an older
// one.
template <class Entry, class Read>
std::vector<std::string> read_list(std::vector<Entry>& list, const SourceText& source, const Data* entries,
                                   const std::string& what, Diagnostics& diagnostics, const Read& read) {
    std::vector<std::string> ids;
    if (entries == nullptr) return ids;
    if (entries->as_array() == nullptr) {
        diagnostics.error(source, entries->where, "entries are written [[" + what + "]], in two brackets");
        return ids;
    }
    std::set<std::string> seen;
    for (const Data& data : *entries->as_array()) {
        std::optional<Entry> entry = read(data);
        if (!entry) continue;
        entry->id = slug(entry->id);
        if (!seen.insert(entry->id).second) {
            diagnostics.error(source, data.find("id")->where,
                              "two " + what + "s are called '" + entry->id + "'");
            continue;
        }
        ids.push_back(entry->id);
        const auto old = std::ranges::find(list, entry->id, &Entry::id);
        if (old != list.end()) {
            *old = std::move(*entry);
        } else {
            list.push_back(std::move(*entry));
        }
    }
    return ids;
}

// What a compound bar has three of by itself is written as eighths there, not as triplets.
Rhythm in_compound(Rhythm rhythm) {
    for (RhythmStep& step : rhythm) {
        if (is_tuplet(step.length)) step.length = step.length * Rational{3, 2};
    }
    return rhythm;
}

// Whether a cell ends with neighbours that lead to the first note of the next one.
bool leads_on(const DrillCell& cell) {
    return !cell.empty() && cell.back().kind == CellNote::Kind::Neighbour &&
           cell.back().target == CellNote::Target::Next;
}

// Cells of so many eighths fill bars of fours. In threes they get a rhythm that lets the note they lead to
// fall on the first beat of a bar, or of a group (common practice, no source).
struct LeadingRhythm {
    bool is_compound;
    std::size_t notes;
    std::string_view rhythm;
};
constexpr std::array<LeadingRhythm, 5> kLeadingRhythms{{
    {false, 4, "1/4 1/4 1/8 1/8"},
    {false, 8, "1/4 1/8 1/8 1/8 1/8 1/2 1/8 1/8"},
    {true, 2, "1/4 1/8"},
    {true, 4, "1/4 1/8"},
    {true, 8, "1/4 1/8"},
}};

void lead_to_strong_beats(DrillTemplate& drill) {
    const bool is_three = drill.meter == Meter{3, 4};
    if (drill.rising.empty() || !leads_on(drill.rising.front()) || drill.rhythm != Rhythm{{kEighth}}) return;
    for (const LeadingRhythm& row : kLeadingRhythms) {
        const bool is_meant = row.is_compound ? drill.meter.is_compound() : is_three;
        if (!is_meant || row.notes != drill.rising.front().size()) continue;
        PatternFault none;
        drill.rhythm = parse_rhythm(row.rhythm, none).value_or(drill.rhythm);
        return;
    }
}

// The value of a field in the text of one entry: what stands between its quotation marks.
std::string_view field_in(std::string_view entry, std::string_view key) {
    const std::string start = "\n" + std::string{key} + " = \"";
    const std::size_t at = entry.find(start);
    if (at == std::string_view::npos) return {};
    const std::size_t begin = at + start.size();
    return entry.substr(begin, entry.find('"', begin) - begin);
}

// The shipped file read entry by entry, as drills are asked for: a book needs ten of them, and reading them
// all takes longer than writing a short sheet.
class ShippedEntries {
  public:
    ShippedEntries() {
        const std::string_view text = embedded_template("drills.toml");
        std::string others;  // rhythms and articulations
        for (std::size_t at = text.find("\n[["); at != std::string_view::npos;) {
            const std::size_t next = text.find("\n[[", at + 1);
            const std::string_view entry = text.substr(at, next - at);
            if (entry.starts_with("\n[[drill]]")) {
                entries_.emplace(field_in(entry, "id"), entry);
            } else {
                others += entry;
            }
            at = next;
        }
        read(others);
    }

    // Several threads may ask at once.
    const DrillTemplate* find(const std::string& id) {
        const std::lock_guard hold{guard_};
        return known_or_read(id);
    }

  private:
    const DrillTemplate* known_or_read(const std::string& id) {
        if (const auto known = drills_.find(id); known != drills_.end()) return &known->second;
        const auto entry = entries_.find(id);
        if (entry == entries_.end()) return nullptr;
        const std::string_view model = field_in(entry->second, "like");
        if (!model.empty()) static_cast<void>(known_or_read(std::string{model}));
        read(entry->second);
        return &drills_.emplace(id, *library_.find_drill(id)).first->second;
    }

    void read(std::string_view text) {
        Diagnostics diagnostics;
        read_into(library_, SourceText{"drills.toml", std::string{text}}, diagnostics);
        assert(!diagnostics.has_errors());  // a test reads the shipped file
    }

    std::mutex guard_;
    std::map<std::string, std::string_view, std::less<>> entries_;
    DrillLibrary library_;
    std::map<std::string, DrillTemplate> drills_;  // they stay where they are
};

}  // namespace

const DrillTemplate* DrillLibrary::find_drill(std::string_view name) const {
    return find_in(drills, name);
}
const NamedRhythm* DrillLibrary::find_rhythm(std::string_view name) const {
    return find_in(rhythms, name);
}
const NamedArticulation* DrillLibrary::find_articulation(std::string_view name) const {
    return find_in(articulations, name);
}

std::vector<std::string> read_into(DrillLibrary& library, const SourceText& source,
                                   Diagnostics& diagnostics) {
    const std::optional<Data> data = read_toml(source, diagnostics);
    if (!data) return {};
    check_kinds(source, *data, diagnostics);
    // Rhythms and articulations first, for the drills may name them.
    const auto reader = [&](const Data& entry, const char* what) {
        return EntryReader{source, entry, what, library, diagnostics};
    };
    read_list(library.rhythms, source, data->find("rhythm"), "rhythm", diagnostics,
              [&](const Data& entry) { return reader(entry, "rhythm").read_rhythm(); });
    read_list(library.articulations, source, data->find("articulation"), "articulation", diagnostics,
              [&](const Data& entry) { return reader(entry, "articulation").read_articulation(); });
    return read_list(library.drills, source, data->find("drill"), "drill", diagnostics,
                     [&](const Data& entry) { return reader(entry, "drill").read_drill(); });
}

std::vector<DrillTemplate> read_drill_templates(const SourceText& source, Diagnostics& diagnostics) {
    DrillLibrary library = shipped_drills();
    std::vector<DrillTemplate> out;
    for (const std::string& id : read_into(library, source, diagnostics)) {
        out.push_back(*library.find_drill(id));
    }
    return out;
}

const DrillLibrary& shipped_drills() {
    static const DrillLibrary kLibrary = [] {
        Diagnostics diagnostics;
        DrillLibrary out;
        read_into(out, SourceText{"drills.toml", std::string{embedded_template("drills.toml")}}, diagnostics);
        assert(!diagnostics.has_errors());  // a test reads the shipped file
        for (const SourceText& file : own_templates()) read_into(out, file, diagnostics);
        return out;
    }();
    return kLibrary;
}

const std::vector<DrillTemplate>& drill_templates() {
    return shipped_drills().drills;
}

const DrillTemplate* find_drill(std::string_view name) {
    if (!own_templates().empty()) return shipped_drills().find_drill(name);
    static ShippedEntries entries;
    return entries.find(slug(name));
}

std::vector<std::string> own_drills() {
    if (own_templates().empty()) return {};
    DrillLibrary library = shipped_drills();
    std::vector<std::string> out;
    Diagnostics said;  // by whoever named the files
    for (const SourceText& file : own_templates()) {
        for (std::string& id : read_into(library, file, said)) out.push_back(std::move(id));
    }
    return out;
}

std::vector<std::string> drill_names() {
    std::vector<std::string> out;
    for (const DrillTemplate& drill : drill_templates()) out.push_back(drill.id);
    return out;
}

std::optional<Rhythm> rhythm_called(std::string_view text, const DrillLibrary& library, std::string& fault) {
    if (const NamedRhythm* named = library.find_rhythm(text)) return named->rhythm;
    PatternFault where;
    std::optional<Rhythm> out = parse_rhythm(text, where);
    if (out) return out;
    std::vector<std::string> known = rhythm_words();
    for (const NamedRhythm& rhythm : library.rhythms) known.push_back(rhythm.id);
    const std::string near = nearest(text, known);
    if (!near.empty()) {
        fault = "no rhythm is called '" + std::string{text} + "'; did you mean '" + near + "'?";
    } else {
        fault = where.message + (where.hint.empty() ? "" : "; " + where.hint);
    }
    return std::nullopt;
}

std::optional<ArticulationPattern> articulation_called(std::string_view text, const DrillLibrary& library,
                                                       std::string& fault) {
    if (const NamedArticulation* named = library.find_articulation(text)) return named->pattern;
    PatternFault where;
    std::optional<ArticulationPattern> out = parse_articulation(text, where);
    if (out) return out;
    std::vector<std::string> known;
    for (const NamedArticulation& one : library.articulations) known.push_back(one.id);
    const std::string near = nearest(text, known);
    if (!near.empty()) {
        fault = "no articulation is called '" + std::string{text} + "'; did you mean '" + near + "'?";
    } else {
        fault = where.message + (where.hint.empty() ? "" : "; " + where.hint);
    }
    return std::nullopt;
}

DrillTemplate in_setting(DrillTemplate drill, const DrillSetting& setting) {
    const auto remark = [&](const char* text) {
        drill.remark += (drill.remark.empty() ? "" : ", ") + std::string{text};
    };
    if (setting.rhythm) drill.rhythm = *setting.rhythm;
    if (setting.meter) drill.meter = *setting.meter;
    if (setting.meter && !setting.rhythm) lead_to_strong_beats(drill);
    if (drill.meter.is_compound()) drill.rhythm = in_compound(std::move(drill.rhythm));
    if (setting.articulation) drill.articulation = *setting.articulation;
    if (setting.displaced) {
        if (*setting.displaced % 2 != 0 && has_tuplets(drill.rhythm)) {
            remark("in triplets, so not moved by half a beat");
        } else {
            drill.displaced = *setting.displaced;
        }
    }
    if (setting.in_every_octave) drill.in_every_octave = true;
    if (setting.keeps_start) drill.keeps_start = true;
    return drill;
}

}  // namespace shedbook
