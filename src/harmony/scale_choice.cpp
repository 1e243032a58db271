#include "scale_choice.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <span>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

unsigned rotated(unsigned set, int up) {
    unsigned out = 0;
    for (int i = 0; i < 12; ++i) {
        if ((set & bit(i)) != 0) out |= bit(modulo12(i + up));
    }
    return out;
}

Scale scale_on(const Setting& setting, std::string_view id) {
    // Over a blues the blues scale of the key is meant, whatever the chord.
    const bool key_blues = id == "blues" && setting.role.key.ground == Ground::Blues;
    return {key_blues ? setting.key.tonic : setting.symbol->root, find_scale_type(id)};
}

// Half steps over the chord's root.
unsigned set_over_root(const Setting& setting, const Scale& scale) {
    const int up = above(scale.tonic.semitone(), setting.symbol->root.semitone());
    return rotated(scale.type->pitch_set(), up);
}

// The sentence with what its setting puts into its holes.
Reason reason_in(const Setting& setting, std::string_view words, std::string_view brings = {}) {
    Reason out{.words = words,
               .brings = brings,
               .key = setting.key,
               .numeral = setting.numeral,
               .root = setting.symbol->root};
    if (setting.goal != nullptr) out.goal = *setting.goal;
    if (setting.next != nullptr) out.next = *setting.next;
    out.bass = setting.symbol->bass;
    if (setting.is_heard) out.heard = *setting.symbol;
    return out;
}

// Ids in order of preference: the row's, then what else this sound takes. Only scales that hold the chord.
std::vector<std::string_view> candidates(const Setting& setting, const ScaleRow& row) {
    std::vector<std::string_view> out;
    const auto add = [&](std::string_view id) {
        if (id.empty() || std::ranges::find(out, id) != out.end()) return;
        const Scale scale = scale_on(setting, id);
        const bool holds = holds_chord(set_over_root(setting, scale), setting.view->tones);
        // Pentatonic and blues scales leave chord tones out by their nature; they never come first.
        const bool is_small = scale.type->intervals().size() < 7;
        if (!holds && !(is_small && !out.empty())) return;
        out.push_back(id);
    };
    add(row.scale);
    for (const std::string_view id : split(row.others, ' ')) add(id);
    return out;
}

std::vector<std::string_view> all_candidates(const Setting& setting, const ScaleRow& row) {
    std::vector<std::string_view> out = candidates(setting, row);
    const auto add = [&](std::string_view id) {
        const bool holds = holds_chord(set_over_root(setting, scale_on(setting, id)), setting.view->tones);
        if (holds && std::ranges::find(out, id) == out.end()) out.push_back(id);
    };
    for (const std::string_view id : scales_by_sound(setting.view->sound)) add(id);
    if (!out.empty()) return out;
    for (const ScaleType& type : scale_types()) {
        if (type.intervals().size() >= 7) add(type.id);
    }
    return out;
}

double held(const MelodyTime& melody, unsigned set) {
    double sum = 0;
    for (int i = 0; i < 12; ++i) {
        if ((set & bit(i)) != 0) sum += melody[static_cast<std::size_t>(i)];
    }
    return sum;
}

bool is_church_mode(Mode mode) {
    return mode != Mode::Major && mode != Mode::Minor;
}

// Notes that a key offers: a scale on its tonic, and what is said of it.
struct KeyNotes {
    std::string_view scale;
    std::string_view why;
};
constexpr std::string_view kNotesOfKey = "the notes of {key}";

// A player's own scales come before those of books: the sixth of C minor is A as readily as Ab, and for that
// no raised seventh is needed.
constexpr std::array<KeyNotes, 4> kNotesOfMinor{{{"aeolian", kNotesOfKey},
                                                 {"dorian", "the notes of {tonic} Dorian"},
                                                 {"harmonic_minor", "the notes of {tonic} harmonic minor"},
                                                 {"melodic_minor", "the notes of {tonic} melodic minor"}}};
constexpr std::array<KeyNotes, 1> kNotesOfMajor{{{"ionian", kNotesOfKey}}};

struct Picked {
    std::string_view id;
    Reason reason;
};

