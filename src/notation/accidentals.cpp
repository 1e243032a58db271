#include <array>
#include <cstdlib>

#include "shedbook/theory/key.h"
#include "steps.h"

namespace shedbook {
namespace {

// Staff places from C-1 to B10, counted in letters above C-1.
constexpr int kPlaces = 7 * 12;
constexpr int kLowest = -7;

Accidental accidental_of(int alter) {
    switch (alter) {
        case -2:
            return Accidental::DoubleFlat;
        case -1:
            return Accidental::Flat;
        case 0:
            return Accidental::Natural;
        case 1:
            return Accidental::Sharp;
        case 2:
            return Accidental::DoubleSharp;
        default:
            return Accidental::None;
    }
}

// What was written where, bar by bar. Entries of older bars are told by their bar number, so nothing has to
// be cleared.
class AccidentalMemory {
  public:
    explicit AccidentalMemory(int key_fifths) {
        for (int step = 0; step < 7; ++step) {
            key_[static_cast<std::size_t>(step)] = signature_alter(key_fifths, static_cast<Step>(step));
        }
    }

    void next_bar() { ++bar_; }

    // Of a note, or of one in a chord with it.
    void decide(Pitch pitch, bool tied_from_before, Accidental& shown) {
        const int place = pitch.staff_place() - kLowest;
        const int alter = pitch.alter();
        Entry& here = entries_[static_cast<std::size_t>(place)];
        const bool written = here.written_bar == bar_;
        const int expected = written ? here.written : key_[static_cast<std::size_t>(place % 7)];
        if (!tied_from_before && (expected != alter || (!written && wants_courtesy(place, alter)))) {
            shown = accidental_of(alter);
        }
        // A note tied over the bar line sounds on without its accidental; the next one must have it again.
        if (!tied_from_before) {
            here.written_bar = bar_;
            here.written = alter;
        }
        if (here.heard_bar != bar_) {
            here.heard_before = here.heard_bar == bar_ - 1 ? here.heard : kUnheard;
        }
        here.heard_bar = bar_;
        here.heard = alter;
    }

  private:
    static constexpr int kUnheard = 99;
    struct Entry {
        int written_bar = -2;
        int written = 0;
        int heard_bar = -2;
        int heard = 0;
        int heard_before = kUnheard;  // at this place in the bar before heard_bar
    };

    // House rule: an altered note is cancelled in the next bar at the same octave and in the same bar in
    // other octaves.
    [[nodiscard]] bool wants_courtesy(int place, int alter) const {
        const Entry& here = entries_[static_cast<std::size_t>(place)];
        const int before = here.heard_bar == bar_       ? here.heard_before
                           : here.heard_bar == bar_ - 1 ? here.heard
                                                        : kUnheard;
        if (before != kUnheard && before != alter) return true;
        for (int other = place % 7; other < kPlaces; other += 7) {
            const Entry& entry = entries_[static_cast<std::size_t>(other)];
            if (other != place && entry.written_bar == bar_ && entry.written != alter) return true;
        }
        return false;
    }

    int bar_ = 0;
    std::array<int, 7> key_{};
    std::array<Entry, kPlaces> entries_{};
};

}  // namespace

void decide_accidentals(WrittenMusic& music) {
    AccidentalMemory memory{music.open_key ? 0 : music.key_fifths};
    for (const Measure& measure : music.measures) {
        memory.next_bar();
        for (std::size_t i = 0; i < measure.event_count; ++i) {
            auto* note = std::get_if<Sounded>(&music.events[measure.first_event + i].what);
            if (note == nullptr) continue;
            memory.decide(note->pitch.on_paper(), note->tied_from_before, note->shown);
            for (std::size_t k = 0; k < note->below_count; ++k) {
                ChordNote& other = music.below[note->first_below + k];
                memory.decide(other.pitch.on_paper(), note->tied_from_before, other.shown);
            }
        }
    }
}

}  // namespace shedbook
