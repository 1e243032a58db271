// Options that several commands take, declared onto the requests that they fill.
#pragma once

#include "command.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/job/requests.h"
#include "shedbook/job/words.h"

namespace shedbook {

// A word of an enum: what a shell can complete, and what is checked.
template <class Enum>
SyntaxOption takes_word_of(const SyntaxOption& option, const std::string& name) {
    return option.offers(words_of<Enum>).checked([name](const std::string& word) {
        (void)choice_of<Enum>(name, word);
    });
}
// The instruments by the names that 'list' shows, without the others that they have.
[[nodiscard]] Words instrument_ids();
// --for, of those who take several instruments.
SyntaxOption add_instruments(Syntax& syntax, PartRequest& part, const std::string& about);
// -o, with what is written where it is not given.
SyntaxOption add_output_option(Syntax& syntax, OutputRequest& output, const std::string& if_absent = {});
void add_form_option(Syntax& syntax, std::string& form);
void add_paper_option(Syntax& syntax, std::string& paper, const std::string& about);
// --transpose, --part.
void add_transpose_option(Syntax& syntax, TuneRequest& request);
// --for, --range, --fingerings, --prefer; -o, --paper, --page, --only; and the sound options.
void add_part_options(Syntax& syntax, PartRequest& part, OutputRequest& output);
// --drills, --rhythm, --meter, --displace, --articulation, --octaves.
void add_drill_options(Syntax& syntax, DrillRequest& request);
// Throws a UsageError that tells what each level is.
void check_level(const std::string& typed);
// --level, --plan, --goal, --order, --memory, --basic-first, --etude, --seed.
void add_level_options(Syntax& syntax, LevelRequest& request);
// --tempo, --tempo-step, --tempo-bars, --eighths, --mute, --clicks, --silent-bars, --times, --sound-font.
void add_sound_options(Syntax& syntax, SoundRequest& request);
// --scales, --key; --transpose, --part.
void add_tune_options(Syntax& syntax, TuneRequest& request);

}  // namespace shedbook
