#include "drill_request.h"

#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/job/words.h"

namespace shedbook {
namespace {

DrillSetting setting_of(const DrillRequest& request) {
    DrillSetting out;
    std::string fault;
    if (!request.rhythm.empty()) {
        out.rhythm = rhythm_called(request.rhythm, shipped_drills(), fault);
        if (!out.rhythm) throw UsageError("--rhythm: " + fault);
    }
    if (!request.articulation.empty()) {
        out.articulation = articulation_called(request.articulation, shipped_drills(), fault);
        if (!out.articulation) throw UsageError("--articulation: " + fault);
    }
    if (!request.meter.empty()) {
        out.meter = parse_meter(request.meter);
        if (!out.meter)
            throw UsageError("--meter takes a meter as 3/4, 12/8 or 3+2/4, not '" + request.meter + "'");
    }
    if (request.displaced < 0 || request.displaced > 7) throw UsageError("--displace takes 0 to 7 eighths");
    if (request.displaced > 0) out.displaced = request.displaced;
    if (request.octaves != "best" && request.octaves != "all")
        throw UsageError("--octaves takes 'best' or 'all', not '" + request.octaves + "'");
    out.in_every_octave = request.octaves == "all";
    return out;
}

}  // namespace

ChosenDrills choose_drills(const DrillRequest& request) {
    std::vector<std::string> names = request.drills;
    if (names.empty()) names = own_drills();
    if (names.empty()) names = {"usual"};
    ChosenDrills out;
    for (const std::string& name : names) {
        if (name == "usual") {
            for (const DrillTemplate* drill : usual_drills()) out.drills.push_back(drill);
        } else if (name == "all") {
            for (const DrillTemplate& drill : drill_templates()) out.drills.push_back(&drill);
        } else {
            out.drills.push_back(&drill_called(name));
        }
    }
    out.setting = setting_of(request);
    if (!request.signatures.empty())
        out.signatures = choice_of<Signatures>("--signatures", request.signatures);
    return out;
}

}  // namespace shedbook
