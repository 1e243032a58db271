#include "shedbook/drill/material.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <initializer_list>

#include "shedbook/base/rational.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// The first row of a material that suits a chord and its scale is taken. A row suits where the chord has the
// tones of `over` and the scale has the notes, those in round brackets excepted; what stands between "|" are
// the names of a note on the way up and on the way down. "*" is every note of the scale, "chord" every chord
// tone of it.
//
// H31.n: Hutchinson, Music Theory for the 21st-Century Classroom, chapter 31, section n. CP: common practice,
// no source. The pentatonics keep away from notes a half step above a chord tone, but for the b9 of a
// dominant. In a pair of triads, each takes every other note: the two lie into one another.
constexpr std::string_view kCP = "common practice, no source";
constexpr std::array kRows{
    MaterialRow{"root", "", "1", kCP},
    MaterialRow{"chord", "", "chord", "H31.1-31.3"},

    MaterialRow{"guide tones", "3 b7", "3 b7", "H31.7: third and seventh"},
    MaterialRow{"guide tones", "3 7", "3 7", "H31.7"},
    MaterialRow{"guide tones", "b3 b7", "b3 b7", "H31.7"},
    MaterialRow{"guide tones", "b3 7", "b3 7", "H31.7"},
    MaterialRow{"guide tones", "4 b7", "4 b7", kCP},
    MaterialRow{"guide tones", "3 6", "3 6", kCP},
    MaterialRow{"guide tones", "b3 6", "b3 6", kCP},
    MaterialRow{"guide tones", "3", "1 3", kCP},
    MaterialRow{"guide tones", "b3", "1 b3", kCP},
    MaterialRow{"guide tones", "4", "1 4", kCP},
    MaterialRow{"guide tones", "2", "1 2", kCP},

    MaterialRow{"pentatonic", "3 b7", "1 2 3 5 6", "on 1: trade rule, CP"},
    MaterialRow{"pentatonic", "3 b7", "1 2 3 5 b7", kCP},
    MaterialRow{"pentatonic", "3 b7", "b5 b6 b7 b9 b10", "altered: the major pentatonic on b5, CP"},
    MaterialRow{"pentatonic", "3 b7", "1 b2 3 5 b7", kCP},
    MaterialRow{"pentatonic", "3 b7", "1 2 3 #5 b7", kCP},
    MaterialRow{"pentatonic", "4 b7", "1 2 4 5 b7", kCP},
    MaterialRow{"pentatonic", "4 b7", "1 b2 4 5 b7", kCP},
    MaterialRow{"pentatonic", "b3 b5 b7", "1 b3 4 b5 b7", kCP},
    MaterialRow{"pentatonic", "b3 b5 6", "1 2 b3 b5 6", kCP},
    MaterialRow{"pentatonic", "b3 b7", "1 b3 4 5 b7", "the major pentatonic on b3, CP"},
    MaterialRow{"pentatonic", "b3", "1 2 b3 5 6", kCP},
    MaterialRow{"pentatonic", "b3 5", "1 2 b3 5 7", kCP},
    MaterialRow{"pentatonic", "b3 5", "1 b3 4 5 b7", kCP},
    MaterialRow{"pentatonic", "3 #5", "1 2 3 #5 7", kCP},
    MaterialRow{"pentatonic", "3 #5", "1 2 3 #5 b7", kCP},
    MaterialRow{"pentatonic", "3", "1 2 3 5 6", "on 1, CP"},
    MaterialRow{"pentatonic", "3", "1 2 3 5 7", kCP},
    MaterialRow{"pentatonic", "4", "1 2 4 5 6", kCP},
    MaterialRow{"pentatonic", "4", "1 2 4 5 b7", kCP},
    MaterialRow{"pentatonic", "2", "1 2 4 5 6", kCP},
    MaterialRow{"pentatonic", "2", "1 2 3 5 6", kCP},

    MaterialRow{"pentatonic on the fifth", "3 5 7", "5 6 7 9 10", "CP: 1 or 5 over a major seventh chord"},
    MaterialRow{"pentatonic on the fifth", "b3 b7", "5 b7 8 9 11", kCP},
    MaterialRow{"pentatonic on the fifth", "4 b7", "5 b7 8 9 11", kCP},
    MaterialRow{"pentatonic on the second", "3 5 7", "2 3 #4 6 7",
                "CP: only in Lydian, for it brings the #11"},
    MaterialRow{"pentatonic on the second", "b3 b7", "2 4 5 6 8", kCP},

    MaterialRow{"triad pair", "3 b7", "1 2 3 #4 5 6", kCP},
    MaterialRow{"triad pair", "3 b7", "b5 b6 b7 8 b9 b10", kCP},
    MaterialRow{"triad pair", "3 b7", "1 b2 3 #4 5 b7", kCP},
    MaterialRow{"triad pair", "3 b7", "1 2 3 #4 #5 b7", kCP},
    MaterialRow{"triad pair", "3 b7", "1 2 3 4 5 b7", kCP},
    MaterialRow{"triad pair", "3 b7", "1 b2 3 4 5 b6", kCP},
    MaterialRow{"triad pair", "3 b7", "1 b2 3 4 5 b7", kCP},
    MaterialRow{"triad pair", "4 b7", "4 5 6 b7 8 9", kCP},
    MaterialRow{"triad pair", "4 b7", "4 5 6 b7 8 b9", kCP},
    MaterialRow{"triad pair", "4 b7", "4 5 b6 b7 8 b9", kCP},
    MaterialRow{"triad pair", "b3 b5 b7", "b6 b7 8 9 b10 11", kCP},
    MaterialRow{"triad pair", "b3 b5 b7", "b5 b6 b7 8 b9 b10", kCP},
    MaterialRow{"triad pair", "b3 b5 6", "1 2 b3 #4 b6 6", kCP},
    MaterialRow{"triad pair", "b3 b5 6", "b6 6 8 b9 b10 10", kCP},
    MaterialRow{"triad pair", "b3 b7", "b3 4 5 6 b7 8", kCP},
    MaterialRow{"triad pair", "b3 b7", "1 2 b3 4 5 b7", kCP},
    MaterialRow{"triad pair", "b3 b7", "b3 4 5 b6 b7 8", kCP},
    MaterialRow{"triad pair", "b3", "4 5 6 7 8 9", kCP},
    MaterialRow{"triad pair", "b3", "5 b6 7 8 9 b10", kCP},
    MaterialRow{"triad pair", "b3", "b3 4 5 6 b7 8", kCP},
    MaterialRow{"triad pair", "b3", "1 2 b3 4 5 b7", kCP},
    MaterialRow{"triad pair", "3 #5", "2 3 #4 #5 6 7", kCP},
    MaterialRow{"triad pair", "3 #5", "3 4 #5 6 7 8", kCP},
    MaterialRow{"triad pair", "3 #5", "1 #2 3 5 #5 7", kCP},
    MaterialRow{"triad pair", "3 #5", "1 2 3 #4 #5 b7", kCP},
    MaterialRow{"triad pair", "3", "1 2 3 #4 5 6", kCP},
    MaterialRow{"triad pair", "3", "5 6 7 8 9 10", kCP},

    // Every other note a chord tone: H31.9 for dominant and major; the same rule for the other chords.
    MaterialRow{"added note", "3 5 b7", "* (7)", "H31.9"},
    MaterialRow{"added note", "b3 5 b7", "* (7)", kCP},
    MaterialRow{"added note", "b3 b5 b7", "* (7)", kCP},
    MaterialRow{"added note", "b3 b5 6", "*", kCP},
    MaterialRow{"added note", "3 5", "* (#5|b6)", "H31.9"},
    MaterialRow{"added note", "b3 5", "* (#5|b6)", kCP},

    // #4 rising, b5 falling: common practice.
    MaterialRow{"blues", "3 5 b7", "(1) (b3) (4) (#4|b5) (5) (b7)", "H31.9"},
    MaterialRow{"blues", "b3 5", "(1) (b3) (4) (#4|b5) (5) (b7)", "H31.9"},
    MaterialRow{"blues", "3 5", "(1) (2) (#2|b3) (3) (5) (6)", "H31.9, major blues"},
    MaterialRow{"blues of the key", "", "(1) (b3) (4) (#4|b5) (5) (b7)", "H31.9"},
};

