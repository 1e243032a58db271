// Scales that have the same notes, whose drills stand in a book once.
#pragma once

#include <optional>
#include <vector>

#include "drill_section.h"

namespace shedbook {

struct NoteSet {
    std::vector<SectionTopic> topics;  // never empty; the first is the one that is drilled, on its own root
    Duration sounding;                 // of all
    bool is_rare = false;              // who begins plays the chord in place of this scale
};

// What a book needs of its scales.
struct NoteNeeds {
    // Chords of the units, each with its scale: those whose scale is unusual come first, the most unusual
    // before the others.
    std::vector<const Reading*> of_units = {};
    bool is_for_beginners = false;  // what is unusual comes last
    // The tonic of a blues: its I and its IV come first, all else leans on them.
    std::optional<PitchClass> blues_on = {};
};

// Otherwise the commonest first, and then the hardest: by notes that the key's signature lacks and by how
// unusual the scale is, which count for the more the longer it sounds. Of a set the scale that a unit needs
// is drilled, or else the one that sounds longest.
[[nodiscard]] std::vector<NoteSet> note_sets(std::vector<SectionTopic> topics, const Key& key,
                                             const NoteNeeds& needs = {});
// How many of its notes are none of the key's signature.
[[nodiscard]] int notes_foreign_to(const Key& key, const NoteSet& set);
[[nodiscard]] bool has_notes_of(const NoteSet& set, const std::vector<PitchClass>& scale);

}  // namespace shedbook
