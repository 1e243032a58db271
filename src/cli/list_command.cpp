#include <array>
#include <iomanip>
#include <iostream>
#include <memory>
#include <string>

#include "command.h"
#include "shedbook/base/text.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/phrase.h"
#include "shedbook/job/caller.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/scale.h"

namespace shedbook {
namespace {

void cell(const std::string& text, std::size_t width) {
    const std::size_t used = count_characters(text);
    std::cout << text << std::string(used < width ? width - used : 1, ' ');
}

std::string range_text(const WrittenRange& range) {
    return to_string(range.low.on_paper()) + "-" + to_string(range.high.on_paper());
}

// "a major sixth lower"; the instrument sounds so far from what it reads.
std::string transposition_text(const Instrument& instrument) {
    const Interval by = to_sounding(instrument.transposition);
    if (by == kUnison) return "as written";
    std::string name = interval_name(by);
    const bool lower = name.starts_with('-');
    if (lower) name.erase(0, 1);
    return name + (lower ? " lower" : " higher");
}

void list_instruments() {
    cell("name for --for", 24);
    cell("instrument", 30);
    cell("sounds", 14);
    cell("practical", 11);
    std::cout << "student (written)\n";
    for (const Instrument& instrument : instruments()) {
        cell(instrument.id, 24);
        cell(instrument.name, 30);
        cell(transposition_text(instrument), 14);
        cell(range_text(instrument.practical), 11);
        std::cout << range_text(instrument.student) << "\n";
    }
}

void list_scales() {
    for (const ScaleType& type : scale_types()) {
        cell(std::string{type.name}, 28);
        cell(std::string{type.degrees.text()}, 30);
        std::cout << (type.other_names.empty() ? "" : "also: " + std::string{type.other_names}) << "\n";
    }
}

void list_drills() {
    std::string family;
    for (const DrillTemplate& drill : drill_templates()) {
        if (drill.family != family) std::cout << (family.empty() ? "" : "\n") << drill.family << "\n";
        family = drill.family;
        cell("  " + drill.id, 40);
        std::cout << drill.title << " (level " << drill.level << ")\n"
                  << std::string(40, ' ') << drill.about << "\n";
    }
}

// The lengths of a rhythm as they are typed.
std::string rhythm_text(const Rhythm& rhythm) {
    std::vector<std::string> out;
    for (const RhythmStep& step : rhythm)
        out.push_back((step.is_rest ? "r" : "") + to_string(step.length.whole_notes));
    return join(out, " ");
}

void list_rhythms() {
    for (const NamedRhythm& rhythm : shipped_drills().rhythms) {
        cell(rhythm.id, 26);
        cell(rhythm_text(rhythm.rhythm), 40);
        std::cout << rhythm.about << "\n";
    }
}

void list_articulations() {
    for (const NamedArticulation& articulation : shipped_drills().articulations) {
        cell(articulation.id, 28);
        std::cout << articulation.about << "\n";
    }
}

void list_phrases() {
    for (const Phrase& phrase : phrases()) {
        std::vector<std::string> kinds;
        for (const UnitKind kind : phrase.over) kinds.emplace_back(to_word(kind));
        cell(phrase.id, 30);
        cell("level " + std::to_string(phrase.level), 9);
        cell(join(kinds, ", "), 42);
        std::cout << phrase.about << "\n";
    }
}

void list_chords() {
    for (const ChordKind& kind : chord_kinds()) {
        cell("C" + std::string{kind.suffix}, 14);
        cell(std::string{kind.name}, 36);
        std::cout << kind.degrees << "\n";
    }
}

struct Listing {
    const char* name;
    void (*print)();
};
constexpr std::array<Listing, 7> kListings{{
    {"instruments", list_instruments},
    {"scales", list_scales},
    {"drills", list_drills},
    {"rhythms", list_rhythms},
    {"articulations", list_articulations},
    {"phrases", list_phrases},
    {"chords", list_chords},
}};

int run_list(const std::string& what) {
    for (const Listing& listing : kListings) {
        if (slug(what) == listing.name ||
            (slug(what) == "chord-kinds" && std::string{listing.name} == "chords")) {
            listing.print();
            return kDone;
        }
    }
    throw UsageError(
        "list shows instruments, scales, drills, rhythms, articulations, phrases or chords, not '" + what +
        "'");
}

}  // namespace

Action list_command(Syntax& syntax) {
    auto what = std::make_shared<std::string>();
    syntax
        .add_option("what", *what,
                    "instruments, scales, drills, rhythms, articulations, phrases or chords (chord kinds)")
        .required();
    return [what] { return run_list(*what); };
}

}  // namespace shedbook
