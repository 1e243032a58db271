#include <pugixml.hpp>
#include <stdexcept>
#include <string>
#include <utility>

#include "form.h"
#include "score_bars.h"
#include "score_measures.h"
#include "score_messages.h"
#include "score_parts.h"
#include "score_words.h"
#include "settle.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"
#include "shedbook/chart/readers.h"
#include "xml_text.h"

namespace shedbook {
namespace {

bool is_melody_empty(const std::vector<ScoreBar>& bars) {
    for (const ScoreBar& bar : bars) {
        for (const MelodyNote& note : bar.bar.melody) {
            if (note.pitch) return false;
        }
    }
    return true;
}

std::string composer_of(pugi::xml_node score) {
    std::string first;
    for (const pugi::xml_node creator : score.child("identification").children("creator")) {
        const std::string name = plain_words(creator.text().get());
        if (std::string_view{creator.attribute("type").value()} == "composer") return name;
        if (first.empty() && creator.attribute("type").empty()) first = name;
    }
    return first;
}

std::string title_of(pugi::xml_node score) {
    const std::string work = plain_words(score.child("work").child("work-title").text().get());
    return work.empty() ? plain_words(score.child("movement-title").text().get()) : work;
}

// Signs that lead nowhere must not keep a player from the tune: they are left out one after the other, and it
// is said.
bool mend_form(Chart& chart, const std::vector<int>& measures, ScoreMessages& messages) {
    std::vector<Bar*> bars;
    for (Section& section : chart.sections) {
        for (Bar& bar : section.bars) bars.push_back(&bar);
    }
    constexpr int kMostTries = 64;
    for (int tries = 0; tries < kMostTries; ++tries) {
        FormPlan plan = plan_form(chart);
        bool has_changed = false;
        for (const FormFault& fault : plan.faults) {
            const int measure = measures[static_cast<std::size_t>(fault.bar)];
            BarMarks& marks = bars[static_cast<std::size_t>(fault.bar)]->marks;
            if (fault.severity != Severity::Error) continue;
            if (!marks.jump && !marks.to_coda) {
                messages.error(measure, {}, fault.message, {});
                return false;
            }
            messages.warning(measure, {}, fault.message, "the sign is left out");
            if (marks.jump) {
                marks.jump.reset();
            } else {
                marks.to_coda = false;
            }
            has_changed = true;
        }
        if (has_changed) continue;
        for (const FormFault& fault : plan.faults) {
            messages.warning(measures[static_cast<std::size_t>(fault.bar)], {}, fault.message, {});
        }
        return true;
    }
    messages.error(0, {}, "the repeats and jumps of this score contradict each other", {});
    return false;
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
    spread_repeats_and_endings(bars);
    sort_out_codas(bars);
    join_halves(bars, messages);
    judge_lengths(bars, messages);
    carry_late_chords(bars, messages);
    mark_similes(bars);
    bars.back().bar.marks.double_bar = false;
    const bool has_melody = !is_melody_empty(bars);

    Chart chart;
    chart.title = title_of(score);
    chart.composer = composer_of(score);
    chart.key = reader.header().key;
    chart.key_is_signature_only = chart.key.has_value();
    chart.meter = reader.header().meter;
    chart.tempo = reader.header().tempo;
    chart.feel = reader.header().feel;
    std::vector<int> measures;
    for (ScoreBar& bar : bars) {
        if (bar.has_label || chart.sections.empty()) chart.sections.push_back({std::move(bar.label), {}});
        if (!has_melody) bar.bar.melody.clear();
        chart.sections.back().bars.push_back(std::move(bar.bar));
        measures.push_back(bar.measure);
    }
    if (reader.header().to_concert != Interval{}) {
        messages.note(
            (part.name.empty() ? "this part" : "'" + part.name + "'") + " is in transposed pitch",
            "symbols and notes are moved to concert pitch, by " + interval_name(reader.header().to_concert));
    }
    settle(chart);
    if (!mend_form(chart, measures, messages)) return std::nullopt;
    return chart;
}

bool parse(pugi::xml_document& document, const SourceText& source, Diagnostics& diagnostics) {
    const pugi::xml_parse_result result = document.load_buffer(source.text.data(), source.text.size(),
                                                               pugi::parse_default, pugi::encoding_utf8);
    if (result) return true;
    const auto at = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, result.offset));
    diagnostics.error(source, {at, at + 1},
                      std::string{"this is not well-formed XML: "} + result.description(),
                      "open and save it again in a notation editor");
    return false;
}

}  // namespace

std::optional<Chart> read_lead_sheet(const std::string& name, const std::string& xml,
                                     const ReadOptions& options, Diagnostics& diagnostics) {
    std::optional<std::string> text = to_utf8(name, xml, diagnostics);
    if (!text) return std::nullopt;
    const SourceText source{name, *std::move(text)};
    if (!is_safe_xml(source, diagnostics)) return std::nullopt;
    pugi::xml_document document;
    if (!parse(document, source, diagnostics)) return std::nullopt;
    const pugi::xml_node score = document.document_element();
    const std::string_view form = score.name();
    if (form != "score-partwise" && form != "score-timewise") {
        diagnostics.error_at(name, "this is no MusicXML score but a document of '" + std::string{form} + "'",
                             form == "opus" ? "an opus only lists scores; open one of them" : "");
        return std::nullopt;
    }
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
