#include "note_sets.h"

#include <algorithm>
#include <map>
#include <utility>

#include "shedbook/drill/degree.h"

namespace shedbook {
namespace {

unsigned long sounds_of(const std::vector<PitchClass>& scale) {
    return sounds_above(scale, {}).to_ulong();
}

}  // namespace

int notes_foreign_to(const Key& key, const NoteSet& set) {
    return static_cast<int>(std::ranges::count_if(
        set.topics.front().scale.notes, [&](PitchClass note) { return !is_in_signature(key, note); }));
}

bool has_notes_of(const NoteSet& set, const std::vector<PitchClass>& scale) {
    return sounds_of(set.topics.front().scale.notes) == sounds_of(scale);
}

std::vector<NoteSet> note_sets(std::vector<SectionTopic> topics, const Key& key) {
    std::map<unsigned long, std::size_t> known;
    std::vector<NoteSet> out;
    for (SectionTopic& topic : topics) {
        const auto [at, is_new] = known.try_emplace(sounds_of(topic.scale.notes), out.size());
        if (is_new) out.emplace_back();
        NoteSet& set = out[at->second];
        set.sounding += topic.sounding;
        set.topics.push_back(std::move(topic));
    }
    for (NoteSet& set : out)
        std::ranges::stable_sort(set.topics, std::ranges::greater{}, &SectionTopic::sounding);
    std::ranges::stable_sort(out, std::ranges::greater{}, &NoteSet::sounding);
    // What has no note that the signature lacks is played already; what passes in a beat or two can wait.
    if (!out.empty())
        std::ranges::stable_sort(out.begin() + 1, out.end(), std::ranges::greater{}, [&](const NoteSet& set) {
            return std::pair{notes_foreign_to(key, set) > 0, set.sounding};
        });
    return out;
}

}  // namespace shedbook