// A name without double accidentals.
PitchClass plain(PitchClass note) {
    return std::abs(note.alter()) < 2 ? note : simplest_name(note.semitone(), note);
}

// Builds the notes of one row over a chord.
class RowReader {
  public:
    RowReader(const MaterialRow& row, const ScaleLadder& ladder) : row_{row}, ladder_{ladder} {
        root_ = ladder.chord() ? ladder.chord()->root : ladder.scale().tonic;
        if (row.material == "blues of the key") root_ = ladder.home().value_or(root_);
    }

    std::optional<ScaleLadder> read() {
        if (!suits()) return std::nullopt;
        for (const std::string_view word : split(row_.notes, ' ')) {
            if (!add(word)) return std::nullopt;
        }
        if (row_.material != "added note") return ladder_.with_notes(notes_);
        return with_chord_tones_on_beats();
    }

  private:
    [[nodiscard]] bool is_chord_tone(int semitone) const {
        for (int k = 0; k < ladder_.chord_size(); ++k) {
            const auto rung = static_cast<std::size_t>(ladder_.chord_rung(k));
            if (ladder_.notes()[rung].semitone() == semitone) return true;
        }
        return false;
    }
    // The tones of the chord as it is written, whether the scale has them or not. A scale by itself stands
    // for its seventh chord: the major third where it has one, the flat seventh where it has one.
    [[nodiscard]] bool chord_has(int semitone) const {
        const int above = modulo(semitone - root_.semitone(), 12);
        if (ladder_.chord()) return has_tone(*ladder_.chord(), above);
        const auto first_in_scale = [&](std::initializer_list<int> choice) {
            for (const int one : choice) {
                if ((ladder_.scale().type->pitch_set() >> one & 1U) != 0) return one;
            }
            return 0;
        };
        const int third = first_in_scale({4, 3, 5, 2});
        const int fifth = third == 4 ? first_in_scale({7, 8, 6}) : first_in_scale({7, 6, 8});
        const int seventh =
            third == 3 && fifth == 6 ? first_in_scale({10, 9, 11}) : first_in_scale({10, 11, 9});
        return above == 0 || above == third || above == fifth || above == seventh;
    }

