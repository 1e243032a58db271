// Books by units: the hard bars of a tune on their own pages, its scales by the notes that they share.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <map>
#include <set>
#include <string>

#include "recording_sink.h"
#include "shedbook/base/text.h"
#include "shedbook/etude/ground.h"
#include "shedbook/etude/phrase.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

struct Made {
    RecordingSink sink;
    Diagnostics diagnostics;
};

Made book_by_units(const Tune& tune, const char* instrument = "alto-sax", std::uint64_t seed = 1) {
    Made out;
    const Instrument* played = find_instrument(instrument);
    const std::vector<BookPart> parts{{.instrument = played, .range = played->practical}};
    BookOptions options;
    options.by = BookBy::Unit;
    options.etude.seed = seed;
    options.drills = usual_drills();
    assemble_book({tune}, parts, 0, options, out.sink, out.diagnostics);
    return out;
}

// One of the books that an ensemble has of a tune.
std::size_t bars_in_book_of(const Tune& tune, const std::vector<BookPart>& ensemble, std::size_t which) {
    BookOptions options;
    options.by = BookBy::Unit;
    options.drills = usual_drills();
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_book({tune}, ensemble, which, options, sink, diagnostics);
    std::size_t out = 0;
    for (const WrittenMusic* music : sink.music()) out += music->measures.size();
    return out;
}

std::set<int> sounds(const std::vector<PitchClass>& notes) {
    std::set<int> out;
    for (const PitchClass note : notes) out.insert(note.semitone());
    return out;
}

std::vector<const UnitHead*> units(const RecordingSink& sink) {
    std::vector<const UnitHead*> out;
    for (const SectionStart* start : sink.all<SectionStart>()) {
        if (const auto* unit = std::get_if<UnitHead>(&start->head)) out.push_back(unit);
    }
    return out;
}

bool is_phrase(const Etude& etude) {
    return std::ranges::find(phrases(), etude.id, &Phrase::id) != phrases().end();
}

bool sounds_in(const WrittenMusic& music, std::size_t from, std::size_t to) {
    for (std::size_t m = from; m < to; ++m) {
        for (const Event& event : music.events_of(music.measures[m])) {
            if (std::holds_alternative<Sounded>(event.what)) return true;
        }
    }
    return false;
}

const char* const kThreeKeys =
    "Title: Three Doors\nKey: C\nMeter: 4/4\n[A]\n| Dm7 | G7 | Cmaj7 | % |\n| Fm7 | Bb7 | Ebmaj7 | % |\n"
    "| Am7 | D7 | Gmaj7 | % |\n| Dm7 | G7 | C6 | % |\n";

}  // namespace

TEST_CASE("the books of an ensemble hold the same, bar for bar", "[book]") {
    // Their lines are not equally long: accidentals, keys and fingerings differ.
    const std::vector<BookPart> ensemble{part("flute"), part("alto-sax"), part("clarinet"), part("guitar"),
                                         part("double-bass")};
    for (const Tune& tune : sample_tunes()) {
        INFO(tune.chart.title);
        const std::size_t bars = bars_in_book_of(tune, ensemble, 0);
        CHECK(bars > 80);
        for (std::size_t which = 1; which < ensemble.size(); ++which)
            CHECK(bars_in_book_of(tune, ensemble, which) == bars);
    }
}

TEST_CASE("every chord of a tune stands in the table of a book by units", "[book][units]") {
    for (const Tune& tune : sample_tunes()) {
        INFO(tune.chart.name());
        const Made made = book_by_units(tune, "piano");
        REQUIRE(made.sink.all<ScaleTable>().size() == 1);
        const ScaleTable& table = *made.sink.all<ScaleTable>().front();
        for (const ChordInContext& chord : chords_in_context(tune, {})) {
            CHECK(std::ranges::any_of(table.rows, [&](const ScaleTable::Row& row) {
                return row.topic.symbol == chord.symbol && row.topic.scale == chord.scale.scale;
            }));
        }
    }
}

TEST_CASE("no two sections of a book by units have the same notes", "[book][units]") {
    for (const Tune& tune : sample_tunes()) {
        INFO(tune.chart.name());
        const Made made = book_by_units(tune);
        std::set<std::set<int>> known;
        for (const TopicHead* head : made.sink.heads()) {
            const std::set<int> own = sounds(head->parts.front().notes);
            CHECK(known.insert(own).second);
            for (const TopicInPart& other : head->shares) CHECK(sounds(other.notes) == own);
        }
        CHECK_FALSE(known.empty());
    }
}

