#include "role.h"

#include <array>

namespace shedbook {
namespace {

bool has(unsigned tones, int semitones) {
    return (tones >> semitones & 1U) != 0;
}

Goal goal_of(Sound sound) {
    if (is_major_sound(sound)) return Goal::Major;
    if (is_minor_sound(sound) || sound == Sound::HalfDiminished || sound == Sound::Diminished)
        return Goal::Minor;
    if (sound == Sound::Dominant || sound == Sound::Suspended) return Goal::Dominant;
    return Goal::Other;
}

// Chords of the key itself, borrowed ones not counted: root and third in the key's scale.
bool is_diatonic(Tonality key, const ChordView& chord) {
    return is_of_key(key.ground, chord.sound, above(chord.root, key.tonic));
}

class Reader {
  public:
    Reader(const std::vector<ChordView>& chords, const std::vector<Tonality>& keys)
        : chords_{chords}, keys_{keys} {}

    Role read(int i) const {
        Role role;
        role.key = keys_[static_cast<std::size_t>(i)];
        role.degree = above(at(i).root, role.key.tonic);
        const Sound sound = at(i).sound;
        if (acts_as_dominant(i, role)) {
            read_dominant(i, role);
        } else if (sound == Sound::Diminished) {
            read_diminished(i, role);
        } else if (is_minor_sound(sound) || sound == Sound::HalfDiminished) {
            read_minor(i, role);
        } else {
            read_major(i, role);
        }
        role.marks = marks_of(i, role);
        return role;
    }

  private:
    const ChordView& at(int i) const { return chords_[static_cast<std::size_t>(i)]; }

    // The chord that a dominant leads to: the next one on another root, through a related ii that stands
    // between (D7 Dm7 G7: D7 leads to G7; A7 Em7 A7 Dm: to Dm).
    int goal_after(int i) const {
        int j = at(i).next;
        for (int steps = 0; j >= 0 && steps < 3; ++steps) {
            const bool same_root = at(j).root == at(i).root;
            const bool own_two =
                at(j).root == modulo12(at(i).root + 7) &&
                (at(j).sound == Sound::MinorSeventh || at(j).sound == Sound::HalfDiminished) &&
                at(j).next >= 0 && at(at(j).next).root == at(i).root;
            if (!same_root && !own_two) return j;
            j = at(j).next;
        }
        return j == i ? -1 : j;
    }

    unsigned marks_of(int i, const Role& role) const {
        unsigned out = 0;
        const auto set = [&out](Mark mark) { out |= 1U << static_cast<unsigned>(mark); };
        const int prev = at(i).prev;
        if (prev >= 0 && at(prev).sound == Sound::HalfDiminished && above(at(prev).root, at(i).root) == 7) {
            set(Mark::AfterHalfDiminished);
        }
        const auto is_flat_six = [&](int j) {
            if (j < 0 || !is_major_sound(at(j).sound)) return false;
            const int degree = above(at(j).root, role.key.tonic);
            return degree == 8 || degree == 10;
        };
        if ((prev < 0 || is_flat_six(prev)) && is_flat_six(at(i).next)) set(Mark::BesideFlatSix);
        if (role.part == Part::Substitute && is_in_chromatic_row(i)) set(Mark::ChromaticRow);
        const auto is_on = [&](int j, int degree) {
            return j >= 0 && above(at(j).root, role.key.tonic) == degree;
        };
        if (at(i).sound == Sound::Diminished && role.degree == 6 && is_on(prev, 5) && is_on(at(i).next, 0))
            set(Mark::FourToOne);
        constexpr double kLong = 16;
        if (at(i).stretch >= kLong) set(Mark::Stays);
        return out;
    }

    // Chromatic dominants: three or more, each a half step below the one before.
    bool is_in_chromatic_row(int i) const {
        const auto falls = [&](int from, int to) {
            return from >= 0 && to >= 0 && at(from).sound == Sound::Dominant &&
                   at(to).sound == Sound::Dominant && above(at(from).root, at(to).root) == 1;
        };
        const int prev = at(i).prev;
        const int next = at(i).next;
        const bool goes_on = falls(i, next) && falls(next, at(next).next);
        return goes_on || (falls(prev, i) && (falls(i, next) || falls(at(prev).prev, prev)));
    }

