#include <algorithm>
#include <array>
#include <iomanip>
#include <iostream>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "command.h"
#include "shedbook/base/text.h"
#include "shedbook/book/plan.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/etude.h"
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

void list_etudes() {
    for (const EtudeKind& kind : etude_kinds()) {
        cell(kind.id, 26);
        std::cout << kind.about << "\n";
    }
}

void list_plans() {
    for (const BookPlan& plan : book_plans()) {
        cell(plan.id, 26);
        const std::size_t sittings = plan.sittings.size();
        std::cout << plan.title << " (" << sittings << (sittings == 1 ? " sitting" : " sittings") << ")\n"
                  << std::string(26, ' ') << plan.about << "\n";
    }
}

void list_levels() {
    for (int number = kLowestLevel; number <= kHighestLevel; ++number) {
        cell(std::to_string(number), 4);
        std::cout << level(number).about << "\n";
    }
}

struct Listing {
    std::string_view name;
    void (*print)();
};
constexpr std::array<Listing, 10> kListings{{
    {"instruments", list_instruments},
    {"scales", list_scales},
    {"drills", list_drills},
    {"etudes", list_etudes},
    {"plans", list_plans},
    {"levels", list_levels},
    {"rhythms", list_rhythms},
    {"articulations", list_articulations},
    {"phrases", list_phrases},
    {"chords", list_chords},
}};

std::vector<std::string> listing_names() {
    std::vector<std::string> out;
    out.reserve(kListings.size());
    for (const Listing& listing : kListings) out.emplace_back(listing.name);
    return out;
}

int run_list(const std::string& what) {
    const std::string name = slug(what) == "chord-kinds" ? "chords" : slug(what);
    const auto found = std::ranges::find(kListings, name, &Listing::name);
    if (found == kListings.end()) {
        const std::string near = nearest(name, listing_names());
        throw UsageError("nothing to list is called '" + what + "'" +
                         (near.empty() ? "; there are: " + join(listing_names(), ", ")
                                       : "; did you mean '" + near + "'?"));
    }
    found->print();
    return kDone;
}

}  // namespace

Action list_command(Syntax& syntax) {
    auto what = std::make_shared<std::string>();
    syntax.add_option("what", *what, join(listing_names(), ", ") + " (chord kinds)")
        .required()
        .offers(listing_names);
    return [what] { return run_list(*what); };
}

}  // namespace shedbook
