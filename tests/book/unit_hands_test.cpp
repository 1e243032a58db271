// The line of a hard unit for the hands of an instrument of harmony. What such lines are: common practice, no
// source.
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "recording_sink.h"
#include "shedbook/band/accompaniment.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

std::vector<Etude> hand_lines(const Tune& tune, const char* instrument, const std::string& id,
                              const char* range = "practical", int level = 4) {
    RecordingSink sink;
    Diagnostics diagnostics;
    const Instrument* played = find_instrument(instrument);
    const std::vector<BookPart> parts{
        {.instrument = played, .range = *parse_range(range, *played), .frets = parse_frets(range)}};
    BookOptions options;
    options.by = BookBy::Unit;
    options.etude.level = level;
    assemble_book({tune}, parts, 0, options, sink, diagnostics);
    std::vector<Etude> out;
    for (const Etude* etude : sink.all<Etude>()) {
        if (etude->id == id) out.push_back(*etude);
    }
    return out;
}

// The bars of a ii-V-I, which is hard enough to have an opening.
const char* const kCadence = "Title: Gate\nKey: Db\nMeter: 4/4\n[A]\n| Ebm7 | Ab7 | Dbmaj7 | % |\n";

// What sounds where a measure has its chord; nothing: a rest, or no note begins there.
const Sounded* struck_at(const WrittenMusic& music, const Measure& measure, Ticks at) {
    for (const Event& event : music.events_of(measure)) {
        const auto* note = std::get_if<Sounded>(&event.what);
        if (note != nullptr && event.at == at && !note->tied_from_before) return note;
    }
    return nullptr;
}

bool is_silent_from(const WrittenMusic& music, const Measure& measure, Ticks at) {
    return std::ranges::none_of(music.events_of(measure), [&](const Event& event) {
        return std::holds_alternative<Sounded>(event.what) && event.at + event.length > at;
    });
}

std::vector<int> keys_of(const WrittenMusic& music, std::size_t from, std::size_t to) {
    std::vector<int> out;
    for (std::size_t m = from; m < to; ++m) {
        for (const Event& event : music.events_of(music.measures[m])) {
            if (const auto* note = std::get_if<Sounded>(&event.what))
                out.push_back(sounding(music, note->pitch).midi());
        }
    }
    return out;
}

int bass_of_symbol(const ChordSymbol& symbol) {
    return symbol.bass.value_or(symbol.root).semitone();
}

// "x 3 2 3 4 x" as keys, given the open strings.
std::vector<int> keys_of_frets(const std::string& text, const Instrument& instrument) {
    std::vector<int> out;
    std::size_t string = 0;
    for (const std::string_view word : split(text, ' ')) {
        const int open =
            (instrument.strings.at(string++).on_paper() + to_sounding(instrument.transposition)).midi();
        if (word != "x") out.push_back(open + std::stoi(std::string{word}));
    }
    std::ranges::sort(out);
    return out;
}

}  // namespace

TEST_CASE("a walking line has the bass of each chord where it comes, in the range of the band's bass",
          "[book][hands]") {
    int changes = 0;
    for (const char* instrument : {"double-bass", "electric-bass-5"}) {
        for (const Tune& tune : sample_tunes()) {
            INFO(tune.chart.name() << " for " << instrument);
            for (const Etude& etude : hand_lines(tune, instrument, "bass-line")) {
                const WrittenMusic& music = etude.music.front();
                for (const Measure& measure : music.measures) {
                    for (const ChordMark& mark : music.chords_of(measure)) {
                        if (!mark.symbol) continue;
                        // What begins behind the goal is only named.
                        if (mark.at > 0 && is_silent_from(music, measure, mark.at)) continue;
                        const Sounded* note = struck_at(music, measure, mark.at);
                        REQUIRE(note != nullptr);
                        CHECK(note->pitch.on_paper().name().semitone() == bass_of_symbol(*mark.symbol));
                        ++changes;
                    }
                }
                for (const int key : keys_of(music, 0, music.measures.size())) {
                    CHECK(key >= 28);  // E1
                    CHECK(key <= 50);  // D3
                }
            }
        }
    }
    CHECK(changes > 200);
}

