#include <algorithm>
#include <array>
#include <iomanip>
#include <iostream>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "command.h"
#include "help_text.h"
#include "shedbook/base/text.h"
#include "shedbook/book/plan.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/etude.h"
#include "shedbook/etude/phrase.h"
#include "shedbook/job/caller.h"
#include "shedbook/job/lists.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/scale.h"

namespace shedbook {
namespace {

void cell(const std::string& text, std::size_t width) {
    const std::size_t used = count_characters(text);
    std::cout << text << std::string(used < width ? width - used : 1, ' ');
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
        const Level& each = level(number);
        cell(std::to_string(number), 4);
        std::cout << each.about << "\n"
                  << wrapped_lines("range: " + each.range + "; drills on scales: " + join(each.drills, ", "),
                                   4);
    }
    std::cout
        << "\n"
        << wrapped_lines(
               "Which chords and scales there are is up to the tune: an altered chord keeps its scale. A "
               "book by units takes from a level the range, the drills on scales and the tempos; its lines "
               "and phrases are of all kinds, written as that level plays them. 'book --by chord' keeps to "
               "the kinds of line and the number of chords as well.",
               0);
}

struct Listing {
    std::string_view name;
    void (*print)();
    Data::Array (*as_data)();
};
constexpr std::array<Listing, 10> kListings{{
    {"instruments", list_instruments, instruments_as_data},
    {"scales", list_scales, scales_as_data},
    {"drills", list_drills, drills_as_data},
    {"etudes", list_etudes, etudes_as_data},
    {"plans", list_plans, plans_as_data},
    {"levels", list_levels, levels_as_data},
    {"rhythms", list_rhythms, rhythms_as_data},
    {"articulations", list_articulations, articulations_as_data},
    {"phrases", list_phrases, phrases_as_data},
    {"chords", list_chords, chords_as_data},
}};

std::vector<std::string> listing_names() {
    std::vector<std::string> out;
    out.reserve(kListings.size());
    for (const Listing& listing : kListings) out.emplace_back(listing.name);
    return out;
}

// An entry a line, within one list.
void print_data(const Data::Array& entries) {
    std::cout << "[";
    for (std::size_t i = 0; i < entries.size(); ++i)
        std::cout << (i == 0 ? "\n" : ",\n") << write_json(entries[i]);
    std::cout << "\n]\n";
}

int run_list(const std::string& what, bool json) {
    const std::string name = slug(what) == "chord-kinds" ? "chords" : slug(what);
    const auto found = std::ranges::find(kListings, name, &Listing::name);
    if (found == kListings.end()) {
        const std::string near = nearest(name, listing_names());
        throw UsageError("nothing to list is called '" + what + "'" +
                         (near.empty() ? "; there are: " + join(listing_names(), ", ")
                                       : "; did you mean '" + near + "'?"));
    }
    if (json) {
        print_data(found->as_data());
    } else {
        found->print();
    }
    return kDone;
}

}  // namespace

Action list_command(Syntax& syntax) {
    struct Asked {
        std::string what;
        bool json = false;
    };
    auto asked = std::make_shared<Asked>();
    syntax.add_option("what", asked->what, join(listing_names(), ", ") + " (chord kinds)")
        .required()
        .offers(listing_names);
    syntax.add_flag("--json", asked->json, "as one JSON list, for programs");
    return [asked] { return run_list(asked->what, asked->json); };
}

}  // namespace shedbook
