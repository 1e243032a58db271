// One bar of a JSON chart.
#pragma once

#include <utility>
#include <vector>

#include "chart_json_members.h"
#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"
#include "shedbook/io/data.h"

namespace shedbook {

class JsonBarReader {
  public:
    JsonBarReader(const SourceText& source, JsonMembers& members, Diagnostics& diagnostics)
        : source_{source}, members_{members}, diagnostics_{diagnostics} {}

    // `meter` is in force here; it is changed where the bar says so.
    [[nodiscard]] Bar read(const Data& data, Meter& meter);

  private:
    void read_object(const Data& data, Bar& bar, Meter& meter);
    void read_marks(const Data& data, BarMarks& marks);
    void read_endings(const Data& data, BarMarks& marks);
    void read_jump(const Data& data, BarMarks& marks);
    void read_chords(const Data& chords, Bar& bar, const Meter& meter);
    void read_chord(const Data& data, Bar& bar, const Meter& meter);
    void read_symbol(const Data& symbol, PlacedChord& chord);
    void read_chord_details(const Data& data, PlacedChord& chord);
    void read_melody(const Data& notes, Bar& bar, const Meter& meter);
    void check_melody(const std::vector<std::pair<MelodyNote, const Data*>>& notes, Duration bar);
    void check_places(const Data& data, const Bar& bar, const Meter& meter);
    [[nodiscard]] bool flag(const Data& data, std::string_view name);
    void fault(const Data& at, std::string message, std::string hint);

    const SourceText& source_;
    JsonMembers& members_;
    Diagnostics& diagnostics_;
};

// Reads {"tonic","mode"} or "Bb", "Gm"; null or a mode that is none gives nothing.
struct JsonKey {
    std::optional<Key> key;
    bool is_faulty = false;
};
[[nodiscard]] JsonKey read_json_key(const Data& data);

}  // namespace shedbook
