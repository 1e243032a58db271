#include "shedbook/job/own_files.h"

#include <utility>

#include "shedbook/book/plan.h"
#include "shedbook/book/unit_sheet.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/phrase.h"
#include "shedbook/harmony/own_scales.h"
#include "shedbook/io/files.h"
#include "shedbook/io/own_templates.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {
namespace {

// Kinds of entries whose readers say what is wrong with them. Scales and drills are read for themselves:
// scales must be in the table before anything asks for one.
struct Kind {
    const char* name;
    void (*check)(const SourceText&, Diagnostics&);
};
constexpr Kind kKinds[]{
    {"instrument", [](const SourceText& file, Diagnostics& said) { (void)read_instruments(file, said); }},
    {"fingering", [](const SourceText& file, Diagnostics& said) { (void)read_fingering_charts(file, said); }},
    {"level", [](const SourceText& file, Diagnostics& said) { (void)read_levels(file, said); }},
    {"plan", [](const SourceText& file, Diagnostics& said) { (void)read_plans(file, said); }},
    {"phrase", [](const SourceText& file, Diagnostics& said) { (void)read_phrases(file, said); }},
    {"unit", [](const SourceText& file, Diagnostics& said) { (void)read_plain_units(file, said); }},
};

void take_scales(const std::vector<SourceText>& files, Diagnostics& said) {
    std::vector<OwnScale> scales;
    for (const SourceText& file : files) {
        if (!has_entries(file, "scale")) continue;
        for (OwnScale& scale : read_scales(file, said)) scales.push_back(std::move(scale));
    }
    if (!said.has_errors()) use_own_scales(scales);
}

}  // namespace

void use_own_files(const std::vector<std::string>& files, Caller& caller) {
    if (files.empty()) return;
    std::vector<SourceText> sources;
    sources.reserve(files.size());
    for (const std::string& file : files) sources.emplace_back(file, read_file(file));
    Diagnostics said;
    take_scales(sources, said);
    // Before anything is checked: plans and levels may name drills of these files.
    use_own_templates(sources);
    DrillLibrary drills = shipped_drills();
    for (const SourceText& source : sources) {
        read_into(drills, source, said);
        for (const Kind& kind : kKinds) {
            if (has_entries(source, kind.name)) kind.check(source, said);
        }
    }
    caller.say(said);
    if (said.has_errors()) throw InputError{};
}

}  // namespace shedbook
