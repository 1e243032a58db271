// What can be said of a chord without its surroundings.
#include <algorithm>
#include <array>

#include "over_bass.h"
#include "scale_choice.h"

namespace shedbook {
namespace {

// How a chord is heard when nothing stands around it: a dominant as V7 of a major key, a minor seventh as ii,
// and so on (common practice, no source).
struct HeardAs {
    int degree;
    Part part;
    Ground ground;
    Goal goal;
    std::string_view why;
};
constexpr HeardAs kAsOne{0, Part::Own, Ground::Major, Goal::None,
                         "by itself a major chord is heard as I, the home chord: the plain major scale"};
constexpr HeardAs kAsFive{7, Part::Five, Ground::Major, Goal::Major,
                          "by itself a dominant seventh is heard as V of a major key: the notes of that key"};
constexpr HeardAs kAsTwo{2, Part::Two, Ground::Major, Goal::None,
                         "by itself a minor seventh is heard as ii of a major key: natural 9 and natural 6"};
constexpr HeardAs kAsMinorOne{0, Part::Own, Ground::Minor, Goal::None,
                              "by itself a minor chord is heard as home: the natural 6 rests easily over it"};
constexpr HeardAs kAsMinorTwo{
    2, Part::Two, Ground::Minor, Goal::None,
    "by itself a half-diminished chord is heard as ii of a minor key: the notes of that key"};
constexpr HeardAs kAsSuspended{7, Part::Own, Ground::Major, Goal::None,
                               "the fourth is a chord tone, the third only passes"};
constexpr HeardAs kAsOpen{0, Part::Own, Ground::Major, Goal::None,
                          "no third in the chord: a plain major scale"};
constexpr HeardAs kAsPassing{0, Part::Chromatic, Ground::Major, Goal::None, ""};
constexpr HeardAs kHeardAs[] = {kAsOne,      kAsOne,     kAsFive,    kAsMinorOne,  kAsTwo, kAsMinorOne,
                                kAsMinorTwo, kAsPassing, kAsPassing, kAsSuspended, kAsOpen};
static_assert(has_a_row_each<Sound>(kHeardAs));

const HeardAs& heard_as(Sound sound) {
    return kHeardAs[row_index(sound)];
}

Role role_alone(const ChordView& view) {
    const HeardAs& heard = heard_as(view.sound);
    Role role;
    role.part = heard.part;
    role.key = {modulo12(view.root - heard.degree), heard.ground};
    role.degree = heard.degree;
    role.goal = heard.goal;
    role.target = heard.goal == Goal::None ? -1 : 0;  // any: it lets rows speak that need a goal
    return role;
}

// A reason that needs no surroundings.
Reason reason_alone(const ChordView& view, const ScaleRow& row, std::string_view scale_id) {
    if (row.scale == scale_id && row.why.find('{') == std::string_view::npos) return {row.why};
    constexpr unsigned kColours = bit(1) | bit(6) | bit(8);
    const bool sharp_nine = (view.tones & bit(3)) != 0 && (view.tones & bit(4)) != 0;
    const std::string_view plain = heard_as(view.sound).why;
    if (row.scale == scale_id && !plain.empty() && !sharp_nine &&
        ((view.tones & kColours) == 0 || view.sound == Sound::HalfDiminished)) {
        return {plain};
    }
    return {"holds {all}: {brings}", what_it_brings(scale_id)};
}

}  // namespace

std::vector<PitchClass> notes_to_avoid(const ChordSymbol& symbol, const Scale& scale, bool resolves) {
    const unsigned tones = pitch_set(symbol);
    const bool dominant = (tones & bit(4)) != 0 && (tones & bit(10)) != 0;
    std::vector<PitchClass> out;
    for (const PitchClass note : spelled(scale, chord_notes(symbol))) {
        const int over = above(note.semitone(), symbol.root.semitone());
        const bool above_chord_tone = (tones & bit(modulo12(over - 1))) != 0 && (tones & bit(over)) == 0;
        // b9, #9 and b13 are what a dominant that leads on is altered for.
        const bool colour = dominant && resolves && (over == 1 || over == 3 || over == 8);
        if (above_chord_tone && !colour) out.push_back(note);
    }
    return out;
}

std::vector<PitchClass> guide_tones(const ChordSymbol& symbol) {
    // The third and the seventh (H31.7); a sixth stands for the seventh, a fourth for the third.
    std::vector<PitchClass> out;
    const std::vector<ChordTone> all = tones(symbol);
    const auto add = [&](std::initializer_list<ChordRole> roles) {
        for (const ChordRole role : roles) {
            const auto found = std::ranges::find(all, role, &ChordTone::role);
            if (found == all.end()) continue;
            out.push_back(symbol.root + found->above_root);
            return;
        }
    };
    add({ChordRole::Third, ChordRole::Fourth, ChordRole::Second});
    add({ChordRole::Seventh, ChordRole::Sixth});
    return out;
}

std::vector<ScaleChoice> scales_for(const ChordSymbol& symbol) {
    const ChordSymbol heard = heard_by_itself(symbol);
    const ChordView view = view_of(symbol, heard);
    Setting setting;
    setting.symbol = &heard;
    setting.is_heard = heard != symbol;
    setting.view = &view;
    setting.role = role_alone(view);
    const int steps = setting.role.degree == 2 ? 1 : setting.role.degree == 7 ? 4 : 0;
    setting.key = {heard.root - Interval{steps, setting.role.degree},
                   setting.role.key.ground == Ground::Minor ? Mode::Minor : Mode::Major};
    setting.most_others = 4;
    ScaleChooser chooser;
    Chosen chosen = chooser.choose(setting);
    std::vector<ScaleChoice> out;
    out.push_back(std::move(chosen.first));
    std::ranges::move(chosen.others, std::back_inserter(out));
    Reason reason = reason_alone(view, row_for(setting.role, view), out.front().scale.type->id);
    reason.root = heard.root;
    reason.lacking = std::move(out.front().reason.lacking);
    out.front().reason = std::move(reason);
    if (setting.is_heard) out.front().reason.heard = heard;
    return out;
}

}  // namespace shedbook
