// Reads one [[drill]] entry and reports everything that is wrong in it.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "pattern_text.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/io/fields.h"

namespace shedbook {

class EntryReader {
  public:
    // `what` the entry is: "drill", "rhythm", "articulation".
    EntryReader(const SourceText& source, const Data& entry, std::string what, const DrillLibrary& library,
                Diagnostics& diagnostics)
        : fields_{source, entry, std::move(what), diagnostics},
          source_{source},
          diagnostics_{diagnostics},
          entry_{entry},
          library_{library} {}

    std::optional<DrillTemplate> read_drill();
    std::optional<NamedRhythm> read_rhythm();
    std::optional<NamedArticulation> read_articulation();

  private:
    // A fault inside the text of a member.
    void fail_inside(const Data& member, const PatternFault& fault);

    // Each leaves `value` as it is where the field is absent.
    void text(const char* key, std::string& value, bool needed = false);
    void number(const char* key, int& value, int low, int high);

    void read_like(DrillTemplate& out);
    void read_material(DrillTemplate& out);
    void read_rhythm_field(DrillTemplate& out);
    void read_articulation_field(DrillTemplate& out);
    void read_meter(DrillTemplate& out);
    void read_displaced(DrillTemplate& out);
    void read_cells(DrillTemplate& out);
    void read_end(DrillTemplate& out);
    std::optional<std::vector<DrillCell>> cells(const char* key);
    void walk(const char* key, WalkEdge& from, WalkEdge& to);

    Fields fields_;
    const SourceText& source_;
    Diagnostics& diagnostics_;
    bool is_fine_ = true;
    const Data& entry_;
    const DrillLibrary& library_;
};

}  // namespace shedbook
