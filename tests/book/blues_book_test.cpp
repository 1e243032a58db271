// The book of a blues: what a teacher of it hands out first (common practice, no source; the form and the
// blues scale: R. Hutchinson, Music Theory for the 21st-Century Classroom, 31.3 and 31.9).
#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <string>

#include "recording_sink.h"

namespace shedbook {
namespace {

const char* const kQuickChange =
    "Title: Wet Kettle\nKey: F\nMeter: 4/4\nTempo: 120\n| F7 | Bb7 | F7 | Cm7 F7 |\n| Bb7 | Bdim7 | F7 | "
    "Am7b5 D7b9 |\n| Gm7 | C7 | F7 D7alt | Gm7 C7 |\n";
const char* const kPlain =
    "Title: Two Kettles\nKey: F\nMeter: 4/4\n| F7 | % | % | % |\n| Bb7 | % | F7 | % |\n| C7 | Bb7 | F7 | C7 "
    "|\n";
const char* const kInMinor =
    "Title: Cold Kettle\nKey: F minor\nMeter: 4/4\n| Fm7 | % | % | % |\n| Bbm7 | % | Fm7 | % |\n| Db7 | "
    "C7alt "
    "| Fm7 | Gm7b5 C7b9 |\n";

RecordingSink book_of(const char* tune, const char* instrument, int level) {
    RecordingSink out;
    Diagnostics diagnostics;
    const Instrument* played = find_instrument(instrument);
    const std::vector<BookPart> parts{{.instrument = played, .range = played->practical}};
    BookOptions options;
    options.by = BookBy::Unit;
    options.etude.level = level;
    options.drills = usual_drills();
    assemble_book({tune_of(tune)}, parts, 0, options, out, diagnostics);
    return out;
}

void for_each_book(const std::function<void(const RecordingSink&, const char* tune)>& check) {
    for (const char* tune : {kQuickChange, kPlain, kInMinor}) {
        for (const char* instrument : {"flute", "guitar", "piano"}) {
            for (const int level : {1, 3, 6}) {
                INFO(tune << instrument << ", level " << level);
                check(book_of(tune, instrument, level), tune);
            }
        }
    }
}

// What sounds first in each bar, half steps over F.
std::vector<int> first_over_f(const WrittenMusic& music) {
    std::vector<int> out;
    for (const Measure& measure : music.measures) {
        for (const Event& event : music.events_of(measure)) {
            const auto* note = std::get_if<Sounded>(&event.what);
            if (note == nullptr || note->tied_from_before) continue;
            out.push_back((sounding(music, note->pitch).midi() + 7) % 12);
            break;
        }
    }
    return out;
}

const Etude& first_of(const RecordingSink& sink, const std::string& id) {
    const auto all = sink.all<Etude>();
    const auto at = std::ranges::find(all, id, [](const Etude* etude) { return etude->id; });
    REQUIRE(at != all.end());
    return **at;
}

}  // namespace

TEST_CASE("the first line of a blues is the first unit on the title page and in the book", "[book][blues]") {
    for_each_book([](const RecordingSink& sink, const char* tune) {
        const TuneOverview& overview = *sink.all<TuneOverview>().front();
        CHECK(overview.units.front().section == 1);
        CHECK(overview.units.front().unit.kind == "blues frame");
        const SectionStart& start = *sink.all<SectionStart>().front();
        CHECK(start.number == 1);
        const auto* head = std::get_if<UnitHead>(&start.head);
        REQUIRE(head != nullptr);
        CHECK(head->kind == "blues frame");
        // Where I7 has it for itself, from its middle to that of the second.
        CHECK(head->places.front().first_bar == (tune == kQuickChange ? 1 : 3));
        CHECK(head->places.front().last_bar == (tune == kQuickChange ? 4 : 6));
    });
}

TEST_CASE("guide tones of a blues go from the third of I7 to the seventh of IV7", "[book][blues]") {
    for_each_book([](const RecordingSink& sink, const char* tune) {
        const std::vector<int> first = first_over_f(first_of(sink, "guide-tones").music.front());
        REQUIRE(first.size() >= (tune == kQuickChange ? 3U : 2U));
        CHECK(first.front() == (tune == kInMinor ? 3 : 4));
        if (tune == kQuickChange) {
            CHECK(first[1] == 3);
            CHECK(first[2] == 4);
        }
        if (tune == kPlain) CHECK(std::ranges::find(first, 3) != first.end());
    });
}

TEST_CASE("scales of a blues begin with I7, its blues scale before the others, and IV7", "[book][blues]") {
    for_each_book([](const RecordingSink& sink, const char*) {
        const auto heads = sink.heads();
        REQUIRE(heads.size() >= 2);
        CHECK(heads[0]->parts.front().symbol->root == *parse_pitch_class("F"));
        CHECK(heads[1]->parts.front().symbol->root == *parse_pitch_class("Bb"));
        CHECK(sink.all<Drill>().front()->id == "blues-scale");
    });
}

TEST_CASE("the whole form of a blues is a riff, the riff again and a line home", "[book][blues]") {
    for_each_book([](const RecordingSink& sink, const char*) {
        const Etude& last = *sink.all<Etude>().back();
        CHECK(last.id == "aab");
        CHECK(last.music.front().measures.size() >= 12);
        // Not the one that the first unit has.
        const Etude& riff = first_of(sink, "aab");
        CHECK(riff.place.has_value());
        CHECK(riff.place->first_bar == 1);
        CHECK(riff.place->last_bar == 8);
        CHECK(first_over_f(riff.music.front()) != first_over_f(last.music.front()));
    });
}

TEST_CASE("who comps has the chords of the first line in two rhythms", "[book][blues]") {
    for (const auto& [instrument, id] : {std::pair{"guitar", "comping-shapes"}, {"piano", "voicings"}}) {
        const RecordingSink sink = book_of(kQuickChange, instrument, 3);
        const WrittenMusic& pushed = first_of(sink, id + std::string{"-pushed"}).music.front();
        std::vector<Ticks> struck;
        for (const Event& event : pushed.events_of(pushed.measures.front())) {
            const auto* note = std::get_if<Sounded>(&event.what);
            if (note != nullptr && !note->tied_from_before)
                struck.push_back(event.at * 2 / pushed.ticks_per_quarter);
        }
        INFO(instrument);
        CHECK(struck == std::vector<Ticks>{0, 3});
        CHECK(first_of(sink, id).music.front().measures.size() == pushed.measures.size());
    }
}

TEST_CASE("other tunes keep their composed etude and have no riff", "[book][blues]") {
    const RecordingSink sink =
        book_of("Title: Gate\nKey: Db\nMeter: 4/4\n| Ebm7 | Ab7 | Dbmaj7 | % |\n", "flute", 3);
    CHECK(sink.all<Etude>().back()->id == "composed");
    CHECK(std::ranges::none_of(sink.all<Etude>(), [](const Etude* etude) { return etude->id == "aab"; }));
}

}  // namespace shedbook
