#include <pugixml.hpp>
#include <stdexcept>
#include <string>
#include <utility>

#include "../form_words.h"
#include "../score_bars.h"
#include "../score_messages.h"
#include "score_document.h"
#include "score_measures.h"
#include "score_parts.h"
#include "score_words.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

std::string composer_of(pugi::xml_node score) {
    std::string first;
    for (const pugi::xml_node creator : score.child("identification").children("creator")) {
        std::string name = plain_words(creator.text().get());
        if (std::string_view{creator.attribute("type").value()} == "composer") return name;
        if (first.empty() && creator.attribute("type").empty()) first = name;
    }
    return first;
}

std::string title_of(pugi::xml_node score) {
    const std::string work = plain_words(score.child("work").child("work-title").text().get());
    return work.empty() ? plain_words(score.child("movement-title").text().get()) : work;
}

std::optional<Chart> chart_of(const ScorePart& part, pugi::xml_node score, const std::string& file,
                              Diagnostics& diagnostics) {
    ScoreMessages messages{file, part.id, diagnostics};
    if (part.measures.size() > static_cast<std::size_t>(kMostWrittenBars)) {
        messages.error(kMostWrittenBars, {}, "more than " + std::to_string(kMostWrittenBars) + " bars", {});
        return std::nullopt;
    }
    MeasureReader reader{messages};
    std::vector<ScoreBar> bars;
    for (const ScoreMeasure& measure : part.measures) {
        bars.push_back(reader.read(measure, static_cast<int>(bars.size())));
    }
    Chart chart;
    chart.title = title_of(score);
    chart.composer = composer_of(score);
    chart.key = reader.header().key;
    chart.key_is_signature_only = chart.key.has_value();
    chart.meter = reader.header().meter;
    chart.tempo = reader.header().tempo;
    chart.feel = reader.header().feel;
    if (reader.header().to_concert != Interval{}) {
        messages.note(
            (part.name.empty() ? "this part" : "'" + part.name + "'") + " is in transposed pitch",
            "symbols and notes are moved to concert pitch, by " + interval_name(reader.header().to_concert));
    }
    if (!put_into_chart(std::move(bars), chart, messages)) return std::nullopt;
    return chart;
}

}  // namespace

std::optional<Chart> read_lead_sheet(const std::string& name, const std::string& xml,
                                     const ReadOptions& options, Diagnostics& diagnostics) {
    pugi::xml_document document;
    if (!load_score(document, name, xml, diagnostics)) return std::nullopt;
    const pugi::xml_node score = document.document_element();
    const std::vector<ScorePart> parts = score_parts(score);
    const ScorePart* part = choose_part(parts, options.part, name, diagnostics);
    if (part == nullptr) return std::nullopt;
    try {
        return chart_of(*part, score, name, diagnostics);
    } catch (const std::overflow_error&) {
        diagnostics.error_at(name, "the lengths of its notes cannot be added up",
                             "it changes its divisions too often to be a real score");
        return std::nullopt;
    }
}

}  // namespace shedbook
