#include "judgement.h"

#include "pedal.h"

namespace shedbook {
namespace {

std::optional<Tonality> tonality_of(const std::optional<Key>& key) {
    if (!key) return std::nullopt;
    return Tonality{key->tonic.semitone(), is_minor(key->mode) ? Ground::Minor : Ground::Major};
}

}  // namespace

Judgement judge(const std::vector<ChordView>& chords, const std::optional<Key>& stated, Said said) {
    Judgement out;
    out.keys = find_keys(chords, tonality_of(stated), said);
    out.odds = odds_of(out.keys, chords, tonality_of(stated));
    rest_on_pedals(chords, out.keys);
    out.roles = roles_of(chords, out.keys);
    const bool mode_is_stated = stated && stated->mode != Mode::Major && stated->mode != Mode::Minor;
    out.form = form_of(chords, out.keys, out.roles, mode_is_stated);
    if (out.form.form == Form::Modal) {
        rest_on_long_chords(chords, out.keys);
        out.roles = roles_of(chords, out.keys);
    }
    return out;
}

}  // namespace shedbook
