#include <algorithm>
#include <filesystem>
#include <ostream>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include "shedbook/base/text.h"
#include "shedbook/book/roster.h"
#include "shedbook/io/files.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/key.h"
#include "shedbook/theory/meter.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

constexpr int kMostStarterBars = 400;

// The plainest changes of a form, in C and in C minor: a chord a bar, a line for each section ("A: ...").
// They are common practice and nobody's tune.
struct Form {
    std::string_view name;
    std::string_view major;
    std::string_view minor;
};
constexpr Form kForms[]{
    {"blues", "A: C7 F7 C7 C7 F7 F7 C7 A7 Dm7 G7 C7 G7", "A: Cm7 Fm7 Cm7 Cm7 Fm7 Fm7 Cm7 Cm7 Ab7 G7 Cm7 G7"},
    {"aaba",
     "A: Cmaj7 Am7 Dm7 G7 Em7 A7 Dm7 G7\n"
     "A2: Cmaj7 Am7 Dm7 G7 Dm7 G7 C6 C6\n"
     "B: Gm7 C7 Fmaj7 Fmaj7 Am7 D7 Dm7 G7\n"
     "A3: Cmaj7 Am7 Dm7 G7 Dm7 G7 C6 C6",
     "A: Cm7 Ab7 Dm7b5 G7 Cm7 Ab7 Dm7b5 G7\n"
     "A2: Cm7 Ab7 Dm7b5 G7 Cm7 G7 Cm6 Cm6\n"
     "B: Bbm7 Eb7 Abmaj7 Abmaj7 Am7b5 D7 Dm7b5 G7\n"
     "A3: Cm7 Ab7 Dm7b5 G7 Cm7 G7 Cm6 Cm6"},
    {"abac",
     "A: Cmaj7 Cmaj7 Dm7 G7 Em7 A7 Dm7 G7\n"
     "B: Gm7 C7 Fmaj7 Fm6 Em7 A7 Dm7 G7\n"
     "A2: Cmaj7 Cmaj7 Dm7 G7 Em7 A7 Dm7 G7\n"
     "C: Fmaj7 Fm6 Em7 A7 Dm7 G7 C6 C6",
     "A: Cm7 Cm7 Dm7b5 G7 Cm7 C7 Fm7 Fm7\n"
     "B: Fm7 Bb7 Ebmaj7 Abmaj7 Dm7b5 G7 Cm7 G7\n"
     "A2: Cm7 Cm7 Dm7b5 G7 Cm7 C7 Fm7 Fm7\n"
     "C: Abmaj7 D7 Dm7b5 G7 Cm7 Ab7 Cm6 Cm6"},
};
// What goes round in a form of so many bars; its last bar comes home.
constexpr Form kRound{"", "Cmaj7 Am7 Dm7 G7", "Cm7 Ab7 Dm7b5 G7"};

constexpr std::string_view kUsualForm = "aaba";

const Form& form_called(const std::string& name) {
    const std::string word = slug(name.empty() ? std::string{kUsualForm} : name);
    const auto* found = std::ranges::find(kForms, word, &Form::name);
    if (found == std::end(kForms)) unknown_word("--form", name, form_names());
    return *found;
}

// The sections of the form in C.
std::string changes_of(const StarterRequest& request, bool is_minor) {
    if (request.bars == 0) {
        const Form& form = form_called(request.form);
        return std::string{is_minor ? form.minor : form.major};
    }
    if (!request.form.empty()) throw UsageError("say the length once: --form, or --bars");
    if (request.bars < 1 || request.bars > kMostStarterBars)
        throw UsageError("--bars takes 1 to " + std::to_string(kMostStarterBars));
    const std::vector<std::string_view> round = split(is_minor ? kRound.minor : kRound.major, ' ');
    std::string out = "A:";
    for (int bar = 0; bar + 1 < request.bars; ++bar)
        out += " " + std::string{round[static_cast<std::size_t>(bar) % round.size()]};
    return out + (is_minor ? " Cm6" : " C6");
}

std::string moved(std::string_view chord, Interval by) {
    Diagnostics unused;  // the symbols are ours, and sound
    return to_string(written_symbol(*read_chord_symbol(SourceText{"form", std::string{chord}}, unused), by));
}

