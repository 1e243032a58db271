// Levels as claims with figures: a book of each, written and read back, and measured.
#include <algorithm>
#include <catch2/catch.hpp>

#include "recording_sink.h"
#include "shedbook/book/grading.h"
#include "shedbook/book/plan.h"

namespace shedbook {
namespace {

const char* const kTunes[] = {
    "Title: Half Past\nKey: F\nMeter: 4/4\n[A]\n| Gm7 | C7 | Fmaj7 | D7(b9) |\n| Gm7 | C7 | Fmaj7 | F7 "
    "|\n[B]\n"
    "| Bbmaj7 | Bbm7 Eb7 | Am7 | D7(b9) |\n| Gm7b5 | C7(b9) | Fm6 | C7 |\n",
    "Title: Low Tide\nKey: Dm\nMeter: 3/4\n| Dm7 | Em7b5 | A7(b9) | Dm6 |\n| Gm7 | C7 | Fmaj7 | A7 |\n",
};

BookOptions options_of(const Level& level) {
    BookOptions out;
    for (const std::string& id : level.drills) out.drills.push_back(find_drill(id));
    out.material = level.material;
    if (level.chords > 0) out.most_chords = static_cast<std::size_t>(level.chords);
    out.etudes = level.etudes;
    out.etude.level = level.number;
    return out;
}

// As `shedbook measure` would see it, without the way through a file: notes of the written music.
ScoreNotes notes_of(const RecordingSink& sink) {
    ScoreNotes out;
    for (const Block& block : sink.document.blocks) {
        if (const auto* section = std::get_if<SectionStart>(&block)) {
            if (const auto* head = std::get_if<TopicHead>(&section->head))
                out.bars.emplace_back().words.push_back(to_string(head->parts.front().scale));
            continue;
        }
        const std::vector<WrittenMusic>* parts = music_of(block);
        if (parts == nullptr || std::holds_alternative<Changes>(block)) continue;
        const WrittenMusic* music = &parts->front();
        Meter meter = music->meter;
        for (std::size_t m = 0; m < music->measures.size(); ++m) {
            meter = music->measures[m].meter.value_or(meter);
            ScoreNotesBar& bar = out.bars.emplace_back();
            bar.meter = meter;
            bar.key_fifths = music->open_key ? 0 : music->key_fifths;
            bar.starts_piece = m == 0;
            const Rational tick{1, 4 * music->ticks_per_quarter};
            for (const Event& event : music->events_of(music->measures[m])) {
                const auto* note = std::get_if<Sounded>(&event.what);
                if (note == nullptr) continue;
                ScoreNote read;
                read.at = Position{tick * Rational{event.at}};
                read.length = Duration{tick * Rational{event.length}};
                read.written = note->pitch.on_paper();
                read.shows_accidental = note->shown != Accidental::None;
                read.is_tied_from_before = note->tied_from_before;
                bar.notes.push_back(read);
            }
        }
    }
    return out;
}

Grading grading_of(const Tune& tune, const char* instrument, int number) {
    const Level& asked = level(number);
    const Instrument& found = *find_instrument(instrument);
    const std::vector<BookPart> parts{{&found, *parse_range(asked.range, found)}};
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_book({tune}, parts, 0, options_of(asked), sink, diagnostics);
    return grade(notes_of(sink));
}

}  // namespace

TEST_CASE("every shipped level is complete", "[book]") {
    for (int number = kLowestLevel; number <= kHighestLevel; ++number) {
        const Level& asked = level(number);
        CHECK(asked.number == number);
        CHECK_FALSE(asked.about.empty());
        CHECK_FALSE(asked.drills.empty());
        CHECK_FALSE(asked.etudes.empty());
        for (const std::string& id : asked.drills) {
            REQUIRE(find_drill(id) != nullptr);
            CHECK(find_drill(id)->level <= number);
        }
    }
}

TEST_CASE("a higher level is never easier in range, leaps, notes a beat and scales", "[book]") {
    for (const char* text : kTunes) {
        const Tune tune = tune_of(text);
        for (const char* instrument : {"alto-sax", "trombone"}) {
            Grading before;
            for (int number = kLowestLevel; number <= kHighestLevel; ++number) {
                const Grading now = grading_of(tune, instrument, number);
                CAPTURE(instrument, number);
                REQUIRE(now.notes > 0);
                CHECK(now.range >= before.range);
                CHECK(now.largest_leap >= before.largest_leap);
                CHECK(now.most_notes_a_beat >= before.most_notes_a_beat);
                CHECK(now.distinct_scales >= before.distinct_scales);
                // The busiest bar of an etude may happen to lie in a friendlier place.
                CHECK(now.most_accidentals + 1 >= before.most_accidentals);
                before = now;
            }
            CHECK(before.most_notes_a_beat >= 4);
        }
    }
}

}  // namespace shedbook