TEST_CASE("a unit in three keys is one section with its places, and a line in each key", "[book][units]") {
    const Made made = book_by_units(tune_of(kThreeKeys));
    const auto heads = units(made.sink);
    const auto cadence =
        std::ranges::find_if(heads, [](const UnitHead* unit) { return unit->name == "ii-V-I"; });
    REQUIRE(cadence != heads.end());
    CHECK((*cadence)->places.size() == 4);
    CHECK(std::ranges::count_if(heads, [](const UnitHead* unit) { return unit->name == "ii-V-I"; }) == 1);
    // Alto saxophone: a major sixth higher on paper. What is foreign to the tune's key is hardest and
    // drilled.
    CHECK(to_string((*cadence)->places.front().key) == "E major");
    std::set<std::string> elsewhere;
    for (const Etude* etude : made.sink.all<Etude>()) {
        if (etude->place) elsewhere.insert(to_string(etude->place->key));
    }
    CHECK(elsewhere == std::set<std::string>{"A major", "C major"});
}

TEST_CASE("what is hard in a unit is said in the names that the part reads", "[book][units]") {
    const std::string rare = "a rarer scale, ";
    int found = 0;
    for (const Tune& tune : sample_tunes()) {
        const Made made = book_by_units(tune);
        for (const UnitHead* unit : units(made.sink)) {
            const std::size_t at = unit->why.find(rare);
            if (at == std::string::npos) continue;
            const std::string scale = unit->why.substr(
                at + rare.size(), unit->why.find(',', at + rare.size()) - (at + rare.size()));
            INFO(tune.chart.name() << ": " << unit->why);
            ++found;
            CHECK(std::ranges::any_of(
                made.sink.all<ScaleTable>().front()->rows,
                [&](const ScaleTable::Row& row) { return to_string(row.topic.scale) == scale; }));
        }
    }
    CHECK(found > 3);
}

TEST_CASE("lines of a unit have its bars, once where the tune repeats them", "[book][units]") {
    const Made made = book_by_units(
        tune_of("Title: Again\nKey: C\nMeter: 4/4\n[A]\n|: Cmaj7 | Dm7b5 | G7b9 | Cm7 :|\n| Fmaj7 | C6 |\n"));
    int lines = 0;
    for (const Etude* etude : made.sink.all<Etude>()) {
        if (etude->number.piece == 0 || is_phrase(*etude)) continue;  // a phrase has its bars twice
        ++lines;
        std::vector<int> numbers;
        for (const Measure& measure : etude->music.front().measures)
            numbers.push_back(measure.number.value_or(0));
        for (const Measure& measure : etude->music.front().measures) CHECK(measure.signs_before.empty());
        if (std::set<int>(numbers.begin(), numbers.end()).size() <= 2) continue;  // played twice
        INFO(etude->title);
        CHECK(std::ranges::is_sorted(numbers));
        CHECK(std::ranges::adjacent_find(numbers) == numbers.end());
    }
    CHECK(lines >= 3);
}

TEST_CASE("two bars are played twice, a double bar between", "[book][units]") {
    const Made made = book_by_units(
        tune_of("Title: Two\nKey: C\nMeter: 4/4\n[A]\n| C6 | % | Fmaj7 | % |\n[B]\n| Fmaj7 | Dm7 "
                "G7 | C6 | Fmaj7 |\n"));
    const auto etudes = made.sink.all<Etude>();
    const auto twice = std::ranges::find_if(etudes, [](const Etude* etude) {
        return etude->number.piece > 0 && etude->music.front().measures.size() == 4 &&
               etude->music.front().measures[0].number == etude->music.front().measures[2].number;
    });
    REQUIRE(twice != etudes.end());
    CHECK((*twice)->music.front().measures[1].right == Barline::Double);
}

TEST_CASE("what ends on a chord that leads on is played into the chord that it leads to", "[book][units]") {
    const Made made =
        book_by_units(tune_of("Title: On\nKey: C\nMeter: 4/4\n| C6 | Am7 Ab7 | Dm7 Db7 | C6 |\n"
                              "| Fmaj7 | % | C6 | % |\n"));
    bool has_found = false;
    for (const UnitHead* unit : units(made.sink)) {
        INFO(unit->name);
        CHECK(unit->places.front().last_bar != 2);
        CHECK(unit->places.front().last_bar != 3);
        has_found = has_found || unit->places.front().last_bar == 4;
    }
    CHECK(has_found);
}

TEST_CASE("a cadence has its plain name, and the chords that stand there beside it", "[book][units]") {
    // What stands over the first unit of that name, and beside it.
    const auto head = [](const char* bars, const std::string& name) {
        const Made made =
            book_by_units(tune_of(std::string{"Title: Names\nMeter: 4/4\n"} + bars + "\n"), "flute");
        for (const UnitHead* unit : units(made.sink)) {
            if (unit->name == name) return title_of(*unit) + "; " + unit->here;
        }
        return std::string{"none"};
    };
    CHECK(head("Key: Cm\n| Cm6 | Fm6 G7(b9) | Cm6 | % |", "ii\u00F8-V-i") ==
          "ii\u00F8-V-i in C minor, bars 2 to 4; iv-V-i");
    CHECK(head("Key: Cm\n| Cm6 | Dm7b5 G7(b9) | Cm6 | % |", "ii\u00F8-V-i") ==
          "ii\u00F8-V-i in C minor, bars 2 to 4; ");
    CHECK(head("Key: C\n| C6 | Dm7 Db7 | C6 | % |", "ii-V-I") == "ii-V-I in C major, bars 2 to 4; ii-bII-I");
    CHECK(head("Key: C\n| C6 | Dm7 G7 | C6 | % |", "ii-V-I") == "ii-V-I in C major, bars 2 to 4; ");
    CHECK(head("Key: Cm\n| Cm6 | % | G7(b9) | Cm6 |", "V-i") == "V-i in C minor, bars 3, 4; ");
}

