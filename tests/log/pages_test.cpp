#include "shedbook/log/pages.h"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

const Day kDayOfPages = *parse_date("2026-11-29");

PrintedPages sample_pages() {
    PrintedPages out{"K7PQ2M", "Kite", "kite", {}};
    out.pieces.push_back({"2.3", {ItemKind::Scale, "dorian", 2, "thirds", "flute"}, {60, 86, 115}, true});
    out.pieces.push_back({"2.4", {ItemKind::Scale, "dorian", 2, "triads", "flute"}, {60, 80}, true});
    out.pieces.push_back({"7", {ItemKind::Etude, "kite", kNoRoot, "guide-tones", "flute"}, {}, false});
    return out;
}

std::string faults_of(const std::vector<std::string>& words) {
    Diagnostics diagnostics;
    static_cast<void>(entries_of(sample_pages(), words, kDayOfPages, diagnostics));
    std::string out;
    for (const Diagnostic& diagnostic : diagnostics.all()) out += render(diagnostic);
    return out;
}

}  // namespace

TEST_CASE("a table of pages is read back as it was left", "[log]") {
    const ScratchFolder folder;
    save_pages(folder.file("pages"), sample_pages());
    Diagnostics diagnostics;
    const auto pages =
        read_pages(SourceText{"table", read_file(folder.file("pages/K7PQ2M.json"))}, diagnostics);
    REQUIRE(diagnostics.all().empty());
    REQUIRE(pages);
    CHECK(pages->code == "K7PQ2M");
    CHECK(pages->tune == "kite");
    REQUIRE(pages->pieces.size() == 3);
    CHECK(pages->pieces[2].item == sample_pages().pieces[2].item);
    CHECK(pages->pieces[0].boxes == std::vector{60, 86, 115});
    CHECK(pages->pieces[0].from_memory);
    CHECK(codes_in(folder.file("pages")) == std::vector<std::string>{"K7PQ2M"});
    CHECK(codes_in(folder.file("nowhere")).empty());
    CHECK_FALSE(read_pages(SourceText{"table", "{\"code\": \"X\"}"}, diagnostics));
    CHECK(diagnostics.has_errors());
}

TEST_CASE("a line of ticks becomes entries at the fastest box of each piece", "[log]") {
    Diagnostics diagnostics;
    const std::vector<Entry> entries =
        entries_of(sample_pages(), {"2.3@86,115", "2.4@60m", "7m"}, kDayOfPages, diagnostics);
    CHECK(diagnostics.all().empty());
    REQUIRE(entries.size() == 3);
    CHECK(entries[0].tempo == 115);
    CHECK(entries[0].goal == 115);
    CHECK_FALSE(entries[0].from_memory);
    CHECK(entries[1].tempo == 60);
    CHECK(entries[1].goal == 80);
    CHECK(entries[1].from_memory);
    CHECK_FALSE(entries[2].tempo);
    CHECK(entries[2].item.subject == "kite");
    CHECK(entries[0].typed == "K7PQ2M 2.3@86,115");
}

TEST_CASE("ticks that no page has are said", "[log]") {
    CHECK_THAT(faults_of({"2.3@90"}), Catch::Contains("no box at 90") && Catch::Contains("60, 86, 115"));
    CHECK_THAT(faults_of({"3.1@90"}), Catch::Contains("no piece 3.1"));
    for (const char* word :
         {"", "m", "2.3@", "2.3@86,", "two", "2.3.4", ".3", "2.@60", "2.3@8600", "2.3 @60"}) {
        INFO(word);
        CHECK_THAT(faults_of({word}), Catch::Contains("expected ticks as in"));
    }
}

TEST_CASE("the code of a page comes from what it holds alone", "[log]") {
    CHECK(page_code("a").size() == 6);
    CHECK(page_code("a") == page_code("a"));
    CHECK(page_code("a") != page_code("b"));
}

}  // namespace shedbook
