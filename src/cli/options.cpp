#include "options.h"

#include <algorithm>

#include "shedbook/base/text.h"
#include "shedbook/book/key_order.h"
#include "shedbook/book/plan.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/etude.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/write/sound_options.h"
#include "shedbook/write/writers.h"

namespace shedbook {
namespace {

Words plan_words() {
    Words out;
    for (const BookPlan& plan : book_plans()) out.push_back(plan.id);
    return out;
}

Words drill_words() {
    Words out = drill_names();
    out.insert(out.begin(), {"usual", "all"});
    return out;
}

Words mutable_voices() {
    return {"line", "chords", "bass", "drums", "clicks"};
}

bool is_drill(const std::string& word) {
    return word == "usual" || word == "all" || find_drill(word) != nullptr;
}

// Names of pieces: "2", "2.3".
bool is_number_of_piece(const std::string& word) {
    return !word.empty() && word.find_first_not_of("0123456789.") == std::string::npos;
}

}  // namespace

Words instrument_ids() {
    Words out;
    for (const Instrument& instrument : instruments()) out.push_back(instrument.id);
    return out;
}

SyntaxOption add_instruments(Syntax& syntax, PartRequest& part, const std::string& about) {
    return syntax.add_option("--for", part.instruments, about)
        .takes("INSTRUMENTS")
        .with_commas()
        .offers(instrument_ids)
        .goes_on_with([](const std::string& word) { return find_instrument(word) != nullptr; })
        .checked([](const std::string& name) { (void)instrument_called(name); });
}

void add_part_options(Syntax& syntax, PartRequest& part, OutputRequest& output) {
    syntax.begin_group("For whom");
    add_instruments(syntax, part,
                    "instruments that play it, e.g. --for alto-sax or --for alto-sax,trumpet (one file each)")
        .required();
    syntax
        .add_option("--range", part.range,
                    "first, student, practical, full, \"frets 5-9\", or two written notes: Bb3-F6 (default: "
                    "practical)")
        .takes("RANGE")
        .offers([] {
            return Words{"first", "student", "practical", "full"};
        });
    takes_word_of<Fingerings>(
        syntax.add_option(
            "--fingerings", part.fingerings,
            "a row under the notes with valves, slide positions, fingers of the first position or "
            "frets, where the instrument has one: none, scales or all (default: none)"),
        "--fingerings");
    syntax.add_option("--prefer", part.prefer, "sharps or flats, where a key can be written both ways")
        .offers([] {
            return Words{"sharps", "flats"};
        });
    syntax.begin_group("Into which file");
    add_output_option(syntax, output).required();
    syntax
        .add_option("--only", output.only,
                    "only the pieces with these numbers, e.g. --only 2.3 or --only 1.1,2.1")
        .takes("NUMBERS")
        .with_commas()
        .goes_on_with(is_number_of_piece);
    add_paper_option(syntax, output.paper,
                     "A4, letter or tablet (4:3 across, larger staves), for pages (default: A4)");
    syntax.add_option("--page", output.page, "which page, for a picture (.svg, .png; default: the first)")
        .positive();
    syntax.add_flag("--no-cache", output.no_cache,
                    "set all pages of a PDF anew, also those that were set before");
    add_sound_options(syntax, output.sound);
}

SyntaxOption add_output_option(Syntax& syntax, OutputRequest& output, const std::string& if_absent) {
    return syntax
        .add_option("-o,--output", output.file,
                    "file to write: " + writer_endings() + (if_absent.empty() ? "" : " " + if_absent))
        .writes_file()
        .checked([](const std::string& file) { (void)writer_for(file); });
}

void add_form_option(Syntax& syntax, std::string& form) {
    syntax
        .add_option("--form", form, "the form of the tune: " + join(form_names(), ", ") + " (default: aaba)")
        .takes("FORM")
        .offers(form_names)
        .checked([](const std::string& word) {
            const Words known = form_names();
            if (std::ranges::find(known, slug(word)) == known.end()) unknown_word("--form", word, known);
        });
}

void add_paper_option(Syntax& syntax, std::string& paper, const std::string& about) {
    takes_word_of<Paper>(syntax.add_option("--paper", paper, about).takes("PAPER"), "--paper");
}

void add_drill_options(Syntax& syntax, DrillRequest& request) {
    syntax.begin_group("Drills");
    syntax
        .add_option(
            "--drills", request.drills,
            "which drills, e.g. --drills thirds,sevenths ('usual' for those of a book, 'all' for all)")
        .takes("DRILLS")
        .with_commas()
        .offers(drill_words)
        .goes_on_with(is_drill)
        .checked([](const std::string& name) {
            if (!is_drill(name)) (void)drill_called(name);
        });
    syntax
        .add_option("--rhythm", request.rhythm,
                    "every drill in this rhythm: triplets, dotted, \"1/8 1/8 1/4\" ...")
        .takes("RHYTHM");
    syntax.add_option("--meter", request.meter, "every drill in this meter: 3/4, 12/8, 3+2/4 ...")
        .takes("METER");
    syntax.add_option("--displace", request.displaced, "every drill so many eighths later than the bar");
    syntax
        .add_option("--articulation", request.articulation,
                    "every drill articulated so: slurred-in-twos, \"(o o) . .\" ...")
        .takes("MARKS");
    syntax
        .add_option(
            "--signatures", request.signatures,
            "what stands before drills: none, tune (its signature), scale (its own, where it has one)")
        .offers([] {
            return Words{"none", "tune", "scale"};
        });
    syntax
        .add_option("--octaves", request.octaves,
                    "best (the octave that lies best) or all (each that the range has room for)")
        .offers([] {
            return Words{"best", "all"};
        });
}

void check_level(const std::string& typed) {
    for (int number = kLowestLevel; number <= kHighestLevel; ++number) {
        if (typed == std::to_string(number)) return;
    }
    std::string said = "takes a whole number from " + std::to_string(kLowestLevel) + " to " +
                       std::to_string(kHighestLevel) + ", not '" + typed + "':";
    for (int number = kLowestLevel; number <= kHighestLevel; ++number)
        said += "\n    " + std::to_string(number) + "  " + level(number).about;
    throw UsageError(said);
}

void add_level_options(Syntax& syntax, LevelRequest& request) {
    syntax.begin_group("For this player");
    syntax
        .add_option("--level", request.level,
                    "1 (first year) to 6 (everything): decides scales, drills, range, tempos and etude where "
                    "nothing else is asked")
        .checked(check_level);
    syntax
        .add_option("--plan", request.plan,
                    "the book in sittings: a name that 'shedbook list plans' shows, or a file of your own")
        .takes("PLAN")
        .offers(plan_words);
    syntax
        .add_option("--goal", request.goal,
                    "the tempo to arrive at, in beats a minute (default: the tune's, or 100)")
        .between(kSlowestTempo, kFastestTempo);
    takes_word_of<Order>(
        syntax.add_option("--order", request.order,
                          "blocked (a chord at a time) or mixed (every time another chord and drill)"),
        "--order");
    takes_word_of<Memory>(
        syntax.add_option(
            "--memory", request.memory,
            "pages to play from memory, the answers at the back: cell (only the first bar is printed) or "
            "symbol (only the chord symbol)"),
        "--memory");
    syntax.add_flag("--basic-first", request.basic_first,
                    "before a chord with colours, its plain seventh chord");
    syntax
        .add_option("--etude", request.etude,
                    "kind of the etude at the end: " + join(etude_kind_names(), ", "))
        .takes("KIND")
        .offers(etude_kind_names)
        .checked([](const std::string& name) { (void)etude_kind_called(name); });
    syntax.add_option("--seed", request.seed, "another number, another etude");
}

void add_sound_options(Syntax& syntax, SoundRequest& request) {
    syntax.begin_group("Sound (" + writer_endings(Writer::kSound) + ")");
    syntax
        .add_option("--tempo", request.tempo,
                    "beats a minute (92); a ladder from one tempo to another (60-120); several, a file each "
                    "(60,80,100), or those of the tick boxes (boxes); the beat of 6/8 is a dotted quarter, "
                    "of cut time "
                    "a half")
        .takes("TEMPO");
    syntax.add_option("--tempo-step", request.tempo_step,
                      "how far each step of the ladder goes (default: 10)");
    syntax.add_option("--tempo-bars", request.tempo_bars,
                      "bars at each tempo of the ladder (default: as often as --times says)");
    syntax
        .add_option("--eighths", request.eighths,
                    "swing, straight or 12-8 (default: as the tune says, else swing)")
        .offers([] {
            return Words{"swing", "straight", "12-8"};
        });
    syntax
        .add_option("--mute", request.mute,
                    "leave out line, chords, bass, drums or clicks, e.g. --mute line to play along")
        .with_commas()
        .offers([] { return mutable_voices(); })
        .goes_on_with([](const std::string& word) {
            const Words known = mutable_voices();
            return std::ranges::find(known, word) != known.end();
        });
    syntax
        .add_option("--clicks", request.clicks,
                    "2-and-4, weak-beats, every-beat or none (default: none; 2-and-4 without drums)")
        .offers([] {
            return Words{"2-and-4", "weak-beats", "every-beat", "none"};
        });
    syntax
        .add_option("--silent-bars", request.silent_bars,
                    "the last so many of every so many bars without the band: 2/8")
        .takes("BARS");
    syntax.add_option("--trade", request.trade,
                      "the line rests every other so many bars, for you to fill: 4");
    takes_word_of<KeyOrder>(
        syntax.add_option("--through-keys", request.keys,
                          "a piece in all keys, each time through in the next one: fourths, chromatic ..."),
        "--through-keys");
    syntax.add_option("--times", request.times, "how often a piece is played (default: drills 4, others 1)");
    syntax.add_option("--band-seed", request.seed,
                      "another number, and the band plays other lines (default: 1)");
    syntax.add_option("--sound-font", request.sound_font, "the .sf2 or .sf3 file to play with").reads_file();
}

void add_tune_options(Syntax& syntax, TuneRequest& request) {
    syntax.begin_group("The tune");
    takes_word_of<Palette>(
        syntax.add_option("--scales", request.scales,
                          "plain (as few scales as do the job), usual, or rich (colours on dominants)"),
        "--scales");
    syntax
        .add_option("--key", request.key,
                    "the home key, if another was found or is written (\"G minor\", \"D dorian\")")
        .takes("KEY");
    add_transpose_option(syntax, request);
}

void add_transpose_option(Syntax& syntax, TuneRequest& request) {
    syntax.add_option("--transpose", request.transpose, "to a key (Eb) or by an interval (\"up m3\")")
        .takes("WHERE");
    syntax.add_option("--part", request.part, "which part of a score with several").takes("NAME");
}

}  // namespace shedbook
