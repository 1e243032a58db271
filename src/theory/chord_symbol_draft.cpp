#include "chord_symbol_draft.h"

#include <algorithm>

namespace shedbook {
namespace {

DegreeSet triad(const Draft& draft) {
    DegreeSet out = 0;
    const DegreeSet third = draft.minor_third() ? kFlatThird : kThird;
    if (draft.second) out |= kSecond;
    if (draft.fourth) out |= kFourth;
    if (draft.keeps_third || (!draft.suspended() && draft.quality != Quality::Power)) out |= third;
    const bool flat = draft.quality == Quality::Diminished || draft.quality == Quality::HalfDiminished;
    return out | (flat ? kFlatFifth : draft.augmented ? kSharpFifth : kFifth);
}

DegreeSet seventh(const Draft& draft) {
    if (draft.major) return kSeventh;
    return draft.quality == Quality::Diminished ? kDiminishedSeventh : kFlatSeventh;
}

// 9, 11 and 13 imply the lower ones (H31.1). The 11 of a 13 chord clashes with a major third and is left out;
// in a suspension the fourth is there already.
DegreeSet stack(const Draft& draft, int number) {
    DegreeSet out = 0;
    if (number >= 9) out |= kNinth;
    const bool eleventh = number == 11 || (number == 13 && draft.minor_third());
    if (eleventh && !draft.suspended()) out |= kEleventh;
    if (number == 13) out |= kThirteenth;
    return out;
}

// The natural tones that a change takes the place of.
DegreeSet replaced_by(DegreeSet changes) {
    DegreeSet out = 0;
    if (meets(changes, kFlatFifth | kSharpFifth)) out |= kFifth;
    if (meets(changes, kFlatNinth | kSharpNinth)) out |= kNinth;
    if (meets(changes, kSharpEleventh)) out |= kEleventh;
    if (meets(changes, kFlatThirteenth)) out |= kThirteenth;
    return out;
}

}  // namespace

bool Draft::is_bare() const {
    return quality == Quality::Plain && !major && !augmented && !dominant && !altered && !suspended() &&
           extension == 0 && (tensions | changes | added | omitted) == 0;
}

int Draft::number() const {
    const bool implied = triangle || dominant || altered || quality == Quality::HalfDiminished;
    return extension == 0 && implied ? 7 : extension;
}

bool Draft::has_room_for(int number_added, int alter) const {
    switch (number_added) {
        case 3:
            return suspended() && alter == 0;
        case 5:
            return alter != 0;
        case 7:
            return number() < 7 && alter <= 0;
        default:
            return true;
    }
}

bool Draft::has_room_for_seventh(DegreeSet wanted) const {
    const bool minor = quality == Quality::Minor || quality == Quality::Diminished;
    const bool triad = minor && extension == 0 && !major && !meets(added, kSevenths);
    if (wanted == kSeventh) return triad;
    const bool diminished = quality == Quality::Diminished || holds(changes, kFlatFifth);
    return triad && diminished && wanted == kDiminishedSeventh;
}

DegreeSet Draft::degrees() const {
    if (altered) return kAltered | kThird | kFlatSeventh | changes | added;
    const int named = number();
    DegreeSet out = triad(*this) | stack(*this, named);
    if (named == 6) out |= kSixth;
    if (named >= 7) out |= seventh(*this);
    // A number in brackets names the chord anew where it has a seventh: C7(13) is C13.
    int highest = named;
    for (const int tension : {9, 11, 13}) {
        if (named < 7 || !holds(tensions, degree_set(tension))) continue;
        out |= stack(*this, tension);
        highest = std::max(highest, tension);
    }
    out = (out & ~replaced_by(changes)) | changes | tensions | added;
    // The 11 of a dominant 11 chord takes the place of the third (H31.1: the two clash).
    const bool eleventh = highest == 11 && holds(out, kEleventh | kFlatSeventh);
    if (eleventh && !minor_third() && !keeps_third) out &= ~kThird;
    return out & ~omitted;
}

}  // namespace shedbook
