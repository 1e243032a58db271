// Which drills, and in which setting: --drills, --template, --rhythm, --meter, --displace, --articulation,
// --octaves.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "command.h"
#include "shedbook/drill/drill_template.h"

namespace shedbook {

struct DrillArguments {
    std::vector<std::string> templates;  // files
    std::string rhythm;
    std::string meter;
    std::string articulation;
    std::string octaves = "best";
    int displaced = 0;  // eighths
};
// Declares all of them but --drills, which every command with parts has.
void add_drill_options(CLI::App& app, DrillArguments& arguments);

// The drills as they are to be played. They live here; the pointers into them last as long as this does.
struct ChosenDrills {
    std::vector<DrillTemplate> drills;
    DrillSetting setting;
    [[nodiscard]] std::vector<const DrillTemplate*> pointers() const;
};
// By the names behind --drills. Without names: those of the files, or the usual ones. Faults of a file go to
// `diagnostics`; the result is then nothing.
[[nodiscard]] std::optional<ChosenDrills> choose_drills(const DrillArguments& arguments,
                                                        const std::vector<std::string>& names,
                                                        Diagnostics& diagnostics);

}  // namespace shedbook