// A section with four bars to the line.
std::string section_text(std::string_view line, Interval by) {
    constexpr std::size_t kBarsToTheLine = 4;
    const std::size_t colon = line.find(':');
    std::string out = "\n[" + std::string{line.substr(0, colon)} + "]\n";
    const std::vector<std::string_view> chords = split(trimmed(line.substr(colon + 1)), ' ');
    for (std::size_t bar = 0; bar < chords.size(); ++bar) {
        const bool ends = bar + 1 == chords.size() || (bar + 1) % kBarsToTheLine == 0;
        out += "| " + moved(chords[bar], by) + (ends ? " |\n" : " ");
    }
    return out;
}

constexpr std::string_view kAboutHead =
    "; What stands behind a semicolon is a note for you: the program reads past it.\n"
    "; The words at the top may be changed or left out. Key: Bb, Gm, D dorian ... Meter: 4/4, 3/4, 6/8 ...\n"
    "; Tempo: beats a minute. Feel: your own words (swing, slow bossa, rolling).\n";
constexpr std::string_view kAboutBars =
    "\n"
    "; These are the plainest changes of the form. Write those of your tune over them:\n"
    ";   | Dm7 |            one chord for the bar\n"
    ";   | Dm7 G7 |         two that share it\n"
    ";   | Dm7 / / G7 |     a chord or a slash for each beat: the slash lets the chord before go on\n"
    ";   | % |              the bar before again\n"
    ";   |: Dm7 | G7 :|     played twice;  |1. G7 :|2. C6 ||  first and second ending\n"
    ";   | G7[altered] |    the scale that you want for this chord\n"
    "; Chords: C6 Cmaj7 C7 Cm7 Cm7b5 Cdim7 C7(b9) C7sus4 C7alt C/E. Sections: a name in [ ] before its "
    "bars.\n";

std::string chart_text(const StarterRequest& request) {
    const std::optional<Key> key = parse_key(request.key);
    const bool is_minor = key && key->mode == Mode::Minor;
    if (!key || (!is_minor && key->mode != Mode::Major))
        throw UsageError("--key takes a major or minor key as in Bb or \"G minor\", not '" + request.key +
                         "'");
    if (!parse_meter(request.meter))
        throw UsageError("--meter takes a meter as 3/4, 12/8 or 3+2/4, not '" + request.meter + "'");
    const Interval up = key->tonic - PitchClass{};
    std::string out{kAboutHead};
    out += "Title: " + request.title + "\nKey: " + to_string(key->tonic) + (is_minor ? "m" : "") +
           "\nMeter: " + request.meter + "\nTempo: 120\nFeel: medium swing\n";
    out += kAboutBars;
    const std::string changes = changes_of(request, is_minor);
    for (const std::string_view line : split(changes, '\n')) out += section_text(line, up);
    return out;
}

void check_title(const std::string& title) {
    if (trimmed(title).empty()) throw UsageError("a tune needs a title: shedbook new \"My Tune\"");
    if (title.find_first_of(";\n\r") != std::string::npos)
        throw UsageError("a title is one line without a semicolon");
}

}  // namespace

std::vector<std::string> form_names() {
    std::vector<std::string> out;
    for (const Form& form : kForms) out.emplace_back(form.name);
    return out;
}

Files start_chart(const StarterRequest& request, Caller& /*nothing to say*/) {
    check_title(request.title);
    const std::string name = plain_name(request.title);
    const std::string file = request.file.empty() ? (name.empty() ? "tune" : name) + ".tune" : request.file;
    if (!lower_case(file).ends_with(".tune")) throw UsageError(fault_of_ending(file, {".tune"}));
    const std::string text = chart_text(request);
    std::error_code error;
    if (fs::exists(file, error))
        throw UsageError("'" + file +
                         "' is there already, and stays as it is; -o with another name writes beside it");
    write_atomically(file, [&](std::ostream& out) { out << text; });
    return {file};
}

Files make_trial_book(const TrialRequest& request, Caller& caller) {
    const TemporaryFolder folder;
    StarterRequest starter;
    starter.title = "First Tune";
    starter.form = request.form;
    starter.file = folder.path() + "/first.tune";
    BookRequest book;
    book.tunes = start_chart(starter, caller);
    book.part = request.part;
    book.output = request.output;
    return make_book(book, caller);
}

}  // namespace shedbook