    // Dominant sevenths, suspensions, and plain or augmented major triads where a dominant stands.
    bool acts_as_dominant(int i, const Role& role) const {
        const Sound sound = at(i).sound;
        if (sound == Sound::Dominant) return true;
        if (sound == Sound::Suspended) return has(at(i).tones, 10) || role.degree == 7;
        if (sound != Sound::Major && sound != Sound::Augmented) return false;
        if (role.degree == 7) return true;
        const bool gets_seventh =
            at(i).next >= 0 && at(at(i).next).root == at(i).root && at(at(i).next).sound == Sound::Dominant;
        if (gets_seventh && sound == Sound::Major && !is_diatonic(role.key, at(i))) return true;
        const int j = goal_after(i);
        if (sound == Sound::Augmented) return j >= 0 && above(at(i).root, at(j).root) == 7;
        // A major triad that is no chord of the key, a fifth above one that is.
        return j >= 0 && !is_diatonic(role.key, at(i)) && role.degree != 10 && role.degree != 3 &&
               role.degree != 8 && role.degree != 1 && above(at(i).root, at(j).root) == 7 &&
               is_diatonic(role.key, at(j));
    }

    void read_dominant(int i, Role& role) const {
        const int j = goal_after(i);
        const int fall = j < 0 ? -1 : above(at(i).root, at(j).root);
        const int to = j < 0 ? -1 : above(at(j).root, role.key.tonic);
        const auto lead = [&](Part part) {
            role.part = part;
            role.target = j;
            role.goal = goal_of(at(j).sound);
            role.goal_degree = to;
        };
        if (role.key.ground == Ground::Blues && at(i).sound == Sound::Dominant) {
            if (role.degree == 0 && !(fall == 7 && at(i).beats <= 2)) {
                role.part = Part::BluesOne;
                return;
            }
            if (role.degree == 5 && fall != 7) {
                role.part = Part::BluesFour;
                return;
            }
            if (role.degree == 7) {
                if (fall == 7) lead(Part::BluesFive);
                role.part = Part::BluesFive;
                return;
            }
        }
        if (fall == 7) return lead(to == 0 ? Part::Five : Part::Applied);
        // G7 Gm7 Gb7: the minor chord on its own root takes G7 back, nothing falls from it.
        const bool is_taken_back = at(i).next >= 0 && at(i).next != j && at(at(i).next).root == at(i).root;
        if (fall == 1 && at(i).sound == Sound::Dominant && !is_taken_back) return lead(Part::Substitute);
        if (role.degree == 10 && to == 0 && role.key.ground != Ground::Minor &&
            at(i).sound == Sound::Dominant) {
            return lead(Part::Backdoor);
        }
        if (role.degree == 7) {
            role.part = Part::FiveElsewhere;
            role.goal = role.key.ground == Ground::Minor ? Goal::Minor : Goal::Major;
            return;
        }
        role.goal_degree = modulo12(role.degree + 5);
        const bool named = role.degree == 2 || role.degree == 4 || role.degree == 9 || role.degree == 11;
        const bool seventh = at(i).sound == Sound::Dominant && has(at(i).tones, 10);
        role.part = named && seventh ? Part::AppliedHeld : Part::Own;
        if (role.part == Part::AppliedHeld) role.goal = role.degree == 2 ? Goal::Dominant : Goal::Minor;
    }

    void read_diminished(int i, Role& role) const {
        const int j = at(i).next;
        const int p = at(i).prev;
        const int move = j < 0 ? -1 : above(at(j).root, at(i).root);
        const auto lead = [&](Part part) {
            role.part = part;
            role.target = j;
            role.goal = goal_of(at(j).sound);
            role.goal_degree = above(at(j).root, role.key.tonic);
        };
        const bool two_of_minor =
            role.key.ground == Ground::Minor && role.degree == 2 && !has(at(i).tones, 9);
        if (two_of_minor) {
            role.part = Part::Two;
            if (move == 5) role.target = j;
        } else if (move == 1) {
            lead(Part::LeadingUp);
        } else if (j >= 0 && at(j).root == role.key.tonic && above(at(j).bass, at(i).root) == 1 &&
                   role.degree == 6) {
            // To I with its fifth in the bass, which stands for V.
            lead(Part::LeadingUp);
            role.goal = Goal::Major;
            role.goal_degree = 7;
        } else if (move == 11) {
            lead(Part::PassingDown);
        } else if (move == 0 || (p >= 0 && at(p).root == at(i).root)) {
            role.part = Part::SameRoot;
            if (move == 0) role.target = j;
        } else {
            role.part = Part::Chromatic;
        }
    }

