#include "drill_arguments.h"

#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

// A drill of a library, or a UsageError with the nearest name.
const DrillTemplate& drill_called(const std::string& name, const DrillLibrary& library) {
    if (const DrillTemplate* drill = library.find_drill(name)) return *drill;
    std::vector<std::string> known;
    for (const DrillTemplate& drill : library.drills) known.push_back(drill.id);
    const std::string near = nearest(slug(name), known);
    throw UsageError(
        "no drill is called '" + name + "'" +
        (near.empty() ? "; 'shedbook list drills' shows what there is" : "; did you mean '" + near + "'?"));
}

DrillSetting setting_of(const DrillArguments& arguments, const DrillLibrary& library) {
    DrillSetting out;
    std::string fault;
    if (!arguments.rhythm.empty()) {
        out.rhythm = rhythm_called(arguments.rhythm, library, fault);
        if (!out.rhythm) throw UsageError("--rhythm: " + fault);
    }
    if (!arguments.articulation.empty()) {
        out.articulation = articulation_called(arguments.articulation, library, fault);
        if (!out.articulation) throw UsageError("--articulation: " + fault);
    }
    if (!arguments.meter.empty()) {
        out.meter = parse_meter(arguments.meter);
        if (!out.meter)
            throw UsageError("--meter takes a meter as 3/4, 12/8 or 3+2/4, not '" + arguments.meter + "'");
    }
    if (arguments.displaced < 0 || arguments.displaced > 7)
        throw UsageError("--displace takes 0 to 7 eighths");
    if (arguments.displaced > 0) out.displaced = arguments.displaced;
    if (arguments.octaves != "best" && arguments.octaves != "all")
        throw UsageError("--octaves takes 'best' or 'all', not '" + arguments.octaves + "'");
    out.in_every_octave = arguments.octaves == "all";
    return out;
}

}  // namespace

void add_drill_options(CLI::App& app, DrillArguments& arguments) {
    app.add_option("--template", arguments.templates,
                   "a file of your own drills (docs/drills.md); without --drills, all that is in it");
    app.add_option("--rhythm", arguments.rhythm,
                   "every drill in this rhythm: triplets, dotted, \"1/8 1/8 1/4\" ...");
    app.add_option("--meter", arguments.meter, "every drill in this meter: 3/4, 12/8, 3+2/4 ...");
    app.add_option("--displace", arguments.displaced, "every drill so many eighths later than the bar");
    app.add_option("--articulation", arguments.articulation,
                   "every drill articulated so: slurred-in-twos, \"(o o) . .\" ...");
    app.add_option("--octaves", arguments.octaves,
                   "best (the octave that lies best) or all (each that the range has room for)");
}

std::vector<const DrillTemplate*> ChosenDrills::pointers() const {
    std::vector<const DrillTemplate*> out;
    for (const DrillTemplate& drill : drills) out.push_back(&drill);
    return out;
}

std::optional<ChosenDrills> choose_drills(const DrillArguments& arguments,
                                          const std::vector<std::string>& names, Diagnostics& diagnostics) {
    DrillLibrary own;
    std::vector<std::string> read;
    if (!arguments.templates.empty()) own = shipped_drills();
    for (const std::string& file : arguments.templates) {
        const std::vector<std::string> ids = read_into(own, SourceText{file, read_file(file)}, diagnostics);
        read.insert(read.end(), ids.begin(), ids.end());
    }
    if (diagnostics.has_errors()) return std::nullopt;
    const DrillLibrary& library = arguments.templates.empty() ? shipped_drills() : own;
    ChosenDrills out;
    if (names.empty() && read.empty()) {
        // A file may hold another drill of a usual name.
        for (const DrillTemplate* drill : usual_drills())
            out.drills.push_back(drill_called(drill->id, library));
    }
    for (const std::string& name : names.empty() ? read : names) {
        if (name == "all") {
            out.drills.insert(out.drills.end(), library.drills.begin(), library.drills.end());
        } else {
            out.drills.push_back(drill_called(name, library));
        }
    }
    const DrillSetting setting = setting_of(arguments, library);
    for (DrillTemplate& drill : out.drills) drill = in_setting(std::move(drill), setting);
    return out;
}

}  // namespace shedbook