// The scale that has just the notes that the key offers, the first offer that any of them has.
std::optional<Picked> within(std::span<const KeyNotes> offers, const Setting& setting,
                             const std::vector<std::string_view>& ids) {
    const int root = above(setting.symbol->root.semitone(), setting.role.key.tonic);
    for (const KeyNotes& offer : offers) {
        const unsigned notes = find_scale_type(offer.scale)->pitch_set();
        for (const std::string_view id : ids) {
            if (rotated(set_over_root(setting, scale_on(setting, id)), root) == notes)
                return Picked{id, reason_in(setting, offer.why)};
        }
    }
    return std::nullopt;
}

std::optional<Picked> within_key(const Setting& setting, const std::vector<std::string_view>& ids) {
    if (is_church_mode(setting.key.mode)) {
        const std::string mode = to_string(setting.key.mode);
        const KeyNotes modal{mode, kNotesOfKey};
        return within({&modal, 1}, setting, ids);
    }
    if (setting.role.key.ground == Ground::Minor) return within(kNotesOfMinor, setting, ids);
    return within(kNotesOfMajor, setting, ids);
}

// The scale that holds more of the melody than `now` by a quarter note or more; the earlier one of equals.
std::string_view melody_choice(const Setting& setting, const std::vector<std::string_view>& ids,
                               std::string_view now) {
    if (setting.melody == nullptr) return {};
    const auto held_by = [&](std::string_view id) {
        return held(*setting.melody, set_over_root(setting, scale_on(setting, id)));
    };
    constexpr double kEnough = 1;
    double most = held_by(now) + kEnough;
    std::string_view best;
    for (const std::string_view id : ids) {
        const double sum = held_by(id);
        if (sum >= most && may_be_melodys_choice(id)) {
            best = id;
            most = sum + 1e-9;
        }
    }
    return best;
}

// Number of a degree within an octave: "#11" and "4" are both 4.
int degree_number(std::string_view label) {
    int number = 0;
    for (const char c : label) {
        if (c >= '0' && c <= '9') number = 10 * number + (c - '0');
    }
    return number > 7 ? number - 7 : number;
}

// "the melody holds F#: #4 and not 4".
Reason melody_reason(const Setting& setting, std::string_view chosen, std::string_view instead) {
    const Scale scale = scale_on(setting, chosen);
    const unsigned was = set_over_root(setting, scale_on(setting, instead));
    const std::vector<PitchClass> notes = spelled(scale, chord_notes(*setting.symbol));
    const std::vector<std::string_view> names = degree_names(*scale.type);
    const std::vector<std::string_view> old = degree_names(*scale_on(setting, instead).type);
    Reason out = reason_in(setting, "the melody holds {melody}");
    for (std::size_t i = 0; i < notes.size() && i < names.size(); ++i) {
        const int over = above(notes[i].semitone(), setting.symbol->root.semitone());
        if ((was & bit(over)) != 0 || (*setting.melody)[static_cast<std::size_t>(over)] == 0) continue;
        const auto same_number = [&](std::string_view label) {
            return degree_number(label) == degree_number(names[i]);
        };
        const auto other = std::ranges::find_if(old, same_number);
        const bool differs = other != old.end() && *other != names[i];
        out.melody.push_back({notes[i], names[i], differs ? *other : std::string_view{}});
    }
    return out;
}

bool holds_bass(const Setting& setting, std::string_view id) {
    if (!setting.symbol->bass) return true;
    const int over = above(setting.symbol->bass->semitone(), setting.symbol->root.semitone());
    return (set_over_root(setting, scale_on(setting, id)) & bit(over)) != 0;
}

// The scales that hold the written bass too (trade notes row 40: test that the bass note is in the scale);
// all of them if none does.
std::vector<std::string_view> over_bass(const Setting& setting, const std::vector<std::string_view>& ids) {
    std::vector<std::string_view> out;
    std::ranges::copy_if(ids, std::back_inserter(out),
                         [&](std::string_view id) { return holds_bass(setting, id); });
    return out.empty() ? ids : out;
}

