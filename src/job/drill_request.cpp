#include "drill_arguments.h"

#include <utility>

#include "arguments.h"
#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

// The drills that there are: the shipped ones, read as they are asked for, or with those of files.
class Room {
  public:
    // Adds a file; gives the ids of its drills.
    std::vector<std::string> read(const std::string& file, Diagnostics& diagnostics) {
        if (!own_) own_ = shipped_drills();
        return read_into(*own_, SourceText{file, read_file(file)}, diagnostics);
    }
    [[nodiscard]] const DrillLibrary& contents() const { return own_ ? *own_ : shipped_drills(); }
    [[nodiscard]] const DrillTemplate& drill(const std::string& name) const {
        const DrillTemplate* drill = own_ ? own_->find_drill(name) : find_drill(name);
        if (drill != nullptr) return *drill;
        std::vector<std::string> known;
        for (const DrillTemplate& one : contents().drills) known.push_back(one.id);
        unknown_name("drill", name, known, "'shedbook list drills' shows what there is");
    }

  private:
    std::optional<DrillLibrary> own_;
};

DrillSetting setting_of(const DrillArguments& arguments, const Room& room) {
    DrillSetting out;
    std::string fault;
    if (!arguments.rhythm.empty()) {
        out.rhythm = rhythm_called(arguments.rhythm, room.contents(), fault);
        if (!out.rhythm) throw UsageError("--rhythm: " + fault);
    }
    if (!arguments.articulation.empty()) {
        out.articulation = articulation_called(arguments.articulation, room.contents(), fault);
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
                   "a file of your own drills (docs/drills.md); without --drills, all that is in it")
        ->allow_extra_args(false);
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
    Room room;
    std::vector<std::string> read;
    for (const std::string& file : arguments.templates) {
        const std::vector<std::string> ids = room.read(file, diagnostics);
        read.insert(read.end(), ids.begin(), ids.end());
    }
    if (diagnostics.has_errors()) return std::nullopt;
    ChosenDrills out;
    const auto add_usual = [&] {
        // A file may hold another drill of a usual name.
        for (const DrillTemplate* drill : usual_drills()) out.drills.push_back(room.drill(drill->id));
    };
    if (names.empty() && read.empty()) add_usual();
    for (const std::string& name : names.empty() ? read : names) {
        if (name == "usual") {
            add_usual();
        } else if (name == "all") {
            const std::vector<DrillTemplate>& all = room.contents().drills;
            out.drills.insert(out.drills.end(), all.begin(), all.end());
        } else {
            out.drills.push_back(room.drill(name));
        }
    }
    out.setting = setting_of(arguments, room);
    return out;
}

}  // namespace shedbook
