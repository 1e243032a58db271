// Scales that have the same notes, whose drills stand in a book once.
#pragma once

#include <vector>

#include "drill_section.h"

namespace shedbook {

struct NoteSet {
    std::vector<SectionTopic> topics;  // never empty; the first is the one that sounds longest
    Duration sounding;                 // of all
};

// The commonest first, and then the hardest: by notes that the key's signature lacks and by how unusual the
// scale is, which count for the more the longer it sounds.
[[nodiscard]] std::vector<NoteSet> note_sets(std::vector<SectionTopic> topics, const Key& key);
// How many of its notes are none of the key's signature.
[[nodiscard]] int notes_foreign_to(const Key& key, const NoteSet& set);
[[nodiscard]] bool has_notes_of(const NoteSet& set, const std::vector<PitchClass>& scale);

}  // namespace shedbook