TEST_CASE("what has no pages of its own is named with its bars", "[book][units]") {
    std::string bars;
    for (const char* bar : {"Cmaj7 A7", "Dm7 G7", "Em7b5 A7b9", "Dm7 Db7", "C6 Ebdim7", "Dm7 G7sus4",
                            "Gm7 C7", "Fmaj7 Fm6", "Bm7b5 E7b9", "Am7 Abm7", "Gm7 Gb7", "Fmaj7 Bb7"})
        bars += std::string{bar} + " | ";
    const Made made = book_by_units(tune_of("Title: Many\nKey: C\nMeter: 4/4\n| " + bars + "\n"));
    CHECK(units(made.sink).size() == 5);
    REQUIRE(made.sink.all<TuneOverview>().size() == 1);
    const std::vector<TuneOverview::Row>& rows = made.sink.all<TuneOverview>().front()->units;
    CHECK(std::ranges::count(rows, 0, &TuneOverview::Row::section) > 0);
    for (const TuneOverview::Row& row : rows) CHECK(row.unit.places.front().first_bar >= 1);
}

TEST_CASE("the overview has every written bar once, with its grade, and every unit with its section",
          "[book][units]") {
    for (const Tune& tune : sample_tunes()) {
        INFO(tune.chart.name());
        const Made made = book_by_units(tune, "trumpet");
        const TuneOverview& overview = *made.sink.all<TuneOverview>().front();
        std::map<int, Grade> grades;
        for (const TuneOverview::Section& section : overview.sections) {
            for (const TuneOverview::Bar& bar : section.bars)
                CHECK(grades.emplace(bar.number, bar.grade).second);
        }
        CHECK(grades.size() == written_bars(tune.chart).size());
        std::vector<int> sections;
        for (const TuneOverview::Row& row : overview.units) {
            // Two units in the same bars share a section.
            if (row.section > 0 && (sections.empty() || sections.back() != row.section))
                sections.push_back(row.section);
        }
        std::vector<int> written;
        for (const SectionStart* start : made.sink.all<SectionStart>()) {
            if (std::holds_alternative<UnitHead>(start->head)) written.push_back(start->number);
        }
        CHECK(sections == written);
    }
}

TEST_CASE("the first chords of a rhythm part in a book by units have their function and scale",
          "[book][units]") {
    const Made made = book_by_units(tune_of("Key: C\nMeter: 4/4\n| Dm7 G7 | Cmaj7 |\n"), "trumpet");
    const WrittenMusic& changes = made.sink.all<Changes>().front()->music.front();
    std::vector<std::string> words;
    for (const TextMark& mark : changes.texts) words.push_back(mark.text);
    CHECK(words == std::vector<std::string>{"ii7", "Dorian", "V7", "Mixolydian", "Imaj7", "Ionian"});
}

TEST_CASE(
    "a short unit that has a page to itself has more of the lines of an opening, numbered as they stand",
    "[book][units]") {
    // One hard unit, and an easy one that nothing shares a page with.
    const Tune tune = tune_of(
        "Title: Gate\nKey: C\nMeter: 4/4\n[A]\n| Dm7 | G7 | Cmaj7 | % |\n"
        "| F#m7b5 B7 | Em7 A7 | Ebm7 Ab7 | Dbmaj7 |\n");
    const Made made = book_by_units(tune);
    std::vector<std::string> last;  // the lines of the last unit
    int number = 0;
    for (const Etude* line : made.sink.all<Etude>()) {
        if (line->number.piece == 0) continue;
        if (line->number.piece == 1) last.clear();
        number = line->number.piece == 1 ? 1 : number + 1;
        CHECK(line->number.piece == number);
        last.push_back(line->id);
    }
    const auto place = [&](const char* kind) { return std::ranges::find(last, kind) - last.begin(); };
    const auto count = static_cast<std::ptrdiff_t>(last.size());
    CAPTURE(last);
    CHECK(place("guide-tones") < place("arpeggios-up"));
    CHECK(place("arpeggios-up") < place("unbroken-scale"));
    CHECK(place("unbroken-scale") < place("targets"));
    CHECK(place("targets") < count);
}

TEST_CASE("no two units of a book are drilled in the same bars", "[book][units]") {
    for (const Tune& tune : sample_tunes()) {
        INFO(tune.chart.name());
        std::set<std::pair<int, int>> known;
        const Made made = book_by_units(tune);
        for (const UnitHead* unit : units(made.sink))
            CHECK(known.emplace(unit->places.front().first_bar, unit->places.front().last_bar).second);
    }
}

