// How often the large steps are taken for one thing that is asked: a tune is unfolded and understood once, a
// book assembled once. The calls come through here by the linker (--wrap, see CMakeLists.txt).
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <ostream>

#include "scratch_folder.h"
#include "shedbook/io/files.h"
#include "shedbook/job/jobs.h"

#define ANALYSE "_ZN8shedbook7analyseERKNS_5ChartERKNS_8TimelineERKNS_15AnalysisOptionsE"
#define UNFOLD "_ZN8shedbook6unfoldERKNS_5ChartERNS_11DiagnosticsE"
#define ASSEMBLE                                                            \
    "_ZN8shedbook13assemble_bookERKSt6vectorINS_4TuneESaIS1_EESt4spanIKNS_" \
    "8BookPartELm18446744073709551615EEmRKNS_11"                            \
    "BookOptionsERNS_9BlockSinkERNS_11DiagnosticsE"

namespace shedbook {
namespace {

struct Counts {
    int analyse = 0;
    int unfold = 0;
    int assemble = 0;
};
Counts counts;  // NOLINT: the wrapped calls know no other place

}  // namespace

Analysis real_analyse(const Chart& chart, const Timeline& timeline,
                      const AnalysisOptions& options) asm("__real_" ANALYSE);
Analysis counted_analyse(const Chart& chart, const Timeline& timeline,
                         const AnalysisOptions& options) asm("__wrap_" ANALYSE);
Analysis counted_analyse(const Chart& chart, const Timeline& timeline, const AnalysisOptions& options) {
    ++counts.analyse;
    return real_analyse(chart, timeline, options);
}

std::optional<Timeline> real_unfold(const Chart& chart, Diagnostics& diagnostics) asm("__real_" UNFOLD);
std::optional<Timeline> counted_unfold(const Chart& chart, Diagnostics& diagnostics) asm("__wrap_" UNFOLD);
std::optional<Timeline> counted_unfold(const Chart& chart, Diagnostics& diagnostics) {
    ++counts.unfold;
    return real_unfold(chart, diagnostics);
}

void real_assemble(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                   const BookOptions& options, BlockSink& sink,
                   Diagnostics& diagnostics) asm("__real_" ASSEMBLE);
void counted_assemble(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                      const BookOptions& options, BlockSink& sink,
                      Diagnostics& diagnostics) asm("__wrap_" ASSEMBLE);
void counted_assemble(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                      const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics) {
    ++counts.assemble;
    real_assemble(tunes, parts, which, options, sink, diagnostics);
}

namespace {

class Quiet : public Caller {
  public:
    void say(const Diagnostics& /*unheard*/) override {}
    void remark(const std::string& /*unheard*/) override {}
};

const char* const kTune = "Title: Blue Door\nKey: Bb\n| Cm7 | F7 | Bbmaj7 | G7 |\n";
const char* const kKeyless = "Title: Blue Door\n| Cm7 | F7 | Bbmaj7 | G7 |\n";

BookRequest book_of(const std::string& tune, const std::string& file,
                    const std::vector<std::string>& instruments) {
    BookRequest out;
    out.tunes = {tune};
    out.part.instruments = instruments;
    out.output.file = file;
    counts = {};
    return out;
}

}  // namespace

TEST_CASE("a book understands its tune once and is assembled once, on paper and as sound", "[job]") {
    const ScratchFolder folder;
    setenv("XDG_DATA_HOME", folder.file("data").c_str(), 1);
    save(folder.file("a.tune"), kTune);
    Quiet caller;
    for (const char* name : {"b.musicxml", "b.mxl", "b.ly", "b.mid"}) {
        CAPTURE(name);
        make_book(book_of(folder.file("a.tune"), folder.file(name), {"alto-sax"}), caller);
        CHECK(counts.analyse == 1);
        CHECK(counts.unfold == 1);
        CHECK(counts.assemble == 1);
    }
    CHECK(
        make_book(book_of(folder.file("a.tune"), folder.file("b.mxl"), {"flute", "tuba", "piano"}), caller) ==
        Files{folder.file("b-flute.mxl"), folder.file("b-tuba.mxl"), folder.file("b-piano.mxl")});
    CHECK(counts.analyse == 1);
    CHECK(counts.assemble == 3);
}

TEST_CASE("several tempos and chosen pieces are cut from one book", "[job]") {
    const ScratchFolder folder;
    setenv("XDG_DATA_HOME", folder.file("data").c_str(), 1);
    save(folder.file("a.tune"), kTune);
    Quiet caller;
    BookRequest request = book_of(folder.file("a.tune"), folder.file("b.mid"), {"flute"});
    request.output.only = {"1", "2.2"};
    request.output.sound.tempo = "boxes";
    CHECK(make_book(request, caller).size() == 3);
    CHECK(counts.assemble == 1);
    CHECK(counts.analyse == 1);
}

TEST_CASE("a tune whose key must be found before it can be moved is understood once", "[job]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kKeyless);
    Quiet caller;
    counts = {};
    TuneRequest to_c;
    to_c.transpose = "C";
    const Tune moved = load_tune(folder.file("a.tune"), to_c, caller);
    CHECK(counts.analyse == 1);
    CHECK(counts.unfold == 1);
    CHECK(to_string(moved.analysis.home) == "C major");
    // And means what it would mean if it had been written there.
    save(folder.file("c.tune"), "Title: Blue Door\n| Dm7 | G7 | Cmaj7 | A7 |\n");
    const Tune written = load_tune(folder.file("c.tune"), {}, caller);
    REQUIRE(moved.analysis.readings.size() == written.analysis.readings.size());
    for (std::size_t i = 0; i < written.analysis.readings.size(); ++i) {
        const Reading& a = moved.analysis.readings[i];
        const Reading& b = written.analysis.readings[i];
        CHECK(a.symbol == b.symbol);
        CHECK(a.scale.scale == b.scale.scale);
        CHECK(a.scale.notes == b.scale.notes);
        CHECK(in_words(a.scale.reason) == in_words(b.scale.reason));
        CHECK(moved.timeline.chords[i].symbol == written.timeline.chords[i].symbol);
    }
}

TEST_CASE("a class understands its tune once for each palette of its levels, and makes each book once",
          "[job]") {
    const ScratchFolder folder;
    setenv("XDG_DATA_HOME", folder.file("data").c_str(), 1);
    save(folder.file("a.tune"), kTune);
    std::string roster;
    for (int level = 1; level <= 6; ++level)
        roster += "[[student]]\nname = \"S" + std::to_string(level) + "\"\ninstrument = \"" +
                  (level % 2 == 0 ? "flute" : "trombone") + "\"\nlevel = " + std::to_string(level) + "\n";
    save(folder.file("class.toml"), roster);
    Quiet caller;
    ClassRequest request;
    request.roster = folder.file("class.toml");
    request.tune = folder.file("a.tune");
    request.folder = folder.file("lesson");
    counts = {};
    const ClassResult result = make_class(request, caller);
    CHECK(result.rows.size() == 7);  // six books and the score
    CHECK(counts.unfold == 1);
    CHECK(counts.analyse <= 3);  // plain, usual, rich
    CHECK(counts.assemble == 6);
}

}  // namespace shedbook
