// Options that several commands take, declared onto the requests that they fill.
#pragma once

#include "command.h"
#include "shedbook/job/requests.h"

namespace shedbook {

// --for, --range, --fingerings, --prefer; -o, --paper, --page, --only; and the sound options.
void add_part_options(Syntax& syntax, PartRequest& part, OutputRequest& output);
// --drills, --rhythm, --meter, --displace, --articulation, --octaves.
void add_drill_options(Syntax& syntax, DrillRequest& request);
// --level, --plan, --goal, --order, --memory, --basic-first, --etude, --seed.
void add_level_options(Syntax& syntax, LevelRequest& request);
// --tempo, --tempo-step, --tempo-bars, --eighths, --mute, --clicks, --silent-bars, --times, --sound-font.
void add_sound_options(Syntax& syntax, SoundRequest& request);
// --scales, --key, --transpose, --part.
void add_tune_options(Syntax& syntax, TuneRequest& request);

}  // namespace shedbook