TEST_CASE("a bar of chords that lies within a longer unit is drilled there", "[book][units]") {
    const Made made =
        book_by_units(tune_of("Title: Down\nKey: Bb\nTempo: 150\n[A]\n| Bbmaj7 | Ebmaj7 | Bbmaj7 | % |\n"
                              "| Gm7 C7 | Dm7 Dbdim7 Cm7 F7alt | Bb6 | % |\n"));
    const std::vector<const UnitHead*> heads = units(made.sink);
    CHECK(
        std::ranges::none_of(heads, [](const UnitHead* head) { return head->kind == "diminished passing"; }));
    CHECK(
        std::ranges::any_of(heads, [](const UnitHead* head) { return head->places.front().last_bar == 7; }));
}

TEST_CASE("charts of one chord, of no chord and of another meter have a book by units too", "[book][units]") {
    for (const char* text : {"Title: One\nMeter: 4/4\n| C7 |\n", "Title: Rest\nMeter: 4/4\n| N.C. | N.C. |\n",
                             "Title: Vamp\nMeter: 4/4\n| Dm7 | % | % | % |\n",
                             "Title: Five\nMeter: 5/4\n| Cm7 | F7 | Bbmaj7 | G7 |\n"}) {
        INFO(text);
        const Made made = book_by_units(tune_of(text));
        CHECK(made.sink.is_finished);
        CHECK(made.sink.all<Changes>().size() == 1);
    }
}

TEST_CASE("a melody is printed as it is, then with gaps, and with notice that it is somebody's",
          "[book][units]") {
    Tune tune = tune_of("Title: Hummed\nKey: C\nMeter: 4/4\n| Dm7 | G7 | Cmaj7 | C6 |\n");
    for (Bar& bar : tune.chart.sections[0].bars) bar.melody = {{Position{}, kWhole, *parse_pitch("G4")}};
    const Made made = book_by_units(tune, "flute");
    std::vector<const Etude*> melodies;
    for (const Etude* etude : made.sink.all<Etude>()) {
        if (etude->id.starts_with("melody")) melodies.push_back(etude);
    }
    REQUIRE(melodies.size() == 2);
    const auto notes = [](const Etude* etude) {
        return std::ranges::count_if(etude->music.front().events, [](const Event& event) {
            return std::holds_alternative<Sounded>(event.what);
        });
    };
    CHECK(notes(melodies[0]) == 4);
    CHECK(notes(melodies[1]) == 2);
    CHECK(std::ranges::any_of(made.diagnostics.all(), [](const Diagnostic& said) {
        return said.message.find("who may copy it") != std::string::npos;
    }));
}

TEST_CASE("the changes and the units of a tune with a pickup count it as bar 0", "[book][units]") {
    const Made made = book_by_units(
        tune_of("Title: Early\nKey: C\nMeter: 4/4\n| pickup lasts 1/4 G7 | Cmaj7 | Dm7 | G7 | Cmaj7 |\n"));
    const WrittenMusic& changes = made.sink.all<Changes>().front()->music.front();
    CHECK(changes.measures[0].number == 0);
    CHECK(changes.measures[1].number == 1);
    const auto heads = units(made.sink);
    const auto cadence =
        std::ranges::find_if(heads, [](const UnitHead* unit) { return unit->name == "ii-V-I"; });
    REQUIRE(cadence != heads.end());
    CHECK((*cadence)->places.front().first_bar == 2);
}

TEST_CASE("a phrase has its chords again behind it, over empty bars for the player's version",
          "[book][units]") {
    int found = 0;
    for (const Tune& tune : sample_tunes()) {
        const Made made = book_by_units(tune);
        for (const Etude* etude : made.sink.all<Etude>()) {
            if (!is_phrase(*etude)) continue;
            INFO(tune.chart.name() << ", " << etude->id);
            ++found;
            const WrittenMusic& music = etude->music.front();
            const std::size_t bars = music.measures.size() / 2;
            CHECK(music.measures.size() == 2 * bars);
            CHECK(sounds_in(music, 0, bars));
            CHECK_FALSE(sounds_in(music, bars, 2 * bars));
            CHECK(music.measures[bars - 1].right == Barline::Double);
            REQUIRE_FALSE(music.texts.empty());
            CHECK(music.texts.back().text == "your version");
            CHECK(music.texts.back().measure == bars);
            CHECK(music.chords_of(music.measures[bars]).size() > 0);
            CHECK_FALSE(etude->boxes.empty());
        }
    }
    CHECK(found > 60);
}

