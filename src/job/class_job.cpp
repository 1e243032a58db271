#include <algorithm>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "class_books.h"
#include "output.h"
#include "printed_pages.h"
#include "shedbook/base/text.h"
#include "shedbook/book/roster.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/log_data.h"
#include "shedbook/job/words.h"

namespace shedbook {
namespace {

// The drill of the score where the level has it.
constexpr std::string_view kUsualScore = "thirds";

struct ClassScore {
    Document score;  // of several parts
    const DrillTemplate* drill = nullptr;
    int level = kLowestLevel;
    int bars = 0;
    Diagnostics said;
};

const DrillTemplate& score_drill(const std::string& asked, int level_number) {
    if (!asked.empty()) return drill_called(asked);
    const std::vector<std::string>& offered = level(level_number).drills;
    const bool has_usual = std::ranges::find(offered, kUsualScore) != offered.end();
    return *find_drill(has_usual ? std::string{kUsualScore} : offered.front());
}

// From everybody's instrument to one run of files.
class ClassRun {
  public:
    ClassRun(const ClassRequest& request, Caller& caller)
        : request_{request},
          caller_{caller},
          options_{paper_of(request.paper), {}, 1, !request.no_cache},
          prefer_{prefer_of(request.prefer)},
          source_{request.roster, read_file(request.roster)},
          roster_{read_roster(source_, faults_)},
          books_{tune_or_faults(), folder_of(request.roster), caller} {}

    ClassResult run() {
        const InterruptWatch watch;
        prepare();
        caller_.say(faults_);
        if (faults_.has_errors() && (!request_.keep_going || prepared_.empty())) {
            caller_.remark(std::string{"no file was written"} +
                           (prepared_.empty() ? "" : "; --keep-going writes those of the sound rows"));
            throw InputError{};
        }
        write();
        note_missing_rows();
        result_.has_faults = faults_.has_errors();
        return std::move(result_);
    }

  private:
    static std::string folder_of(const std::string& file) {
        return std::filesystem::path{file}.parent_path().string();
    }
    // A tune with faults must not hide those of the roster.
    Tune tune_or_faults() {
        try {
            return load_tune(request_.tune, {}, caller_);
        } catch (const InputError&) {
            caller_.say(faults_);
            throw;
        }
    }

    // Everything is worked out before the first file is written, so that a fault leaves no half class behind.
    void prepare() {
        for (const Student& student : roster_.students) {
            StudentBook book = books_.make(student, prefer_);
            if (book.bars == 0) {
                faults_.error(source_, student.where,
                              "nothing of level " + std::to_string(student.level) + " fits the range of '" +
                                  student.name + "'",
                              "a wider range, or another level");
                continue;
            }
            prepared_.push_back(std::move(book));
        }
        if (!prepared_.empty() && !request_.no_score) prepare_score();
    }

    void prepare_score() {
        std::vector<Student> players;
        for (const StudentBook& book : prepared_) players.push_back(book.student);
        ClassScore out;
        out.level = std::ranges::min_element(players, {}, &Student::level)->level;
        out.drill = &score_drill(request_.score, out.level);
        BookOptions options = books_.options_at(out.level);
        options.prefer = prefer_;
        options.drills = {out.drill};
        const std::vector<BookPart> parts = parts_together(players);
        Recorder recorder;
        BarCount counted{recorder};
        assemble_score(books_.tune_at(out.level), parts, options, counted, out.said);
        if (counted.bars() == 0) {
            faults_.error_at(
                source_.name,
                "'" + out.drill->title + "' does not fit the notes that the whole class has: no score",
                "--score with another drill, or --no-score");
            return;
        }
        out.score = std::move(recorder.document);
        out.bars = counted.bars();
        score_ = std::move(out);
    }