    void read_minor(int i, Role& role) const {
        const int j = at(i).next;
        const bool to_dominant =
            j >= 0 && above(at(i).root, at(j).root) == 7 &&
            (at(j).sound == Sound::Dominant || (at(j).sound == Sound::Suspended && has(at(j).tones, 10)));
        const bool two_sound = at(i).sound == Sound::MinorSeventh || at(i).sound == Sound::HalfDiminished ||
                               at(i).sound == Sound::Minor;
        if (to_dominant && two_sound) {
            const bool home = role.degree == 2;
            // iv7 and bVII7 of a major key are borrowed together: they come home from below, if they do.
            const bool resolves = at(j).next >= 0 && above(at(j).root, at(at(j).next).root) % 6 == 1;
            if (role.degree == 5 && role.key.ground != Ground::Minor && !resolves) {
                role.part = Part::Borrowed;
                role.target = j;
                return;
            }
            // i7 to IV7 in minor is no ii V; nor is a tonic that happens to lie a fifth above.
            const bool tonic = is_tonic_chord(at(i), role.key);
            if (home || at(i).sound == Sound::HalfDiminished ||
                (!tonic && at(i).sound == Sound::MinorSeventh) || (tonic && resolves && at(i).beats <= 2)) {
                role.part = home ? Part::Two : Part::RelatedTwo;
                role.target = j;
                role.goal_degree = modulo12(above(at(j).root, role.key.tonic) + 5);  // where its V would lead
                role.goal = goal_beyond(i, j, role);
                return;
            }
        }
        if (role.degree == 2) {
            role.part = Part::Two;
            return;
        }
        if (role.degree == 5) role.target = j >= 0 && above(at(j).root, role.key.tonic) == 7 ? j : -1;
        role.part = is_diatonic(role.key, at(i)) ? Part::Own : Part::Borrowed;
    }

    // What the V after a ii leads to, or what stands there in the key if it does not come.
    Goal goal_beyond(int two, int five, const Role& role) const {
        const int goal = goal_after(five);
        if (goal >= 0 && above(at(five).root, at(goal).root) == 7) return goal_of(at(goal).sound);
        if (at(two).sound == Sound::HalfDiminished) return Goal::Minor;
        return is_of_key(role.key.ground, Sound::MinorSeventh, role.goal_degree) ? Goal::Minor : Goal::Major;
    }

    void read_major(int i, Role& role) const {
        role.part = is_diatonic(role.key, at(i)) ? Part::Own : Part::Borrowed;
        const int j = at(i).next;
        if (role.degree == 5 && j >= 0 && above(at(j).root, role.key.tonic) == 7) role.target = j;
    }