TEST_CASE("a walking line goes in beats and rests on the bass of its last chord", "[book][hands]") {
    const Tune tune = tune_of(kCadence);
    const std::vector<Etude> lines = hand_lines(tune, "double-bass", "bass-line");
    REQUIRE_FALSE(lines.empty());
    CHECK(lines.front().title == "Walking line");
    const WrittenMusic& music = lines.front().music.front();
    for (std::size_t m = 0; m + 1 < music.measures.size(); ++m) CHECK(music.measures[m].event_count == 4);
    REQUIRE(music.measures.back().event_count == 1);
    const auto& last = std::get<Sounded>(music.events.back().what);
    CHECK(to_string(last.pitch.on_paper().name()) == "Db");
    CHECK_FALSE(lines.front().boxes.empty());
}

TEST_CASE("in three a walking line has three notes a bar", "[book][hands]") {
    const Tune tune =
        tune_of("Title: Turn\nKey: Db\nMeter: 3/4\n[A]\n| Ebm7 | Ab7 | Dbmaj7 | % | Bbm7 | % |\n");
    const std::vector<Etude> lines = hand_lines(tune, "double-bass", "bass-line");
    REQUIRE_FALSE(lines.empty());
    CHECK(lines.front().music.front().measures.front().event_count == 3);
}

TEST_CASE("a walking line played twice walks another way the second time", "[book][hands]") {
    int twice = 0;
    int differ = 0;
    for (const Tune& tune : sample_tunes()) {
        for (const Etude& etude : hand_lines(tune, "double-bass", "bass-line")) {
            const WrittenMusic& music = etude.music.front();
            const std::size_t half = music.measures.size() / 2;
            if (half == 0 || music.measures.front().number != music.measures[half].number) continue;
            ++twice;
            // All but the last bar, in which the second time comes to rest.
            if (keys_of(music, 0, half - 1) != keys_of(music, half, 2 * half - 1)) ++differ;
        }
    }
    CHECK(twice > 5);
    CHECK(differ * 4 > twice * 3);
}

TEST_CASE("hands that would play the same a second time play once", "[book][hands]") {
    for (const char* instrument : {"piano", "guitar"}) {
        const char* line = std::string_view{instrument} == "piano" ? "voicings" : "comping-shapes";
        for (const Tune& tune : sample_tunes()) {
            for (const Etude& etude : hand_lines(tune, instrument, line)) {
                const WrittenMusic& music = etude.music.front();
                const std::size_t half = music.measures.size() / 2;
                if (half == 0 || music.measures.front().number != music.measures[half].number) continue;
                INFO(tune.chart.name() << " for " << instrument);
                CHECK(keys_of(music, 0, half) != keys_of(music, half, 2 * half));
            }
        }
    }
}

TEST_CASE("a walking line stays in the range that is asked for, and is left out where that has no octave",
          "[book][hands]") {
    const Tune tune = tune_of(kCadence);
    const std::vector<Etude> lines = hand_lines(tune, "double-bass", "bass-line", "A2-C4");
    REQUIRE_FALSE(lines.empty());
    const WrittenMusic& music = lines.front().music.front();
    for (const int key : keys_of(music, 0, music.measures.size())) {
        CHECK(key >= 33);  // sounding A1
        CHECK(key <= 48);  // C3
    }
    CHECK(hand_lines(tune, "double-bass", "bass-line", "G3-A4").empty());
}

TEST_CASE("voicings have third and seventh of each chord where it comes, and again in each bar it goes on",
          "[book][hands]") {
    int chords = 0;
    for (const char* instrument : {"piano", "piano-both-hands", "accordion"}) {
        for (const Tune& tune : sample_tunes()) {
            for (const Etude& etude : hand_lines(tune, instrument, "voicings")) {
                INFO(tune.chart.name() << " for " << instrument);
                const WrittenMusic& music = etude.music.front();
                std::optional<ChordSymbol> symbol;
                for (const Measure& measure : music.measures) {
                    std::set<Ticks> places{0};
                    for (const ChordMark& mark : music.chords_of(measure)) places.insert(mark.at);
                    for (const Ticks at : places) {
                        for (const ChordMark& mark : music.chords_of(measure)) {
                            if (mark.at <= at) symbol = mark.symbol;
                        }
                        const Sounded* note = struck_at(music, measure, at);
                        if (!symbol || note == nullptr) continue;
                        std::set<int> sounds_of_chord{note->pitch.on_paper().name().semitone()};
                        for (const ChordNote& other : music.notes_below(*note))
                            sounds_of_chord.insert(other.pitch.on_paper().name().semitone());
                        const std::vector<int> tones = comping_tones(*symbol);
                        INFO(to_string(*symbol));
                        CHECK(sounds_of_chord.contains(tones[0]));
                        CHECK(sounds_of_chord.contains(tones[1]));
                        ++chords;
                    }
                }
            }
        }
    }
    CHECK(chords > 300);
}