TEST_CASE(
    "a phrase that ends before its long unit has no lines of rests behind it; a mode is named as its scale",
    "[book][units]") {
    const Made made =
        book_by_units(tune_of("Title: Still Water\nKey: D minor\nMeter: 4/4\nFeel: straight\n[A]\n| Dm11 | % "
                              "| % | % | % | % | % "
                              "| % |\n[B]\n| Fmaj7#11 | % | % | % | Ebmaj7 | % | Gm7 | A7sus4 |\n"),
                      "flute");
    // What stands alone has its pages too where hardly a chord leads on.
    std::set<std::string> titles;
    for (const UnitHead* head : units(made.sink)) titles.insert(title_of(*head));
    CHECK(titles == std::set<std::string>{"Lone chord in D minor, bars 12 to 15",
                                          "Lone chord in D minor, bars 8 to 13",
                                          "Modal stretch in D Dorian, bars 1 to 8"});
    int found = 0;
    for (const Etude* etude : made.sink.all<Etude>()) {
        if (!is_phrase(*etude)) continue;
        ++found;
        const WrittenMusic& music = etude->music.front();
        const std::size_t bars = music.measures.size() / 2;
        for (std::size_t from = 0; from < bars; from += 4)
            CHECK(sounds_in(music, from, std::min(from + 4, bars)));
    }
    CHECK(found > 0);
}

TEST_CASE("a hard unit has phrases of two levels, the easier first; in another key there is one",
          "[book][units]") {
    const Made made = book_by_units(tune_of(kThreeKeys));
    std::vector<std::string> titles;
    int elsewhere = 0;
    int section = 0;
    for (const Etude* etude : made.sink.all<Etude>()) {
        if (!is_phrase(*etude)) continue;
        if (section == 0) section = etude->number.section;
        if (etude->number.section != section) continue;
        if (etude->place) {
            ++elsewhere;
        } else {
            titles.push_back(etude->title);
        }
    }
    REQUIRE(titles.size() == 2);
    CHECK(titles == std::vector<std::string>{"Easy phrase", "Phrase"});
    // With the empty bars below them two pages have room for one.
    CHECK(elsewhere == 1);
}

TEST_CASE("who begins does so with the easiest unit, at its easiest place, at first without a composed etude",
          "[book][units]") {
    const Tune tune = tune_of(
        "Title: Two Steps\nKey: C\nTempo: 140\n[A]\n| Dm7 G7alt | Cmaj7 | Em7 A7alt Dm7 G7 | C6 |\n"
        "| Dm7 | G7 | Cmaj7 | Cmaj7 |\n| Cmaj7 | B7 Bb7 | Am7 | Am7 |\n");
    const auto of_level = [&](int level) {
        RecordingSink sink;
        Diagnostics diagnostics;
        BookOptions options;
        options.by = BookBy::Unit;
        options.etude.level = level;
        options.drills = usual_drills();
        const std::vector<BookPart> parts{part("flute")};
        assemble_book({tune}, parts, 0, options, sink, diagnostics);
        return sink;
    };
    for (const int level : {1, 2, 4}) {
        INFO(level);
        const RecordingSink sink = of_level(level);
        const TuneOverview& overview = *sink.all<TuneOverview>().front();
        CHECK(overview.easiest_first == (level < 4));
        std::vector<Grade> grades;
        for (const TuneOverview::Row& row : overview.units) {
            if (row.section > 0) grades.push_back(row.unit.grade);
            if (row.unit.name == "ii-V-I") CHECK((row.unit.places.front().first_bar == 5) == (level < 4));
        }
        REQUIRE(grades.size() > 1);
        if (level < 4) CHECK(std::ranges::is_sorted(grades));
        const auto etudes = sink.all<Etude>();
        CHECK(std::ranges::none_of(etudes, [](const Etude* etude) {
                  return etude->title == "Composed etude";
              }) == (level == 1));
    }
}

TEST_CASE(
    "a unit comes to rest on its goal; what stands behind it in the bar is named, and nothing sounds there",
    "[book][units]") {
    const Made made = book_by_units(
        tune_of("Title: Goal\nKey: C\nTempo: 150\n| Am7 | Dm7 G7alt | Cmaj7 Eb7 | Abmaj7 | Fm7 | Cmaj7 |\n"),
        "flute");
    int lines = 0;
    for (const Etude* etude : made.sink.all<Etude>()) {
        if (etude->number.section != 1 || etude->number.piece == 0) continue;
        ++lines;
        const WrittenMusic& music = etude->music.front();
        const Measure& last = music.measures.back();
        const auto chords = music.chords_of(last);
        REQUIRE(chords.size() == 2);
        CHECK(to_string(*chords.front().symbol) == "Cmaj7");
        CHECK(to_string(*chords.back().symbol) == "Eb7");
        const auto sounds_behind = [&](const Event& event) {
            return std::holds_alternative<Sounded>(event.what) && event.at + event.length > chords.back().at;
        };
        CHECK(std::ranges::none_of(music.events_of(last), sounds_behind));
    }
    CHECK(lines > 3);
}

