#include "key_names.h"

#include <cstdlib>

namespace shedbook {
namespace {

// What the chart writes while a key lasts.
struct Heard {
    std::map<PitchClass, double> on_tonic;  // names of roots that sound as the tonic, with their time
    double fifths = 0;                      // of all roots, times their time
    double time = 0;
};

PitchClass name_for(Tonality key, const Heard& heard) {
    if (!heard.on_tonic.empty()) {
        const auto* best = &*heard.on_tonic.begin();
        for (const auto& entry : heard.on_tonic) {
            if (entry.second > best->second) best = &entry;
        }
        return best->first;
    }
    // No chord on the tonic: the name nearest to the roots around it on the line of fifths.
    const double middle = heard.time > 0 ? heard.fifths / heard.time : 0;
    const int simplest = simplest_name(key.tonic).fifths();
    PitchClass best = PitchClass::from_fifths(simplest - 24);
    for (const int enharmonic : {-12, 0, 12, 24}) {
        const PitchClass other = PitchClass::from_fifths(simplest + enharmonic);
        if (std::abs(other.fifths() - middle) < std::abs(best.fifths() - middle)) best = other;
    }
    return best;
}

}  // namespace

KeyNames::KeyNames(const ChordViews& views, const KeyReading& keys, const std::optional<Key>& stated) {
    std::map<int, std::pair<Tonality, Heard>> all;
    all[index_of(keys.home)].first = keys.home;
    for (std::size_t i = 0; i < keys.keys.size(); ++i) {
        auto& [key, heard] = all[index_of(keys.keys[i])];
        key = keys.keys[i];
        const ChordView& view = views.chords[i];
        const PitchClass root = views.heard[i].root;
        if (root.semitone() == key.tonic) heard.on_tonic[root] += view.beats;
        heard.fifths += root.fifths() * view.beats;
        heard.time += view.beats;
    }
    for (const auto& [index, entry] : all) {
        const auto& [key, heard] = entry;
        const bool is_stated = stated && stated->tonic.semitone() == key.tonic;
        written_[index] = is_stated ? stated->tonic : name_for(key, heard);
    }
}

PitchClass KeyNames::as_written(Tonality key) const {
    const auto found = written_.find(index_of(key));
    return found == written_.end() ? simplest_name(key.tonic) : found->second;
}

PitchClass KeyNames::tonic(Tonality key) const {
    const Mode plain = key.ground == Ground::Minor ? Mode::Minor : Mode::Major;
    return within_signatures(Key{as_written(key), plain}).tonic;
}

}  // namespace shedbook