TEST_CASE("the left hand has the root of each chord, on a bass staff under the voicing", "[book][hands]") {
    for (const char* instrument : {"piano", "piano-both-hands", "electric-piano"}) {
        INFO(instrument);
        const std::vector<Etude> lines = hand_lines(tune_of(kCadence), instrument, "voicings");
        REQUIRE_FALSE(lines.empty());
        const WrittenMusic& music = lines.front().music.front();
        REQUIRE(music.lower.size() == 1);
        const WrittenMusic& left = music.lower.front();
        CHECK(left.clef.sign == 'F');
        REQUIRE(left.measures.size() == music.measures.size());
        for (std::size_t m = 0; m < 3; ++m) {
            const Sounded* root = struck_at(left, left.measures[m], 0);
            REQUIRE(root != nullptr);
            CHECK(root->below_count == 0);
            const std::vector<std::string> roots{"Eb", "Ab", "Db"};
            CHECK(to_string(root->pitch.on_paper().name()) == roots[m]);
        }
    }
}

TEST_CASE("at level three voicings of a unit with an altered dominant have its tension", "[book][hands]") {
    const Tune tune = tune_of("Title: Bent Gate\nKey: Cm\n[A]\n| Dm7b5 | G7(b9) | Cm7 | % |\n");
    const std::vector<Etude> lines = hand_lines(tune, "piano", "voicings", "practical", 3);
    REQUIRE_FALSE(lines.empty());
    const WrittenMusic& music = lines.front().music.front();
    const Sounded* chord = struck_at(music, music.measures.at(1), 0);
    REQUIRE(chord != nullptr);
    CHECK(std::ranges::any_of(music.notes_below(*chord), [](const ChordNote& note) {
        return note.pitch.on_paper().name().semitone() == 8;
    }));
}

TEST_CASE("up to level three a voicing is third and seventh, then it has four notes", "[book][hands]") {
    for (const int level : {1, 3, 4, 6}) {
        const std::vector<Etude> lines =
            hand_lines(tune_of(kCadence), "piano", "voicings", "practical", level);
        REQUIRE_FALSE(lines.empty());
        const WrittenMusic& music = lines.front().music.front();
        const Sounded* chord = struck_at(music, music.measures[0], 0);
        REQUIRE(chord != nullptr);
        CHECK(chord->below_count == (level <= 3 ? 1 : 3));
    }
}

TEST_CASE("no voicing has two heads on one line or space", "[book][hands]") {
    int chords = 0;
    for (const Tune& tune : sample_tunes()) {
        for (const Etude& etude : hand_lines(tune, "piano", "voicings", "practical", 5)) {
            const WrittenMusic& music = etude.music.front();
            for (const Event& event : music.events) {
                const auto* note = std::get_if<Sounded>(&event.what);
                if (note == nullptr) continue;
                const auto place = [](Pitch pitch) { return std::pair{pitch.name().step(), pitch.octave()}; };
                std::set places{place(note->pitch.on_paper())};
                for (const ChordNote& other : music.notes_below(*note))
                    places.insert(place(other.pitch.on_paper()));
                INFO(tune.chart.name());
                CHECK(places.size() == music.notes_below(*note).size() + 1);
                ++chords;
            }
        }
    }
    CHECK(chords > 100);
}