TEST_CASE("a unit that many bars have keeps its pages before one that few have", "[book][units]") {
    const Tune tune = tune_of(
        "Title: Long Ladder\nKey: G\nMeter: 3/4\nTempo: 152\n[A]\n"
        "| Gmaj7 | % | C#m7b5 | F#7(b9) | Bm7 | Bb7 | Am7 | D7 |\n| Gmaj7 | E7alt | Am7 | Cm6 | Bm7 E7 | Am7 "
        "| D7sus4 | D7 |\n"
        "[B]\n| Dm7 | G7 | Cmaj7 | % | Cm7 | F7 | Bbmaj7 | % |\n| Am7b5 | D7(b9) | Gm7 | C7 | Am7 | Ab7 | "
        "Gmaj7 | D7 |\n");
    const Made made = book_by_units(tune, "guitar");
    std::set<int> bars;
    for (const UnitHead* head : units(made.sink)) {
        for (const UnitHead::Place& place : head->places) {
            for (int bar = place.first_bar; bar <= place.last_bar; ++bar) bars.insert(bar);
        }
    }
    // The two ii-V-I of the bridge, eight bars of 32.
    for (int bar = 17; bar <= 24; ++bar) CHECK(bars.contains(bar));
}

TEST_CASE("notes are not practised from a root that never rests on them", "[book][units]") {
    const Tune tune = tune_of(
        "Title: Low Door\nKey: D minor\nTempo: 90\n[A]\n| Em7b5 | % | A7 | % |\n| Em7b5 | % | % | A7 |\n| "
        "Dm7 | "
        "Bbmaj7 | Gm7 | Dm7 |\n");
    int shared = 0;
    const Made made = book_by_units(tune, "flute");
    for (const SectionStart* start : made.sink.all<SectionStart>()) {
        const auto* head = std::get_if<TopicHead>(&start->head);
        if (head == nullptr) continue;
        CHECK(to_string(head->parts.front().scale) != "E Locrian");
        shared += static_cast<int>(std::ranges::count_if(
            head->shares, [](const TopicInPart& topic) { return to_string(topic.scale) == "E Locrian"; }));
    }
    CHECK(shared == 1);
}

TEST_CASE("a phrase at another place holds no note outside the scales there", "[book][units]") {
    // The hardest place has an altered dominant, the others a plain one.
    const Tune tune = tune_of(
        "Title: One Bent\nKey: C\nMeter: 4/4\n[A]\n| Dm7 G7alt | Cmaj7 | Am7 D7 | Gmaj7 |\n"
        "| Bbm7 Eb7 | Abmaj7 | Dm7 G7alt | Cmaj7 |\n");
    int phrases_elsewhere = 0;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        const Made made = book_by_units(tune, "flute", seed);
        for (const Etude* etude : made.sink.all<Etude>()) {
            if (!is_phrase(*etude) || !etude->place) continue;
            ++phrases_elsewhere;
            const WrittenMusic& music = etude->music.front();
            const EtudeGround ground =
                ground_of(tune.timeline, tune.analysis,
                          {.bars = std::pair{etude->place->first_bar, etude->place->last_bar}, .once = true});
            for (std::size_t bar = 0; bar < ground.bars.size(); ++bar) {
                for (const Event& event : music.events_of(music.measures[bar])) {
                    const auto* note = std::get_if<Sounded>(&event.what);
                    if (note == nullptr || event.length < music.ticks_per_quarter) continue;
                    const Duration in_bar{Rational{event.at, 4 * music.ticks_per_quarter}};
                    const ScaleSpan& span = span_at(ground, ground.bars[bar].at + in_bar);
                    CHECK(sounds(span.notes).contains(note->pitch.on_paper().midi() % 12));
                }
            }
        }
    }
    CHECK(phrases_elsewhere > 6);
}

TEST_CASE("another seed gives other phrases, the same one the same", "[book][units]") {
    const auto ids = [](std::uint64_t seed) {
        const Made made = book_by_units(tune_of(kThreeKeys), "alto-sax", seed);
        std::vector<std::string> out;
        for (const Etude* etude : made.sink.all<Etude>()) {
            if (is_phrase(*etude)) out.push_back(etude->id);
        }
        return out;
    };
    CHECK(ids(1) == ids(1));
    CHECK((ids(1) != ids(2) || ids(1) != ids(3)));
}

// 124 characters under a line of bars: from measurement of the engraver's pages.
TEST_CASE("the words under a narrow chord end before those under the next", "[book]") {
    const Tune tune = tune_of(
        "Title: Close Rungs\nKey: G\nMeter: 4/4\n[A]\n| G6 | Em7b5 A7b9 | Am7b5 D7b9 | Bm7b5 E7b9 | Am6 | "
        "Fm6 Bb7 | G6 |\n");
    const Made made = book_by_units(tune);
    std::size_t words = 0;
    for (const UnitBars* bars : made.sink.all<UnitBars>()) {
        const WrittenMusic& music = bars->music.front();
        const Rational room_of_bar{124, std::clamp<std::int64_t>(std::ssize(music.measures), 4, 5)};
        for (const TextMark& mark : music.texts) {
            const auto chords = music.chords_of(music.measures[mark.measure]);
            const auto share = Rational{1, std::max<std::int64_t>(1, std::ssize(chords))};
            CAPTURE(mark.text);
            CHECK(Rational{static_cast<std::int64_t>(count_characters(mark.text)) + 2} <=
                  room_of_bar * share);
            ++words;
        }
    }
    CHECK(words >= 10);
}

