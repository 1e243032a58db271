#include "score_parts.h"

#include <algorithm>
#include <map>
#include <string_view>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

int count_harmonies(pugi::xml_node content) {
    const auto found = content.children("harmony");
    return static_cast<int>(std::distance(found.begin(), found.end()));
}

void add_measure(ScorePart& part, pugi::xml_node head, pugi::xml_node content) {
    part.measures.push_back({head, content});
    part.harmonies += count_harmonies(content);
}

std::string called(const ScorePart& part) {
    return part.name.empty() ? "'" + part.id + "'" : "'" + part.id + "' (" + part.name + ")";
}

std::string list_of(const std::vector<ScorePart>& parts) {
    std::vector<std::string> names;
    names.reserve(parts.size());
    for (const ScorePart& part : parts) names.push_back(called(part));
    return "the parts are " + join(names, ", ");
}

}  // namespace

std::vector<ScorePart> score_parts(pugi::xml_node score) {
    std::vector<ScorePart> out;
    std::map<std::string, std::size_t> by_id;
    const auto part_of = [&](const std::string& id) -> ScorePart& {
        const auto [at, is_new] = by_id.try_emplace(id, out.size());
        if (is_new) out.push_back({id, {}, {}, 0});
        return out[at->second];
    };
    for (const pugi::xml_node listed : score.child("part-list").children("score-part")) {
        ScorePart& part = part_of(listed.attribute("id").value());
        part.name = std::string{trimmed(listed.child("part-name").text().get())};
        std::ranges::replace(part.name, '\n', ' ');
    }
    if (std::string_view{score.name()} == "score-timewise") {
        for (const pugi::xml_node measure : score.children("measure")) {
            for (const pugi::xml_node part : measure.children("part")) {
                add_measure(part_of(part.attribute("id").value()), measure, part);
            }
        }
    } else {
        for (const pugi::xml_node part : score.children("part")) {
            ScorePart& out_part = part_of(part.attribute("id").value());
            for (const pugi::xml_node measure : part.children("measure"))
                add_measure(out_part, measure, measure);
        }
    }
    std::erase_if(out, [](const ScorePart& part) { return part.measures.empty(); });
    return out;
}

const ScorePart* choose_part(const std::vector<ScorePart>& parts, const std::string& wanted,
                             const std::string& file, Diagnostics& diagnostics) {
    if (parts.empty()) {
        diagnostics.error_at(file, "the score has no measures", {});
        return nullptr;
    }
    if (!wanted.empty()) {
        for (const ScorePart& part : parts) {
            if (part.id == wanted || slug(part.name) == slug(wanted)) return &part;
        }
        diagnostics.error_at(file, "no part is called '" + wanted + "'", list_of(parts));
        return nullptr;
    }
    const ScorePart* best = &*std::ranges::max_element(parts, {}, &ScorePart::harmonies);
    const auto with_chords =
        std::ranges::count_if(parts, [](const ScorePart& part) { return part.harmonies > 0; });
    if (best->harmonies == 0) {
        diagnostics.warning_at(file, "there are no chord symbols in this score", {});
    } else if (with_chords > 1) {
        diagnostics.note_at(file,
                            std::to_string(with_chords) + " parts have chord symbols; part " + called(*best) +
                                " has the most and is taken",
                            list_of(parts));
    }
    return best;
}

}  // namespace shedbook
