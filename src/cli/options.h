// Options that several commands take, declared onto the requests that they fill.
#pragma once

#include "command.h"
#include "shedbook/job/requests.h"

namespace shedbook {

// --for, --range, --fingerings, --prefer; -o, --paper, --page, --only; and the sound options.
void add_part_options(CLI::App& app, PartRequest& part, OutputRequest& output);
// --drills, --rhythm, --meter, --displace, --articulation, --octaves.
void add_drill_options(CLI::App& app, DrillRequest& request);
// --level, --plan, --goal, --order, --memory, --basic-first, --etude, --seed.
void add_level_options(CLI::App& app, LevelRequest& request);
// --tempo, --tempo-step, --tempo-bars, --eighths, --mute, --clicks, --silent-bars, --times, --sound-font.
void add_sound_options(CLI::App& app, SoundRequest& request);
// --scales, --key, --transpose, --part.
void add_tune_options(CLI::App& app, TuneRequest& request);

}  // namespace shedbook
