// What stands on the pages of a book is explained by `shedbook explain`.
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "../book/recording_sink.h"
#include "program.h"
#include "shedbook/base/text.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/etude.h"
#include "shedbook/harmony/units.h"

namespace shedbook {
namespace {

// Kinds of units, lines, drills and what is to be done, as the book by units of a tune names them.
void add_headings(const Tune& tune, const char* instrument, std::set<std::string>& to) {
    const std::vector<BookPart> parts{part(instrument)};
    BookOptions options;
    options.by = BookBy::Unit;
    options.drills = usual_drills();
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_book({tune}, parts, 0, options, sink, diagnostics);
    for (const SectionStart* start : sink.all<SectionStart>()) {
        if (const auto* unit = std::get_if<UnitHead>(&start->head)) to.insert(unit->name);
    }
    for (const Drill* drill : sink.all<Drill>()) to.insert(drill->title);
    for (const Etude* etude : sink.all<Etude>()) {
        // Behind the comma stands which, or how it is written.
        to.insert(etude->title.substr(0, etude->title.find(", frets")));
        for (const WrittenMusic& music : etude->music) {
            for (const TextMark& mark : music.texts) {
                if (mark.names_bars) to.insert(mark.text);
            }
        }
    }
}

std::string unexplained(const std::set<std::string>& words) {
    std::string typed;
    for (const std::string& word : words) typed += " \"" + word + "\"";
    return run_program("explain" + typed).err;
}

}  // namespace

TEST_CASE("short names of scales on a page of changes are explained", "[cli][words]") {
    for (const char* name : {"Phr. dom.", "Lyd. dom.", "h-w dim.", "w-h dim.", "Mixo.", "Dor.", "Aeol.",
                             "Locr.", "Ion.", "alt.", "w-t", "mel. minor", "harm. minor"}) {
        CAPTURE(name);
        CHECK(run_program("explain \"" + std::string{name} + "\"").exit_code == 0);
    }
}

TEST_CASE("every heading of a book by units is explained", "[cli][words]") {
    std::set<std::string> headings;
    for (const Tune& tune : sample_tunes()) add_headings(tune, "trumpet", headings);
    for (const char* instrument : {"double-bass", "piano", "guitar"})
        add_headings(sample_tunes().front(), instrument, headings);
    CHECK(headings.size() > 20);
    CHECK(headings.contains("another way"));
    CHECK(headings.contains("Walking line"));
    CHECK(unexplained(headings) == "");
}

TEST_CASE("every line, drill and kind of unit is explained by its name and by its title", "[cli][words]") {
    std::set<std::string> names;
    for (const EtudeKind& kind : etude_kinds()) names.insert({kind.id, kind.title});
    for (const DrillTemplate& drill : drill_templates()) names.insert({drill.id, drill.title});
    for (const Worded<UnitKind>& row : kWords<UnitKind>) names.insert(std::string{row.word});
    CHECK(unexplained(names) == "");
}

}  // namespace shedbook
