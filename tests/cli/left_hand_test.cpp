#include <catch2/catch.hpp>
#include <set>

#include "program.h"
#include "scratch_folder.h"
#include "shedbook/chart/score_notes.h"
#include "shedbook/io/files.h"

namespace shedbook {

TEST_CASE("both hands of a piano strike together, an octave apart, in every bar of a sheet", "[cli]") {
    const ScratchFolder folder;
    const std::string file = folder.file("x.musicxml");
    REQUIRE(run_program("drills \"Cm7\" \"F lydian\" --for piano-both-hands -o " + file).exit_code == 0);
    Diagnostics diagnostics;
    const auto score = read_score_notes(file, read_file(file), {}, diagnostics);
    REQUIRE(score);
    int bars = 0;
    for (const ScoreNotesBar& bar : score->bars) {
        std::set<std::string> right;
        std::set<std::string> left;
        for (const ScoreNote& note : bar.notes) {
            const int midi = note.sounding.midi() + (note.staff == 2 ? 12 : 0);
            (note.staff == 2 ? left : right)
                .insert(to_string(note.at.whole_notes) + "+" + to_string(note.length.whole_notes) + ":" +
                        std::to_string(midi));
        }
        CHECK(left == right);
        bars += right.empty() ? 0 : 1;
    }
    CHECK(bars > 10);
}

}  // namespace shedbook