    void write() {
        std::error_code error;
        std::filesystem::create_directories(request_.folder, error);
        if (error) throw FileError("cannot make the folder '" + request_.folder + "': " + error.message());
        const std::size_t all = prepared_.size() + (score_ ? 1 : 0);
        std::size_t done = 0;
        if (score_) {
            begin_step(++done, all, "the score");
            write_score_file();
        }
        for (const StudentBook& book : prepared_) {
            if (InterruptWatch::is_interrupted()) throw Stopped("stopped before the last book");
            begin_step(++done, all, book.student.name);
            write_book(book);
        }
        keep_pages(pages_, caller_);
    }

    void begin_step(std::size_t step, std::size_t of, const std::string& what) {
        caller_.step(step, of, what);
        options_.on_pages = says_pages(caller_, step, of, what);
    }

    void write_score_file() {
        const std::string file = "00-score-" + score_->drill->id + "." + request_.ending;
        const std::size_t parts = score_->score.head.parts.size();
        const bool is_written = try_file(file, score_->score);
        result_.rows.push_back({"(the score)", std::to_string(parts) + (parts == 1 ? " part" : " parts"),
                                std::to_string(score_->level), std::to_string(score_->bars),
                                is_written ? file : "", score_->said});
    }

    void write_book(const StudentBook& book) {
        const std::string file = file_name_of(book.student, roster_.rows) + "." + request_.ending;
        const std::vector<Tune> tunes{books_.tune_at(book.student.level)};
        PrintedPages pages = pages_of(book.document, tunes);
        options_.item_of = [&pages](const std::string& number) { return item_called(pages, number); };
        const bool is_written = try_file(file, book.document);
        options_.item_of = {};
        if (is_written) pages_.push_back(std::move(pages));
        result_.rows.push_back({book.student.name, book.student.part.instrument->name,
                                std::to_string(book.student.level), std::to_string(book.bars),
                                is_written ? file : "", book.said});
    }

    // With --keep-going, what the machine cannot write is said and passed over.
    bool try_file(const std::string& file, const Document& document) {
        const std::string path = (std::filesystem::path{request_.folder} / file).string();
        try {
            writer_for(path).write(
                path, [&](BlockSink& sink) { hand_over(document, sink); }, options_);
            return true;
        } catch (const MachineError& error) {
            if (!request_.keep_going || InterruptWatch::is_interrupted()) throw;
            caller_.remark(file + ": " + error.what());
            result_.machine_failed = true;
            return false;
        }
    }

    void note_missing_rows() {
        result_.of = roster_.rows;
        for (std::size_t row = 1; row <= roster_.rows; ++row) {
            const bool is_there = std::ranges::any_of(
                prepared_, [&](const StudentBook& book) { return book.student.number == row; });
            if (!is_there) result_.missing.push_back(row);
        }
    }

    const ClassRequest& request_;
    Caller& caller_;
    WriteOptions options_;
    Prefer prefer_;
    Diagnostics faults_;
    SourceText source_;
    Roster roster_;
    ClassBooks books_;
    std::vector<StudentBook> prepared_;
    std::optional<ClassScore> score_;
    std::vector<PrintedPages> pages_;  // of the books that are written
    ClassResult result_;
};

}  // namespace

ClassResult make_class(ClassRequest request, Caller& caller) {
    if (request.ending.starts_with('.')) request.ending.erase(0, 1);
    const Writer* writer = find_writer("." + request.ending);
    constexpr unsigned kForClasses = Writer::kScore | Writer::kScreen;
    if (writer == nullptr || !writer->has(kForClasses))
        throw UsageError("--as takes " + writer_endings(kForClasses) + ", not '" + request.ending + "'");
    // A phone has no room for a score.
    if (writer->has(Writer::kScreen)) request.no_score = true;
    if (request.no_score && !request.score.empty())
        throw UsageError("--score and --no-score do not go together");
    // A misspelt drill is said before anything is read.
    if (!request.score.empty()) (void)score_drill(request.score, kLowestLevel);
    return ClassRun{request, caller}.run();
}

}  // namespace shedbook
