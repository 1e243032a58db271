#include "../../src/book/handling.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "recording_sink.h"
#include "shedbook/book/etude.h"

namespace shedbook {
namespace {

const char* const kLongWay =
    "Title: Long Way\nKey: Bb\nTempo: 150\nFeel: swing\n| Cm7 | F7 | Bbmaj7 | G7(b9) |\n| Cm7 | F7 | Bbmaj7 "
    "| Ab7 "
    "|\n| Am7b5 | D7alt | Gm6 | C7 |\n| Fm7 Bb7 | Ebmaj7 | Cm7 F7 | Bb6 |\n";

int key(const char* name) {
    return parse_pitch(name)->midi();
}

std::vector<Pitch> sounding_notes(const WrittenMusic& music) {
    std::vector<Pitch> out;
    for (const Event& event : music.events) {
        const auto* note = std::get_if<Sounded>(&event.what);
        if (note != nullptr && !note->tied_from_before) out.push_back(sounding(music, note->pitch));
    }
    return out;
}

std::vector<Pitch> etude_notes(const char* instrument, const char* kind, int level, std::uint64_t seed,
                               int choruses = 1) {
    const Tune tune = tune_of(kLongWay);
    const std::vector<BookPart> parts{part(instrument)};
    const auto etude =
        EtudeMaker{parts, {.kind = kind, .level = level, .seed = seed, .choruses = choruses}}.make(tune, {0});
    REQUIRE(etude);
    return sounding_notes(etude->music.front());
}

}  // namespace

TEST_CASE("every instrument is handled, and what is far for the hand costs at speed", "[book]") {
    for (const Instrument& instrument : instruments()) static_cast<void>(handling_of(instrument));
    constexpr double kFast = 0.1;
    constexpr double kSlow = 1.0;
    // Bb2 in first position, B2 in the seventh.
    const Handling slide = handling_of(*find_instrument("trombone"));
    CHECK(slide.cost(key("Bb2"), key("B2"), kFast) > 1);
    CHECK(slide.cost(key("Bb2"), key("B2"), kSlow) == 0);
    CHECK(slide.cost(key("Bb2"), key("A2"), kFast) == 0);
    CHECK_FALSE(slide.slurs);
    // Written C#4 (123) after D4 (13) is nothing; written Ab4 (23) and G4 (open) neither; E4 (12) to Eb4 (23)
    // is.
    const Handling valves = handling_of(*find_instrument("trumpet-in-c"));
    CHECK(valves.cost(key("D4"), key("C#4"), kFast) == 0);
    CHECK(valves.cost(key("A4"), key("Ab4"), kFast) > 0);
    CHECK(valves.slurs);
    // Two strings skipped.
    const Handling bow = handling_of(*find_instrument("violin"));
    CHECK(bow.cost(key("G3"), key("A4"), kFast) > 0);
    CHECK(bow.cost(key("G3"), key("D4"), kFast) == 0);
    CHECK(handling_of(*find_instrument("alto-sax")).is_easy());
    CHECK(handling_of(*find_instrument("tenor-voice")).sings);
}

TEST_CASE("lines of a slide go round long ways", "[book]") {
    const Handling slide = handling_of(*find_instrument("trombone"));
    Tune tune = tune_of(kLongWay);
    const auto far = [&](const std::vector<Pitch>& notes) {
        double out = 0;
        for (std::size_t i = 1; i < notes.size(); ++i)
            out += slide.cost(notes[i - 1].midi(), notes[i].midi(), 0.1);
        return out / static_cast<double>(notes.size());
    };
    // Two parts have no hand in common: the same request without regard for the slide.
    const std::vector<BookPart> alone{part("trombone")};
    const std::vector<BookPart> two{part("trombone"), part("euphonium")};
    double heeded = 0;
    double not_heeded = 0;
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
        const EtudeRequest request{.kind = "composed", .level = 5, .seed = seed};
        heeded += far(sounding_notes(EtudeMaker{alone, request}.make(tune, {0})->music.front()));
        not_heeded += far(sounding_notes(EtudeMaker{two, request}.make(tune, {0})->music.front()));
    }
    CHECK(heeded < 0.7 * not_heeded);
}

TEST_CASE("a voice sings no augmented step, few leaps, and stays where it is comfortable", "[book]") {
    for (const char* voice : {"soprano-voice", "alto-voice", "tenor-voice", "bass-voice"}) {
        const Instrument& instrument = *find_instrument(voice);
        const PitchRange comfortable = sounding_range(instrument, *instrument.comfortable);
        for (const char* kind : {"composed", "unbroken-scale", "guide-tones", "added-note"}) {
            int augmented = 0;
            int leaps = 0;
            int notes = 0;
            for (std::uint64_t seed = 1; seed <= 3; ++seed) {
                const std::vector<Pitch> line = etude_notes(voice, kind, 4, seed);
                for (std::size_t i = 0; i < line.size(); ++i) {
                    CHECK(comfortable.holds(line[i]));
                    if (i == 0) continue;
                    const Interval by = line[i] - line[i - 1];
                    augmented += is_augmented(by) ? 1 : 0;
                    leaps += std::abs(by.semitones()) > 4 ? 1 : 0;
                    ++notes;
                }
            }
            INFO(voice << " " << kind << ": " << augmented << " augmented, " << leaps << " leaps of "
                       << notes);
            CHECK(100 * augmented <= notes);
            CHECK(6 * leaps <= notes);
        }
    }
}

