// The members that a JSON chart may have. Others are read past, since a later form may have more, but a slip
// of the finger must be seen.
#pragma once

#include <set>
#include <string>

#include "shedbook/base/diagnostics.h"
#include "shedbook/io/data.h"

namespace shedbook {

enum class JsonPart { Chart, Key, BarMeter, Section, Bar, Chord, Note };

class JsonMembers {
  public:
    JsonMembers(const SourceText& source, Diagnostics& diagnostics)
        : source_{source}, diagnostics_{diagnostics} {}

    // Warns of members that such a part of a chart does not have, once of each name. What is no object has
    // none.
    void check(const Data& data, JsonPart part);

  private:
    const SourceText& source_;
    Diagnostics& diagnostics_;
    std::set<std::pair<JsonPart, std::string>> said_;
};

}  // namespace shedbook