TEST_CASE("a ii-V that is none in its key says beside its name what it does, and is played to where it rests",
          "[book][units]") {
    const Made made = book_by_units(tune_of("Title: Side Door\nKey: Bb\nMeter: 4/4\n[A]\n| Bbmaj7 | % | "
                                            "Ebmaj7 | % |\n| Cm7 | F7 | Bbmaj7 | % |\n"
                                            "| Cm7 | Ebm7 Ab7 | Dm7 G7 | Cm7 F7 |\n| Bb6 | % | Bb6 | % |\n"),
                                    "flute");
    const auto heads = units(made.sink);
    const auto found = std::ranges::find(heads, "iv7-bVII7 in Bb major", &UnitHead::here);
    REQUIRE(found != heads.end());
    const UnitHead::Place& place = (*found)->places.front();
    CHECK(title_of(**found) == "ii-V in Db major, bars 10 to 13");
    CHECK(reason_of(**found).starts_with("here iv7-bVII7 in Bb major; "));
    CHECK(std::pair{place.first_bar, place.last_bar} == std::pair{10, 13});
    // What the same bars hold beside it has no section of its own.
    CHECK(std::ranges::count_if(made.sink.all<SectionStart>(), [](const SectionStart* start) {
              const auto* unit = std::get_if<UnitHead>(&start->head);
              return unit != nullptr && unit->places.front().first_bar >= 10 &&
                     unit->places.front().last_bar <= 13;
          }) == 1);
}

TEST_CASE("chords that go by too quickly for an arpeggio have two bars for one", "[book][units]") {
    const Made made = book_by_units(tune_of("Title: Quick Steps\nKey: C\nTempo: 120\n| Em7 A7 Dm7 G7 | Cmaj7 "
                                            "| Cmaj7 | % |\n| Cmaj7 | % | % | % |\n"),
                                    "flute");
    int slow = 0;
    for (const Etude* etude : made.sink.all<Etude>()) {
        if (!etude->id.starts_with("arpeggio")) continue;
        INFO(etude->title);
        const WrittenMusic& music = etude->music.front();
        REQUIRE_FALSE(music.texts.empty());
        CHECK(music.texts.front().text == "two bars for one");
        REQUIRE(music.measures.size() == 4);
        for (std::size_t bar = 0; bar < 2; ++bar) {
            const auto chords = music.chords_of(music.measures[bar]);
            CHECK(chords.size() == 2);
            CHECK(music.events_of(music.measures[bar]).size() == 8);
        }
        ++slow;
    }
    CHECK(slow > 0);
}

TEST_CASE("two bars are played twice, and the second time is another way or left out", "[book][units]") {
    int again = 0;
    int once = 0;
    for (const Tune& tune : sample_tunes()) {
        const Made made = book_by_units(tune);
        for (const Etude* etude : made.sink.all<Etude>()) {
            const WrittenMusic& music = etude->music.front();
            if (etude->number.piece == 0 || is_phrase(*etude) || music.measures.size() > 4) continue;
            const auto mark = std::ranges::find(music.texts, "another way", &TextMark::text);
            if (mark == music.texts.end()) {
                once += music.measures.size() <= 2 ? 1 : 0;
                continue;
            }
            ++again;
            CHECK(mark->measure * 2 == music.measures.size());
            std::array<std::vector<int>, 2> halves;
            for (std::size_t bar = 0; bar < music.measures.size(); ++bar) {
                for (const Event& event : music.events_of(music.measures[bar])) {
                    if (const auto* note = std::get_if<Sounded>(&event.what))
                        halves[bar < mark->measure ? 0 : 1].push_back(note->pitch.on_paper().midi());
                }
            }
            CHECK(halves[0] != halves[1]);
        }
    }
    CHECK(again > 20);
    CHECK(once > 0);
}

namespace {

const char* const kAltered =
    "Title: Iron Gate\nKey: C\nMeter: 4/4\n[A]\n| Cmaj7 | % | Dm7 | G7alt |\n| Cmaj7 | % | Dm7 | G7alt |\n"
    "| Fmaj7 | Fm7 Bb7 | Cmaj7 | % |\n| Dm7 | G7alt | Cmaj7 | % |\n";

Made book_of_level(const char* chart, int level, std::vector<const DrillTemplate*> drills) {
    Made out;
    const std::vector<BookPart> parts{part("flute")};
    BookOptions options;
    options.by = BookBy::Unit;
    options.etude.level = level;
    options.drills = std::move(drills);
    assemble_book({tune_of(chart)}, parts, 0, options, out.sink, out.diagnostics);
    return out;
}

}  // namespace

