#include "drill_request.h"

#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/io/files.h"
#include "shedbook/job/words.h"

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

DrillSetting setting_of(const DrillRequest& request, const Room& room) {
    DrillSetting out;
    std::string fault;
    if (!request.rhythm.empty()) {
        out.rhythm = rhythm_called(request.rhythm, room.contents(), fault);
        if (!out.rhythm) throw UsageError("--rhythm: " + fault);
    }
    if (!request.articulation.empty()) {
        out.articulation = articulation_called(request.articulation, room.contents(), fault);
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

std::vector<const DrillTemplate*> ChosenDrills::pointers() const {
    std::vector<const DrillTemplate*> out;
    for (const DrillTemplate& drill : drills) out.push_back(&drill);
    return out;
}

std::optional<ChosenDrills> choose_drills(const DrillRequest& request, Diagnostics& diagnostics) {
    Room room;
    std::vector<std::string> read;
    for (const std::string& file : request.files) {
        const std::vector<std::string> ids = room.read(file, diagnostics);
        read.insert(read.end(), ids.begin(), ids.end());
    }
    if (diagnostics.has_errors()) return std::nullopt;
    ChosenDrills out;
    const auto add_usual = [&] {
        // A file may hold another drill of a usual name.
        for (const DrillTemplate* drill : usual_drills()) out.drills.push_back(room.drill(drill->id));
    };
    if (request.drills.empty() && read.empty()) add_usual();
    for (const std::string& name : request.drills.empty() ? read : request.drills) {
        if (name == "usual") {
            add_usual();
        } else if (name == "all") {
            const std::vector<DrillTemplate>& all = room.contents().drills;
            out.drills.insert(out.drills.end(), all.begin(), all.end());
        } else {
            out.drills.push_back(room.drill(name));
        }
    }
    out.setting = setting_of(request, room);
    return out;
}

}  // namespace shedbook
