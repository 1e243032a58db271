// Jobs that are a few lines each.
#include <ostream>

#include "drawings.h"
#include "shedbook/book/map_of_tune.h"
#include "shedbook/io/files.h"
#include "shedbook/job/jobs.h"
#include "shedbook/write/form_map_svg.h"

namespace shedbook {

Files draw_map(const std::string& tune, const TuneRequest& request, const std::string& file, Caller& caller) {
    const FormMap map = map_of_tune(load_tune(tune, request, caller));
    write_drawing(file, "the map", [&](std::ostream& out) { write_form_map(map, out); });
    return {file};
}

std::optional<MeasuredScore> measure(const std::string& file, const std::string& part, Caller& caller) {
    Diagnostics diagnostics;
    const auto score = read_score_notes(file, read_file(file), {part}, diagnostics);
    caller.say(diagnostics);
    if (!score) return std::nullopt;
    return MeasuredScore{score->title, grade(*score)};
}

}  // namespace shedbook