    const std::vector<ChordView>& chords_;
    const std::vector<Tonality>& keys_;
};

// By degree, for chords that belong to the key or are borrowed: common practice; H "Harmonic function".
constexpr std::array<Function, 12> kInMajor{
    Function::Tonic,       Function::Subdominant, Function::Subdominant, Function::Tonic,
    Function::Tonic,       Function::Subdominant, Function::Subdominant, Function::Dominant,
    Function::Subdominant, Function::Tonic,       Function::Subdominant, Function::Dominant};
constexpr std::array<Function, 12> kInMinor{
    Function::Tonic,       Function::Subdominant, Function::Subdominant, Function::Tonic,
    Function::Tonic,       Function::Subdominant, Function::Subdominant, Function::Dominant,
    Function::Subdominant, Function::Subdominant, Function::Subdominant, Function::Dominant};

constexpr std::array<std::string_view, 12> kDegrees{"I",   "bII", "II",  "bIII", "III",  "IV",
                                                    "#IV", "V",   "bVI", "VI",   "bVII", "VII"};

// Diminished chords on raised degrees keep that name where they are written so: #I, #II, #IV, #V; and bV is
// told from #IV. All other chords between the degrees are named flat (Bmaj7 in Eb is bVImaj7).
std::string raised_degree(Interval over_tonic, const Role& role, Sound sound) {
    struct Written {
        Interval interval;
        std::string_view name;
        bool any_sound;
    };
    constexpr Written kWritten[]{{{0, 1}, "#I", false},
                                 {{1, 3}, "#II", false},
                                 {{3, 6}, "#IV", true},
                                 {{4, 6}, "bV", true},
                                 {{4, 8}, "#V", false}};
    const bool raised =
        sound == Sound::HalfDiminished || (sound == Sound::Diminished && role.part != Part::PassingDown);
    for (const Written& written : kWritten) {
        if (written.interval == over_tonic && (written.any_sound || raised)) return std::string{written.name};
    }
    return {};
}

std::string lower(std::string_view numeral) {
    std::string out;
    for (const char c : numeral) {
        if (c == 'I')
            out += 'i';
        else if (c == 'V')
            out += 'v';
        else
            out += c;
    }
    return out;
}

// What stands after the numeral: the seventh and what alters the chord.
std::string figure(unsigned tones, Sound sound) {
    switch (sound) {
        case Sound::MajorSeventh:
            return has(tones, 8) && !has(tones, 7) ? "maj7#5" : "maj7";
        case Sound::HalfDiminished:
            return "7b5";
        case Sound::Diminished:
            return has(tones, 9) ? "o7" : "o";
        case Sound::Augmented:
            return "+";
        case Sound::MinorTonic:
            return has(tones, 11) ? "maj7" : "6";
        case Sound::MinorSeventh:
            return "7";
        case Sound::Suspended:
            return has(tones, 10) ? "7sus4" : "sus4";
        case Sound::Dominant:
            return "7";
        case Sound::Major:
            return has(tones, 9) ? "6" : "";
        case Sound::Open:
            return "5";
        case Sound::Minor:
            break;
    }
    return "";
}

}  // namespace

std::vector<Role> roles_of(const std::vector<ChordView>& chords, const KeyReading& keys) {
    const Reader reader{chords, keys.keys};
    std::vector<Role> out;
    out.reserve(chords.size());
    for (int i = 0; i < static_cast<int>(chords.size()); ++i) out.push_back(reader.read(i));
    return out;
}

Function function_of(const Role& role, Sound sound, bool is_modal) {
    switch (role.part) {
        case Part::Five:
        case Part::FiveElsewhere:
        case Part::Applied:
        case Part::AppliedHeld:
        case Part::Substitute:
        case Part::Backdoor:
        case Part::BluesFive:
        case Part::LeadingUp:
            return Function::Dominant;
        case Part::Two:
        case Part::RelatedTwo:
        case Part::BluesFour:
            return Function::Subdominant;
        case Part::PassingDown:
        case Part::SameRoot:
        case Part::Chromatic:
            return Function::Passing;
        case Part::BluesOne:
            return Function::Tonic;
        case Part::Own:
        case Part::Borrowed:
            break;
    }
    if (is_modal && role.degree != 0) return Function::Modal;
    if (sound == Sound::Augmented) return role.degree == 0 ? Function::Tonic : Function::Passing;
    const auto degree = static_cast<std::size_t>(role.degree);
    return role.key.ground == Ground::Minor ? kInMinor[degree] : kInMajor[degree];
}

std::string numeral_of(const Role& role, const ChordView& chord, PitchClass tonic, PitchClass root) {
    const auto name = [](int degree) { return std::string{kDegrees[static_cast<std::size_t>(degree)]}; };
    const auto own = [&](const std::string& degree) {
        const Sound sound = chord.sound;
        const bool small =
            is_minor_sound(sound) || sound == Sound::HalfDiminished || sound == Sound::Diminished;
        return (small ? lower(degree) : degree) + figure(chord.tones, sound);
    };
    // Behind the slash: small where the goal is a minor chord.
    const auto goal = [&] {
        return role.goal == Goal::Minor ? lower(name(role.goal_degree)) : name(role.goal_degree);
    };
    switch (role.part) {
        case Part::Applied:
        case Part::AppliedHeld:
            return own(name(7)) + "/" + goal();
        case Part::Substitute:
            if ((role.marks & 1U << static_cast<unsigned>(Mark::ChromaticRow)) != 0) break;
            return own(name(1)) + (role.goal_degree == 0 ? "" : "/" + goal());
        case Part::LeadingUp:
            return own(name(11)) + (role.goal_degree == 0 ? "" : "/" + goal());
        case Part::RelatedTwo:
            return own(name(2)) + "/" + goal();
        default:
            break;
    }
    const std::string raised = raised_degree(root - tonic, role, chord.sound);
    return own(raised.empty() ? name(role.degree) : raised);
}

}  // namespace shedbook
