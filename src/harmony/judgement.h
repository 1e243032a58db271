// What the chords of a tune say together, before scales are chosen: keys, what each chord does in them, the
// kind of tune.
#pragma once

#include <optional>
#include <vector>

#include "form.h"

namespace shedbook {

// Each follows from the ones before.
struct Judgement {
    KeyReading keys;
    HomeOdds odds;
    std::vector<Role> roles;
    FormReading form;
};

// `stated`: the key that the chart names.
[[nodiscard]] Judgement judge(const std::vector<ChordView>& chords, const std::optional<Key>& stated,
                              Said said);

}  // namespace shedbook
