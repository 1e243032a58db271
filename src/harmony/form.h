// The kind of tune: a blues, a modal tune, or one with functional harmony.
#pragma once

#include <string>
#include <vector>

#include "role.h"

namespace shedbook {

enum class Form { Unsaid, Functional, Blues, Modal };
[[nodiscard]] std::string to_string(Form form);

struct FormReading {
    Form form = Form::Unsaid;
    // Of a modal tune: how its minor grounds are called, and which roots (as bits) carry a major chord with a
    // flat seventh or a raised fourth.
    Mode minor = Mode::Minor;
    unsigned mixolydian = 0;
    unsigned lydian = 0;
    [[nodiscard]] Mode mode_for(Tonality key) const;
};

// `mode_is_stated`: the chart names a church mode.
[[nodiscard]] FormReading form_of(const std::vector<ChordView>& chords, const KeyReading& keys,
                                  const std::vector<Role>& roles, bool mode_is_stated);

// In a modal tune a chord that stays for four bars and more belongs to the home mode or is its own ground; it
// is not the ii or V of a key that never sounds.
void rest_on_long_chords(const std::vector<ChordView>& chords, KeyReading& keys);

}  // namespace shedbook