TEST_CASE("etudes stay in the comfortable range unless other notes are asked for", "[book]") {
    const Tune tune = tune_of(kLongWay);
    for (const char* name : {"double-bass", "horn", "cello", "tuba", "trombone", "flute"}) {
        const Instrument& instrument = *find_instrument(name);
        REQUIRE(instrument.comfortable);
        const PitchRange comfortable = sounding_range(instrument, *instrument.comfortable);
        for (const EtudeKind& kind : etude_kinds()) {
            for (const Pitch note : etude_notes(name, kind.id.c_str(), 6, 3)) CHECK(comfortable.holds(note));
        }
        BookPart wide = part(name);
        wide.keeps_comfortable = false;
        const std::vector<BookPart> parts{wide};
        const auto etude = EtudeMaker{parts, {.kind = "arpeggio-waves", .level = 6}}.make(tune, {0});
        const std::vector<Pitch> notes = sounding_notes(etude->music.front());
        CHECK_FALSE(std::ranges::all_of(notes, [&](Pitch note) { return comfortable.holds(note); }));
    }
}

TEST_CASE("a guide-tone line keeps to the middle of the range for sixty-four bars", "[book]") {
    for (const char* name : {"alto-sax", "trumpet", "trombone", "flute", "tenor-voice", "double-bass"}) {
        for (const int level : {1, 3, 5}) {
            const std::vector<Pitch> notes = etude_notes(name, "guide-tones", level, 7, 4);
            const std::size_t part = notes.size() / 8;
            std::vector<double> means;
            for (std::size_t k = 0; k < 8; ++k) {
                double sum = 0;
                for (std::size_t i = k * part; i < (k + 1) * part; ++i) sum += notes[i].midi();
                means.push_back(sum / static_cast<double>(part));
            }
            double all = 0;
            for (const double mean : means) all += mean / 8;
            double drift = 0;
            for (std::size_t k = 0; k < 8; ++k) {
                INFO(name << " " << level << ": " << means[k] << " against " << all);
                CHECK(std::abs(means[k] - all) <= 6);
                drift += (k < 4 ? -means[k] : means[k]) / 4;
            }
            CHECK(std::abs(drift) <= 3);
        }
    }
}

TEST_CASE("who begins has slurs, where breath or bow can slur; who is further phrases by ear", "[book]") {
    const Tune tune = tune_of(kLongWay);
    const auto slurs = [&](const char* instrument, int level) {
        const std::vector<BookPart> parts{part(instrument)};
        const auto etude = EtudeMaker{parts, {.kind = "added-note", .level = level}}.make(tune, {0});
        int out = 0;
        int open = 0;
        for (const Event& event : etude->music.front().events) {
            const auto* note = std::get_if<Sounded>(&event.what);
            if (note == nullptr) continue;
            open += (note->slur_starts ? 1 : 0) - (note->slur_stops ? 1 : 0);
            CHECK(open >= 0);
            CHECK(open <= 1);
            out += note->slur_starts ? 1 : 0;
        }
        CHECK(open == 0);
        return out;
    };
    CHECK(slurs("alto-sax", 2) > 10);
    CHECK(slurs("violin", 3) > 10);
    CHECK(slurs("alto-sax", 4) == 0);
    CHECK(slurs("trombone", 2) == 0);
    CHECK(slurs("piano", 2) == 0);
    CHECK(slurs("tenor-voice", 2) == 0);
}

TEST_CASE("winds and voices have places to breathe, strings, keyboards and mallets none", "[book]") {
    const std::string breathe = "wind brass voice";
    for (const Instrument& instrument : instruments()) {
        INFO(instrument.id);
        const std::string family = instrument.sound.substr(0, instrument.sound.find('.'));
        CHECK(handling_of(instrument, 4).breathes == (breathe.find(family) != std::string::npos));
    }
    const Tune tune = tune_of(kLongWay);
    const auto rests = [&](const char* instrument) {
        const std::vector<BookPart> parts{part(instrument)};
        const auto etude = EtudeMaker{parts, {.kind = "unbroken-scale", .level = 3}}.make(tune, {0});
        int out = 0;
        for (const Event& event : etude->music.front().events) {
            const auto* note = std::get_if<Sounded>(&event.what);
            out += note == nullptr || note->breath_after ? 1 : 0;
        }
        return out;
    };
    CHECK(rests("trumpet") >= 3);
    CHECK(rests("cello") == 0);
    CHECK(rests("piano") == 0);
}

}  // namespace shedbook
