// What the program does for a person: one function for each thing that can be asked. Options come in as words
// (requests.h), files come out; what there is to say goes to the caller.
//
//     BookRequest request;
//     request.tunes = {"my-tune.tune"};
//     request.part.instruments = {"alto-sax"};
//     request.output.file = "book.pdf";
//     make_book(request, caller);                              // {"book.pdf"}
//
// UsageError for words that mean nothing, InputError for faults of the input (they have been said), FileError
// for what the machine cannot do. A file appears whole or not at all.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/book/grading.h"
#include "shedbook/chart/chart.h"
#include "shedbook/job/caller.h"
#include "shedbook/job/requests.h"
#include "shedbook/log/pages.h"
#include "shedbook/notation/pieces.h"
#include "shedbook/write/piece_timing.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// The files that were written, in order.
using Files = std::vector<std::string>;

Files make_book(BookRequest request, Caller& caller);
// The same for a screen, of the first of its instruments: no file is written.
struct BookOnScreen {
    Document document;
    PrintedPages pages;  // its pieces as items of the log
    int goal = 0;        // tempo, beats a minute
    // Of the sections on units, by their number: the chords of the bars that are drilled, as the part reads
    // them.
    std::map<int, std::vector<Reading>> chords = {};
};
[[nodiscard]] BookOnScreen open_book(BookRequest request, Caller& caller);
Files make_sheet(const SheetRequest& request, Caller& caller);
// `scale`: in place of the one that was worked out for the first topic; may be empty.
[[nodiscard]] BookOnScreen open_sheet(const SheetRequest& request, const std::string& scale, Caller& caller);
Files make_etude(const EtudeJobRequest& request, Caller& caller);
Files convert(const ConvertRequest& request, Caller& caller);

// A chart to write over, with notes that teach its signs. UsageError where the file is there already:
// nobody's tune is written over.
Files start_chart(const StarterRequest& request, Caller& caller);
// A book of such a chart, without one being left behind.
Files make_trial_book(const TrialRequest& request, Caller& caller);
// The forms that a starter can have, and what they are in words.
[[nodiscard]] std::vector<std::string> form_names();

// Tunes, read and understood: every one is read before the first error ends it, so that all faults are said.
[[nodiscard]] std::vector<Tune> load_tunes(const std::vector<std::string>& files, const TuneRequest& request,
                                           Caller& caller);
[[nodiscard]] Tune load_tune(const std::string& file, const TuneRequest& request, Caller& caller);
// Only the chart, in concert pitch and in the key asked for.
[[nodiscard]] Chart load_chart(const std::string& file, const TuneRequest& request, Caller& caller);

// A text chart while it is being written, from no file: what is understood of it in spite of its slips.
struct TuneDraft {
    std::optional<Tune> tune;  // nothing where it has no bars
    Diagnostics diagnostics;
    bool is_pasted = false;  // it was no chart of ours: only the lines of places in it count
};
[[nodiscard]] TuneDraft read_draft(const std::string& name, const std::string& text,
                                   const TuneRequest& request);

// The form of a tune as a picture (.svg).
Files draw_map(const std::string& tune, const TuneRequest& request, const std::string& file, Caller& caller);

struct MeasuredScore {
    std::string title;  // may be empty
    Grading grading;
};
// Nothing where the file cannot be read; the faults have been said.
[[nodiscard]] std::optional<MeasuredScore> measure(const std::string& file, const std::string& part,
                                                   Caller& caller);

// A class: a book for every student, and a score for the teacher.
struct ClassRow {
    std::string who;
    std::string instrument;
    std::string level;
    std::string bars;
    std::string file;  // empty: not written
    Diagnostics left_out;
};
struct ClassResult {
    std::vector<ClassRow> rows;
    std::vector<std::size_t> missing;  // rows of the roster that have no book, from 1
    std::size_t of = 0;                // of so many
    bool has_faults = false;           // the input's
    bool machine_failed = false;       // some file could not be written
};
// Everything is worked out before the first file is written. InputError where nothing is to be written.
[[nodiscard]] ClassResult make_class(ClassRequest request, Caller& caller);

// What was asked to be heard, as documents of sound: one after the other.
struct Listening {
    std::optional<int> per_minute;  // where several tempos were asked for
    std::function<void(const std::string& wav_file)> render;
};
[[nodiscard]] std::vector<Listening> listen(const ListenRequest& request, Caller& caller);

// One piece of a document by its number ("2.3"; empty: the first that has music), to be heard by itself.
// `loudness`: as WriteOptions has it. UsageError where there is none.
struct HeardPiece {
    PieceTiming timing;
    double seconds = 0;  // of the music, without the ring at its end
    std::function<void(const std::string& wav_file)> render;
};
[[nodiscard]] HeardPiece hear_piece(const Document& document, const std::string& number,
                                    const SoundRequest& request,
                                    const std::shared_ptr<std::optional<SideLoudness>>& loudness = {});

// Whether a word names a file of a tune, and not a chord or a scale.
[[nodiscard]] bool is_tune_file(const std::string& word);

}  // namespace shedbook
