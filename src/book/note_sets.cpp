#include "note_sets.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>
#include <tuple>
#include <utility>

#include "shedbook/drill/degree.h"
#include "shedbook/harmony/units.h"

namespace shedbook {
namespace {

unsigned long sounds_of(const std::vector<PitchClass>& scale) {
    return sounds_above(scale, {}).to_ulong();
}

// What comes four times as often is worth twice the trouble.
double weight_of(const NoteSet& set, const Key& key) {
    constexpr double kForeignNote = 2;  // points, as for a bar (docs/units.md)
    const Rational whole_notes = set.sounding.whole_notes;
    const double length = static_cast<double>(whole_notes.num()) / static_cast<double>(whole_notes.den());
    const double points =
        kForeignNote * notes_foreign_to(key, set) + points_of_scale(set.topics.front().scale.scale);
    return points * std::sqrt(length);
}

constexpr double kRare = 8;  // points: altered, diminished, whole-tone

double points_of(const SectionTopic& topic) {
    return points_of_scale(topic.scale.scale);
}

// Of what a unit needs; 0: none does, or it is a usual scale.
double points_needed(const SectionTopic& topic, const NoteNeeds& needs) {
    if (needs.is_for_beginners) return 0;
    const bool is_needed = std::ranges::any_of(needs.of_units, [&](const Reading* reading) {
        return topic.symbol == reading->symbol && topic.scale.scale == reading->scale.scale;
    });
    return is_needed ? points_of(topic) : 0;
}

// The notes of the tune's key are practised from its home chord; no notes from the root of a chord that never
// rests on them.
int rank_in_set(const SectionTopic& topic, const Key& key) {
    const std::string_view scale = topic.scale.scale.type->id;
    if (scale == "locrian" || scale == "phrygian") return 0;
    return topic.symbol && topic.symbol->root == key.tonic ? 2 : 1;
}

// Of a blues: each drilled on its own root.
void put_tonic_and_fourth_first(std::vector<NoteSet>& sets, PitchClass tonic) {
    std::size_t first = 0;
    for (const PitchClass root : {tonic, tonic - kPerfectFifth}) {
        const auto is_on_root = [&](const SectionTopic& topic) {
            return topic.symbol && topic.symbol->root == root;
        };
        const auto at =
            std::find_if(sets.begin() + static_cast<std::ptrdiff_t>(first), sets.end(),
                         [&](const NoteSet& set) { return std::ranges::any_of(set.topics, is_on_root); });
        if (at == sets.end()) continue;
        std::stable_partition(at->topics.begin(), at->topics.end(), is_on_root);
        std::rotate(sets.begin() + static_cast<std::ptrdiff_t>(first), at, at + 1);
        ++first;
    }
}

}  // namespace

int notes_foreign_to(const Key& key, const NoteSet& set) {
    return static_cast<int>(std::ranges::count_if(
        set.topics.front().scale.notes, [&](PitchClass note) { return !is_in_signature(key, note); }));
}

bool has_notes_of(const NoteSet& set, const std::vector<PitchClass>& scale) {
    return sounds_of(set.topics.front().scale.notes) == sounds_of(scale);
}

std::vector<NoteSet> note_sets(std::vector<SectionTopic> topics, const Key& key, const NoteNeeds& needs) {
    std::map<unsigned long, std::size_t> known;
    std::vector<NoteSet> out;
    for (SectionTopic& topic : topics) {
        const auto [at, is_new] = known.try_emplace(sounds_of(topic.scale.notes), out.size());
        if (is_new) out.emplace_back();
        NoteSet& set = out[at->second];
        set.sounding += topic.sounding;
        set.topics.push_back(std::move(topic));
    }
    for (NoteSet& set : out) {
        std::ranges::stable_sort(set.topics, std::ranges::greater{}, [&](const SectionTopic& topic) {
            return std::tuple{points_needed(topic, needs), rank_in_set(topic, key), topic.sounding};
        });
        set.is_rare = points_of(set.topics.front()) >= kRare;
    }
    std::ranges::stable_sort(out, std::ranges::greater{}, &NoteSet::sounding);
    if (!out.empty())
        std::ranges::stable_sort(out.begin() + 1, out.end(), std::ranges::greater{}, [&](const NoteSet& set) {
            return std::pair{weight_of(set, key), set.sounding};
        });
    std::ranges::stable_sort(out, std::ranges::greater{}, [&](const NoteSet& set) {
        return std::pair{needs.is_for_beginners && !set.is_rare, points_needed(set.topics.front(), needs)};
    });
    if (needs.blues_on) put_tonic_and_fourth_first(out, *needs.blues_on);
    return out;
}

}  // namespace shedbook
