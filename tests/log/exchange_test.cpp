#include "shedbook/log/exchange.h"

#include <catch2/catch.hpp>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "scratch_folder.h"
#include "shedbook/log/log_book.h"

namespace shedbook {
namespace {

Entry sample(const std::string& note) {
    Entry out;
    out.item = {ItemKind::Unit, "ii-v-i", 5, "guide-tones", "trumpet"};
    out.day = *parse_date("2026-11-29");
    out.tempo = 96;
    out.right = 0;
    out.note = note;
    out.tune = "goat-path";
    return out;
}

// With a correction and a removal.
void fill(LogBook& log) {
    log.add("me", sample("a \"quoted\" note, with a comma\r\nand a line"), 10);
    log.add("Zo\xC3\xAB", sample(" blanks around "), 11);
    log.add("me", sample("=1+1"), 12);
    Entry better = sample("better");
    better.item.root = kNoRoot;
    better.tempo = {};
    log.correct(1, better, 20);
    log.remove(3, 21);
}

std::string exported(LogBook& log, bool as_json) {
    std::ostringstream out;
    const Records records = [&](const std::function<void(const Record&)>& take) {
        log.each({.with_history = true}, take);
    };
    as_json ? write_records_json(records, out) : write_records_csv(records, out);
    return out.str();
}

std::string faults(const std::string& text) {
    Diagnostics diagnostics;
    CHECK(read_records(SourceText{"log.csv", text}, diagnostics).empty());
    std::string out;
    for (const Diagnostic& diagnostic : diagnostics.all()) out += render(diagnostic);
    return out;
}

constexpr const char* kHeading = "day,kind,subject,root,work,instrument,tempo\n";

}  // namespace

TEST_CASE("a log that is exported and imported is the same log", "[log]") {
    for (const bool as_json : {false, true}) {
        const ScratchFolder folder;
        LogBook log{folder.file("a.db")};
        fill(log);
        const std::string text = exported(log, as_json);
        LogBook other{folder.file("b.db")};
        Diagnostics diagnostics;
        const std::vector<Record> records = read_records(SourceText{"log", text}, diagnostics);
        const ImportCount count = other.import(records, "log", diagnostics);
        REQUIRE(diagnostics.all().empty());
        CHECK(count.added == 3);
        CHECK(count.versions == 2);
        CHECK(exported(other, as_json) == text);
        CHECK(other.standings("me", "") == log.standings("me", ""));
        CHECK(other.check().empty());
        // Again: nothing is doubled.
        const ImportCount again = other.import(records, "log", diagnostics);
        CHECK(again.added == 0);
        CHECK(again.known == 5);
        CHECK(exported(other, as_json) == text);
    }
}

TEST_CASE("what was corrected since is taken to the other log", "[log]") {
    const ScratchFolder folder;
    LogBook log{folder.file("a.db")};
    log.add("me", sample("first"), 1);
    LogBook other{folder.file("b.db")};
    Diagnostics diagnostics;
    other.add("me", sample("of its own"), 1);
    CHECK(other.import(read_records(SourceText{"x", exported(log, false)}, diagnostics), "x", diagnostics)
              .added == 1);
    log.correct(1, sample("second"), 2);
    const ImportCount count =
        other.import(read_records(SourceText{"x", exported(log, false)}, diagnostics), "x", diagnostics);
    REQUIRE(diagnostics.all().empty());
    CHECK(count.versions == 1);
    CHECK(other.find(2)->entry.note == "second");
    CHECK(other.check().empty());
    // Corrected in both: a person decides.
    log.correct(1, sample("third"), 3);
    other.correct(2, sample("another third"), 4);
    const std::string before = exported(other, false);
    other.import(read_records(SourceText{"x", exported(log, false)}, diagnostics), "x", diagnostics);
    CHECK(diagnostics.has_errors());
    CHECK(exported(other, false) == before);
}

TEST_CASE("a table that a person typed is imported, twice without doubling", "[log]") {
    const ScratchFolder folder;
    LogBook log{folder.file("a.db")};
    const std::string text = std::string{kHeading} + "2026-11-28,scale,dorian,2,thirds,flute,92\n";
    Diagnostics diagnostics;
    for (int i = 0; i < 2; ++i)
        log.import(read_records(SourceText{"typed.csv", text}, diagnostics), "typed.csv", diagnostics);
    REQUIRE(diagnostics.all().empty());
    CHECK(log.standing("me", {ItemKind::Scale, "dorian", 2, "thirds", "flute"})->entries == 1);
}

TEST_CASE("a fault in a table is said at its place, and nothing is taken", "[log]") {
    CHECK_THAT(faults(""), Catch::Contains("there is nothing in it"));
    CHECK_THAT(faults("day,kind,subjekt,work,instrument\n"), Catch::Contains("did you mean 'subject'?"));
    CHECK_THAT(faults("day,kind\n"), Catch::Contains("'instrument' is missing"));
    CHECK(faults(std::string{kHeading} + "2026-11-28,scale,dorian,14,thirds,flute,92\n") ==
          "log.csv:2:25: error: root: expected a whole number from 0 to 11, but found '14'\n"
          "    2026-11-28,scale,dorian,14,thirds,flute,92\n"
          "                            ^^\n");
    CHECK_THAT(faults(std::string{kHeading} + "2026-02-30,scale,dorian,2,thirds,flute,92\n"),
               Catch::Contains("a day as in 2027-01-20"));
    CHECK_THAT(faults(std::string{kHeading} + "2026-11-28,scale,dorian\n"),
               Catch::Contains("expected 7 columns"));
    CHECK_THAT(faults("{\"entries\": [{\"day\": \"2026-11-28\"}]}"), Catch::Contains("'kind' is missing"));
    CHECK_THAT(faults("{\"entries\": 3}"), Catch::Contains("expected a list of entries"));
}

TEST_CASE("whatever is in a table, it is read or its faults are said", "[log]") {
    const ScratchFolder folder;
    LogBook log{folder.file("a.db")};
    fill(log);
    std::mt19937 random{3};  // NOLINT: the same texts in every run
    for (const bool as_json : {false, true}) {
        const std::string sound = exported(log, as_json);
        for (int i = 0; i < 1000; ++i) {
            std::string text = sound;
            for (unsigned changes = 1 + random() % 4; changes > 0; --changes) {
                const std::size_t at = random() % text.size();
                if (random() % 3 == 0) {
                    text.erase(at, random() % 40);
                } else {
                    text[at] = ",\"\n{}[]:0x\xC3"[random() % 11];
                }
                if (text.empty()) text = "x";
            }
            Diagnostics diagnostics;
            const std::vector<Record> records = read_records(SourceText{"t", text}, diagnostics);
            CHECK((!records.empty() || diagnostics.has_errors() || text.size() < sound.size() / 2));
        }
    }
}

}  // namespace shedbook