Picked pick(const Setting& setting, const ScaleRow& row, const std::vector<std::string_view>& ids) {
    Picked out{ids.front(), reason_in(setting, row.why)};
    if (ids.front() != row.scale && row.scale != ids.front()) {
        out.reason = reason_in(setting, "the scale that holds {all}: {brings}", what_it_brings(out.id));
    }
    if (setting.symbol->bass && !row.scale.empty() && !holds_bass(setting, row.scale) &&
        holds_bass(setting, out.id)) {
        out.reason = reason_in(setting, "the bass {bass} belongs to this scale");
    }
    if ((is_church_mode(setting.key.mode) && row.needs == 0) || setting.palette == Palette::Plain) {
        std::optional<Picked> plain = within_key(setting, ids);
        if (plain && plain->id != out.id) out = *std::move(plain);
    }
    const bool rich = setting.palette == Palette::Rich && std::ranges::find(ids, row.rich) != ids.end();
    if (rich && row.rich != out.id) {
        out = {row.rich, reason_in(setting, "for colour: {brings}", what_it_brings(row.rich))};
    }
    const std::string_view sung = melody_choice(setting, ids, out.id);
    if (!sung.empty() && sung != out.id) out = {sung, melody_reason(setting, sung, out.id)};
    return out;
}

}  // namespace

bool holds_chord(unsigned scale, unsigned tones) {
    unsigned binding = tones;
    if ((tones & (bit(1) | bit(3) | bit(6) | bit(8))) != 0 && (tones & bit(4)) != 0) binding &= ~bit(7);
    if ((tones & bit(4)) != 0 && (tones & bit(10)) != 0) binding &= ~bit(3);
    return (binding & ~scale) == 0;
}

std::vector<PitchClass> lacking_in(const Scale& scale, const ChordSymbol& symbol) {
    std::vector<PitchClass> out;
    for (const ChordTone& tone : tones(symbol)) {
        const PitchClass note = symbol.root + tone.above_root;
        const int over = above(note.semitone(), scale.tonic.semitone());
        if ((scale.type->pitch_set() & bit(over)) == 0) out.push_back(note);
    }
    return out;
}

bool resolves(const Role& role) {
    switch (role.part) {
        case Part::Five:
        case Part::Applied:
        case Part::AppliedHeld:
        case Part::FiveElsewhere:
        case Part::Substitute:
        case Part::Backdoor:
            return true;
        default:
            return false;
    }
}

ScaleChoice ScaleChooser::make(const Setting& setting, Scale scale, Reason reason) {
    reason.lacking = lacking_in(scale, *setting.symbol);
    const bool leads = resolves(setting.role);
    const std::string id = to_string(*setting.symbol) + "|" + to_string(scale.tonic) + "|" +
                           std::string{scale.type->id} + (leads ? "|" : "");
    auto found = written_.find(id);
    if (found == written_.end()) {
        Written written{spelled(scale, chord_notes(*setting.symbol)),
                        notes_to_avoid(*setting.symbol, scale, leads)};
        found = written_.emplace(id, std::move(written)).first;
    }
    return {scale, found->second.notes, found->second.avoid, std::move(reason)};
}

Chosen ScaleChooser::choose(const Setting& setting) {
    const ScaleRow& row = row_for(setting.role, *setting.view);
    const std::vector<std::string_view> ids = all_candidates(setting, row);
    Picked picked = pick(setting, row, over_bass(setting, ids));
    Chosen out;
    if (setting.fixed) {
        out.first = make(setting, *setting.fixed, reason_in(setting, "the chart asks for this scale"));
    } else {
        out.first = make(setting, scale_on(setting, picked.id), std::move(picked.reason));
    }
    for (const std::string_view id : ids) {
        const bool of_row = id == row.scale || row.others.find(id) != std::string_view::npos;
        if (!of_row && out.others.size() >= setting.most_others) continue;
        Scale scale = scale_on(setting, id);
        if (scale == out.first.scale) continue;
        out.others.push_back(
            make(setting, scale, {.words = what_it_brings(id), .root = setting.symbol->root}));
        if (out.others.size() == 4) break;
    }
    return out;
}

}  // namespace shedbook