TEST_CASE("shapes are struck on every beat of a swing tune, early in an even one, and named once",
          "[book][hands]") {
    const auto strokes = [](const char* feel) {
        const Tune tune = tune_of((std::string{"Title: Gate\nKey: Db\nMeter: 4/4\nFeel: "} + feel +
                                   "\n[A]\n| Ebm7 | Ab7 | Dbmaj7 | % |\n")
                                      .c_str());
        const WrittenMusic music = hand_lines(tune, "guitar", "comping-shapes").at(0).music.front();
        std::vector<Ticks> out;
        std::size_t e = 0;
        int named = 0;
        for (const Event& event : music.events_of(music.measures.front())) {
            const auto* note = std::get_if<Sounded>(&event.what);
            if (note != nullptr && !note->tied_from_before)
                out.push_back(event.at * 2 / music.ticks_per_quarter);
            named += music.fingerings.at(e++).text.empty() ? 0 : 1;
        }
        CHECK(named == 1);
        return out;
    };
    CHECK(strokes("swing") == std::vector<Ticks>{0, 2, 4, 6});
    CHECK(strokes("bossa nova") == std::vector<Ticks>{0, 3, 6});
}

// An altered chord may have but one.
TEST_CASE("a second chorus of voicings begins in another position, where the chord has one",
          "[book][hands]") {
    int twice = 0;
    int differ = 0;
    for (const Tune& tune : sample_tunes()) {
        for (const Etude& etude : hand_lines(tune, "piano", "voicings")) {
            const WrittenMusic& music = etude.music.front();
            const std::size_t half = music.measures.size() / 2;
            if (half == 0 || music.measures.front().number != music.measures[half].number) continue;
            const Sounded* first = struck_at(music, music.measures.front(), 0);
            const Sounded* second = struck_at(music, music.measures[half], 0);
            if (first == nullptr || second == nullptr) continue;
            ++twice;
            differ += music.notes_below(*first).back().pitch.on_paper().name() !=
                              music.notes_below(*second).back().pitch.on_paper().name()
                          ? 1
                          : 0;
        }
    }
    CHECK(twice > 5);
    INFO(twice << " of two choruses, " << differ << " of them differ");
    CHECK(10 * (twice - differ) <= 2 * twice);
}

TEST_CASE("the frets under a shape are those of its notes, one for each string", "[book][hands]") {
    for (const char* name : {"guitar", "tenor-banjo", "ukulele"}) {
        INFO(name);
        const Instrument& instrument = *find_instrument(name);
        const std::vector<Etude> lines = hand_lines(tune_of(kCadence), name, "comping-shapes");
        REQUIRE_FALSE(lines.empty());
        const WrittenMusic& music = lines.front().music.front();
        int shapes = 0;
        for (std::size_t e = 0; e < music.events.size(); ++e) {
            const auto* note = std::get_if<Sounded>(&music.events[e].what);
            if (note == nullptr || note->tied_from_before) continue;
            std::vector<int> keys{sounding(music, note->pitch).midi()};
            for (const ChordNote& other : music.notes_below(*note))
                keys.push_back(sounding(music, other.pitch).midi());
            std::ranges::sort(keys);
            if (music.fingerings.at(e).text.empty()) continue;  // again
            CHECK(keys_of_frets(music.fingerings.at(e).text, instrument) == keys);
            ++shapes;
        }
        CHECK(shapes >= 3);
    }
}

TEST_CASE("shapes stay in the part of the neck that is asked for", "[book][hands]") {
    const std::vector<Etude> lines = hand_lines(tune_of(kCadence), "guitar", "comping-shapes", "frets 5-9");
    REQUIRE_FALSE(lines.empty());
    const WrittenMusic& music = lines.front().music.front();
    for (const NoteFingering& fingering : music.fingerings) {
        for (const std::string_view word : split(fingering.text, ' ')) {
            if (word.empty() || word == "x") continue;
            CHECK(std::stoi(std::string{word}) >= 5);
            CHECK(std::stoi(std::string{word}) <= 9);
        }
    }
}

TEST_CASE("who plays no harmony has no line more", "[book][hands]") {
    const Tune tune = tune_of(kCadence);
    for (const char* instrument : {"alto-sax", "tuba", "cello"}) {
        INFO(instrument);
        CHECK(hand_lines(tune, instrument, "bass-line").empty());
        CHECK(hand_lines(tune, instrument, "voicings").empty());
        CHECK(hand_lines(tune, instrument, "comping-shapes").empty());
    }
}

}  // namespace shedbook