    [[nodiscard]] bool suits() const {
        return std::ranges::all_of(split(row_.over, ' '), [&](std::string_view degree) {
            return degree.empty() || chord_has((root_ + *parse_degree(degree)).semitone());
        });
    }

    bool add(std::string_view word) {
        if (word == "*") {
            for (const PitchClass note : ladder_.notes()) notes_.push_back({note, std::nullopt});
            return true;
        }
        if (word == "chord") {
            for (int k = 0; k < ladder_.chord_size(); ++k) {
                const auto rung = static_cast<std::size_t>(ladder_.chord_rung(k));
                notes_.push_back({ladder_.notes()[rung], std::nullopt});
            }
            return true;
        }
        const bool is_free = word.starts_with('(');
        if (is_free) word = word.substr(1, word.size() - 2);
        const std::size_t bar = word.find('|');
        const PitchClass up = root_ + *parse_degree(word.substr(0, bar));
        ScaleLadder::Note note{plain(up), std::nullopt};
        if (bar != std::string_view::npos) note.falling = plain(root_ + *parse_degree(word.substr(bar + 1)));
        // A note of the scale is called as the scale calls it.
        const auto same = std::ranges::find(ladder_.notes(), up.semitone(), &PitchClass::semitone);
        if (same != ladder_.notes().end()) {
            const bool keeps = note.falling && !is_chord_tone(up.semitone());
            if (!keeps) note = {*same, std::nullopt};
        } else if (!is_free) {
            return false;
        }
        notes_.push_back(note);
        return true;
    }

    // In order from the tonic, the chord on every other note; nothing where it does not come out so.
    std::optional<ScaleLadder> with_chord_tones_on_beats() {
        const auto height = [&](PitchClass note) { return modulo(note.semitone() - root_.semitone(), 12); };
        const auto height_of = [&](const ScaleLadder::Note& note) { return height(note.name); };
        std::ranges::sort(notes_, {}, height_of);
        const bool twice = std::ranges::adjacent_find(notes_, {}, height_of) != notes_.end();
        if (notes_.size() != 8 || twice || height_of(notes_.front()) != 0) return std::nullopt;
        for (const std::string_view degree : split(row_.over, ' ')) {
            const int wanted = modulo(parse_degree(degree)->semitones(), 12);
            const auto at = std::ranges::find(notes_, wanted, height_of);
            if (at == notes_.end() || (at - notes_.begin()) % 2 != 0) return std::nullopt;
        }
        return ladder_.with_notes(notes_).with_chord_rungs({0, 2, 4, 6});
    }

    const MaterialRow& row_;
    const ScaleLadder& ladder_;
    PitchClass root_;
    std::vector<ScaleLadder::Note> notes_;
};

}  // namespace

std::span<const MaterialRow> material_rows() {
    return kRows;
}

std::vector<std::string> material_names() {
    std::vector<std::string> out{"scale"};
    for (const MaterialRow& row : kRows) {
        if (out.back() != row.material) out.emplace_back(row.material);
    }
    return out;
}

std::optional<ScaleLadder> ladder_of(std::string_view material, const ScaleLadder& ladder) {
    if (material == "scale") return ladder;
    for (const MaterialRow& row : kRows) {
        if (row.material != material) continue;
        if (std::optional<ScaleLadder> out = RowReader{row, ladder}.read()) return out;
    }
    return std::nullopt;
}

}  // namespace shedbook
