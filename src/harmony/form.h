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
    Mode major =
        Mode::Major;  // of a modal tune: how its major-sounding and minor-sounding grounds are called
    Mode minor = Mode::Minor;
    [[nodiscard]] Mode mode_for(Tonality key) const { return key.ground == Ground::Minor ? minor : major; }
};

[[nodiscard]] FormReading form_of(const std::vector<ChordView>& chords, const KeyReading& keys,
                                  const std::vector<Role>& roles);

// In a modal tune a chord that stays for four bars and more is its own ground, not the ii or V of a key that
// never sounds.
void rest_on_long_chords(const std::vector<ChordView>& chords, KeyReading& keys);

}  // namespace shedbook
