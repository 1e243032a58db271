#include <algorithm>
#include <filesystem>
#include <iostream>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "arguments.h"
#include "class_books.h"
#include "class_summary.h"
#include "command.h"
#include "output.h"
#include "shedbook/base/text.h"
#include "shedbook/book/roster.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "teacher_score.h"
#include "tunes.h"

namespace shedbook {
namespace {

// Those that hold a book and a score as well.
const std::vector<std::string> kEndings{"mxl", "musicxml", "pdf", "ly"};
// The drill of the score where the level has it.
constexpr std::string_view kUsualScore = "thirds";

struct Arguments {
    std::string roster;
    std::string tune;
    std::string folder;
    std::string ending = "mxl";
    std::string score;
    std::string paper = "A4";
    std::string prefer;
    bool keep_going = false;
    bool no_score = false;
};

struct ClassScore {
    Score score;
    const DrillTemplate* drill = nullptr;
    int level = kLowestLevel;
    int bars = 0;
    Diagnostics said;
};

const DrillTemplate& score_drill(const std::string& asked, int level_number) {
    if (!asked.empty()) return *drills_of({asked}).front();
    const std::vector<std::string>& offered = level(level_number).drills;
    const bool has_usual = std::ranges::find(offered, kUsualScore) != offered.end();
    return *find_drill(has_usual ? std::string{kUsualScore} : offered.front());
}

int bars_of_score(const Score& score) {
    int out = 0;
    for (const Block& block : score.parts.front().blocks) {
        if (const auto* music = std::get_if<WrittenMusic>(&block))
            out += static_cast<int>(music->measures.size());
    }
    return out;
}

// From everybody's instrument to one run of files.
class ClassRun {
  public:
    explicit ClassRun(const Arguments& arguments)
        : arguments_{arguments},
          options_{paper_of(arguments.paper), {}},
          prefer_{prefer_of(arguments.prefer)},
          source_{arguments.roster, read_file(arguments.roster)},
          roster_{read_roster(source_, faults_)},
          books_{tune_or_faults(arguments.tune, faults_), folder_of(arguments.roster)} {}

    int run() {
        const InterruptWatch watch;
        prepare();
        print(faults_);
        if (faults_.has_errors() && (!arguments_.keep_going || prepared_.empty())) {
            std::cerr << "shedbook: no file was written"
                      << (prepared_.empty() ? "" : "; --keep-going writes those of the sound rows") << "\n";
            return kBadInput;
        }
        write();
        write_summary(rows_, std::cout);
        say_missing_rows();
        if (machine_failed_) return kMachine;
        return faults_.has_errors() ? kBadInput : kDone;
    }

  private:
    static std::string folder_of(const std::string& file) {
        return std::filesystem::path{file}.parent_path().string();
    }
    // A tune with faults must not hide those of the roster.
    static Tune tune_or_faults(const std::string& path, const Diagnostics& faults) {
        try {
            return load_tune(path, {});
        } catch (const InputError&) {
            print(faults);
            throw;
        }
    }
    static Paper paper_of(const std::string& word) {
        PartArguments part;
        part.paper = word;
        return write_options_of(part).paper;
    }

    // Everything is worked out before the first file is written, so that a fault leaves no half class behind.
    void prepare() {
        for (const Student& student : roster_.students) {
            StudentBook book = books_.prepare(student, prefer_);
            if (book.bars == 0) {
                faults_.error(source_, student.where,
                              "nothing of level " + std::to_string(student.level) + " fits the range of '" +
                                  student.name + "'",
                              "a wider range, or another level");
                continue;
            }
            prepared_.push_back(std::move(book));
        }
        if (!prepared_.empty() && !arguments_.no_score) prepare_score();
    }

    void prepare_score() {
        std::vector<Student> players;
        for (const StudentBook& book : prepared_) players.push_back(book.student);
        ClassScore out;
        out.level = std::ranges::min_element(players, {}, &Student::level)->level;
        out.drill = &score_drill(arguments_.score, out.level);
        BookOptions options = books_.options_at(out.level);
        options.prefer = prefer_;
        options.drills = {out.drill};
        std::optional<Score> score =
            teacher_score(books_.tune_at(out.level), parts_together(players), options, out.said);
        if (!score) {
            faults_.error_at(
                source_.name,
                "'" + out.drill->title + "' does not fit the notes that the whole class has: no score",
                "--score with another drill, or --no-score");
            return;
        }
        out.score = *std::move(score);
        out.bars = bars_of_score(out.score);
        score_ = std::move(out);
    }