TEST_CASE(
    "a scale is drilled right behind the first unit that needs it, an unusual one on the root of its chord",
    "[book][units]") {
    const Made altered = book_of_level(kAltered, 4, usual_drills());
    std::string before;
    for (const SectionStart* start : altered.sink.all<SectionStart>()) {
        const auto* topic = std::get_if<TopicHead>(&start->head);
        if (topic != nullptr && to_string(topic->parts.front().scale) == "G altered") {
            CHECK(before == "ii-V");
            before = "found";
            break;
        }
        if (topic == nullptr) before = std::get<UnitHead>(start->head).name;
    }
    CHECK(before == "found");
    int behind = 0;
    for (const Tune& tune : sample_tunes()) {
        const Made made = book_by_units(tune, "flute");
        const std::vector<ScaleTable::Row>& rows = made.sink.all<ScaleTable>().front()->rows;
        const UnitHead::Place* place = nullptr;
        // Of a blues the first unit is the whole form, and is drilled in its first line.
        if (units(made.sink).front()->name == "blues frame") continue;
        for (const SectionStart* start : made.sink.all<SectionStart>()) {
            if (const auto* unit = std::get_if<UnitHead>(&start->head)) place = &unit->places.front();
            if (std::holds_alternative<UnitHead>(start->head) || place == nullptr) continue;
            const bool is_needed = std::ranges::any_of(rows, [&](const ScaleTable::Row& row) {
                return row.section == start->number && std::ranges::any_of(row.bars, [&](int bar) {
                           return bar >= place->first_bar && bar <= place->last_bar;
                       });
            });
            behind += is_needed ? 1 : 0;
            INFO(tune.chart.name() << ", section " << start->number);
            // What no unit needs stands behind the last.
            if (!is_needed) CHECK(place == &units(made.sink).back()->places.front());
        }
    }
    CHECK(behind > 20);
}

TEST_CASE("who begins has the chord in place of an unusual scale, behind the plain ones", "[book][units]") {
    const Made made = book_of_level(
        kAltered, 2, {find_drill("octave-scale"), find_drill("thirds"), find_drill("arpeggio")});
    CHECK(to_string(made.sink.heads().front()->parts.front().scale) == "C Ionian");
    for (const Drill* drill : made.sink.all<Drill>()) {
        if (to_string(drill->topic.scale) == "G altered") CHECK(drill->id == "arpeggio");
    }
}

TEST_CASE("the table says of each scale whether its section begins on it, or on which of the same notes",
          "[book][units]") {
    int drilled = 0;
    int same = 0;
    for (const Tune& tune : sample_tunes()) {
        const Made made = book_by_units(tune, "piano");
        std::map<int, Scale> begins;
        for (const ScaleTable::Row& row : made.sink.all<ScaleTable>().front()->rows) {
            if (row.section > 0 && !row.drilled_as) begins.emplace(row.section, row.topic.scale);
        }
        for (const ScaleTable::Row& row : made.sink.all<ScaleTable>().front()->rows) {
            INFO(tune.chart.name() << ": " << to_string(row.topic.scale));
            if (row.section == 0) CHECK_FALSE(row.drilled_as);
            if (row.section == 0) continue;
            REQUIRE(begins.contains(row.section));
            CHECK(row.drilled_as.value_or(row.topic.scale) == begins.at(row.section));
            ++(row.drilled_as ? same : drilled);
        }
    }
    CHECK(drilled > 20);
    CHECK(same > 20);
}

TEST_CASE("under the changes a new key is said, and again where its tonic is reached", "[book][units]") {
    const Made made = book_by_units(
        tune_of("Title: Two Rooms\nKey: C\nMeter: 4/4\n[A]\n| Cmaj7 | Dm7 G7 | Cmaj7 | F#m7 B7 |\n| Emaj7 | "
                "% | F#m7 B7 | Emaj7 |\n| Dm7 | G7 | Cmaj7 | % |\n"),
        "flute");
    std::vector<std::string> said;
    for (const TextMark& mark : made.sink.all<Changes>().front()->music.front().texts) {
        if (mark.text.find(": ") != std::string::npos) said.push_back(mark.text);
    }
    CHECK(said == std::vector<std::string>{"E: ii7", "E: Imaj7", "C: ii7"});
}

TEST_CASE("a scale chosen for two reasons is told by the commoner one, and the table says so", "[book]") {
    const Made made =
        book_by_units(tune_of("Title: Two Whys\nKey: C\nMeter: 4/4\n[A]\n| Cmaj7 | G7 | Am7 | Dm7 |\n| G7 | "
                              "Cmaj7 | Dm7 G7 | Cmaj7 |\n"));
    const auto& rows = made.sink.all<ScaleTable>().front()->rows;
    const auto five = std::ranges::find_if(rows, [](const ScaleTable::Row& row) {
        return row.topic.symbol && to_string(*row.topic.symbol) == "E7";  // as an alto saxophone reads it
    });
    REQUIRE(five != rows.end());
    CHECK(five->bars == std::vector{2, 5, 7});
    CHECK_THAT(five->reason, Catch::StartsWith("mostly V7 going home"));
}

}  // namespace shedbook