    void write() {
        std::error_code error;
        std::filesystem::create_directories(arguments_.folder, error);
        if (error) throw FileError("cannot make the folder '" + arguments_.folder + "': " + error.message());
        ProgressLine progress{prepared_.size() + (score_ ? 1 : 0)};
        if (score_) {
            progress.next("the score");
            write_score_file();
        }
        for (const StudentBook& book : prepared_) {
            if (InterruptWatch::is_interrupted()) throw Stopped("stopped before the last book");
            progress.next(book.student.name);
            write_book(book);
        }
    }

    void write_score_file() {
        const std::string file = "00-score-" + score_->drill->id + "." + arguments_.ending;
        const std::size_t parts = score_->score.parts.size();
        const bool is_written =
            try_file(file, [&](const std::string& path) { write_score(path, score_->score, options_); });
        rows_.push_back({"(the score)", std::to_string(parts) + (parts == 1 ? " part" : " parts"),
                         std::to_string(score_->level), std::to_string(score_->bars),
                         is_written ? file : "not written", score_->said});
    }

    void write_book(const StudentBook& book) {
        const std::string file = file_name_of(book.student, roster_.rows) + "." + arguments_.ending;
        const bool is_written = try_file(file, [&](const std::string& path) {
            writer_for(path).write(
                path,
                [&](BlockSink& sink) {
                    Diagnostics known;  // said when it was prepared
                    books_.assemble(book, sink, known);
                },
                options_);
        });
        rows_.push_back({book.student.name, book.student.part.instrument->name,
                         std::to_string(book.student.level), std::to_string(book.bars),
                         is_written ? file : "not written", book.said});
    }

    // With --keep-going, what the machine cannot write is said and passed over.
    bool try_file(const std::string& file, const std::function<void(const std::string&)>& write_to) {
        const std::string path = (std::filesystem::path{arguments_.folder} / file).string();
        try {
            write_to(path);
            return true;
        } catch (const MachineError& error) {
            if (!arguments_.keep_going || InterruptWatch::is_interrupted()) throw;
            std::cerr << "shedbook: " << file << ": " << error.what() << "\n";
            machine_failed_ = true;
            return false;
        }
    }

    void say_missing_rows() const {
        std::vector<std::string> missing;
        for (std::size_t row = 1; row <= roster_.rows; ++row) {
            const bool is_there = std::ranges::any_of(
                prepared_, [&](const StudentBook& book) { return book.student.number == row; });
            if (!is_there) missing.push_back(std::to_string(row));
        }
        if (!missing.empty())
            std::cout << "\nNo book for the students at fault: " << join(missing, ", ") << " of "
                      << roster_.rows << "\n";
    }

    const Arguments& arguments_;
    WriteOptions options_;
    Prefer prefer_;
    Diagnostics faults_;
    SourceText source_;
    Roster roster_;
    ClassBooks books_;
    std::vector<StudentBook> prepared_;
    std::optional<ClassScore> score_;
    std::vector<SummaryRow> rows_;
    bool machine_failed_ = false;
};

int run_class(Arguments& arguments) {
    if (arguments.ending.starts_with('.')) arguments.ending.erase(0, 1);
    if (std::ranges::find(kEndings, arguments.ending) == kEndings.end())
        throw UsageError("--as takes " + join(kEndings, ", ") + ", not '" + arguments.ending + "'");
    if (arguments.no_score && !arguments.score.empty())
        throw UsageError("--score and --no-score do not go together");
    // A misspelt drill is said before anything is read.
    if (!arguments.score.empty()) (void)score_drill(arguments.score, kLowestLevel);
    return ClassRun{arguments}.run();
}

}  // namespace

Action class_command(CLI::App& app) {
    auto arguments = std::make_shared<Arguments>();
    app.add_option("roster", arguments->roster, "the class: a .toml file, a [[student]] for each")
        ->required();
    app.add_option("tune", arguments->tune, "a tune: " + chart_endings())->required();
    app.add_option("-o,--output", arguments->folder, "folder for the books; made if it is not there")
        ->required();
    app.add_option("--as", arguments->ending, join(kEndings, ", ") + " (default: mxl)");
    app.add_option("--score", arguments->score,
                   "drill of the teacher's score (default: thirds, or what the lowest level has)");
    app.add_flag("--no-score", arguments->no_score, "only the books");
    app.add_flag("--keep-going", arguments->keep_going,
                 "where a row is at fault, write the books of the others");
    app.add_option("--paper", arguments->paper, "A4, letter or tablet, for PDFs (default: A4)");
    app.add_option("--prefer", arguments->prefer, "sharps or flats, where a key can be written both ways");
    return [arguments] { return run_class(*arguments); };
}

}  // namespace shedbook
