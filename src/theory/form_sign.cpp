#include "shedbook/theory/form_sign.h"

#include "shedbook/base/enum_table.h"

namespace shedbook {
namespace {

using enum FormSign;
constexpr SignSide kLeft = SignSide::Left;
constexpr SignSide kRight = SignSide::Right;

constexpr FormSignRow jump(FormSign sign, std::string_view words, std::string_view others,
                           std::string_view abc, JumpRule rule) {
    return {.sign = sign,
            .side = kRight,
            .id = "jump",
            .word = words,
            .others = others,
            .printed = words,
            .glyph = "",
            .xml_element = "",
            .xml_sound = rule.to_segno ? "dalsegno" : "dacapo",
            .xml_sound_value = rule.to_segno ? "segno" : "yes",
            .abc = abc,
            .jump = rule};
}

// Spellings: common practice, no source.
constexpr FormSignRow kSigns[] = {
    {Segno, kLeft, "segno", "segno", "\U0001D10B,\u00A7", "Segno", "scripts.segno", "segno", "segno", "segno",
     "segno", 'S'},
    {Coda, kLeft, "coda", "coda", "\U0001D10C,\u2295", "Coda", "scripts.coda", "coda", "coda", "coda", "coda",
     'O'},
    {Fermata, kRight, "fermata", "fermata", "\U0001D110", "Fermata", "scripts.ufermata", "fermata", "", "",
     "fermata", 'H', true},
    {ToCoda, kRight, "to_coda", "to coda", "to \U0001D10C,to \u2295", "To Coda", "", "", "tocoda", "coda",
     "dacoda"},
    {Fine, kRight, "fine", "fine", "", "Fine", "", "", "fine", "yes", "fine"},
    jump(DaCapo, "D.C.", "da capo", "D.C.,dacapo", {false, false, false}),
    jump(DaCapoAlFine, "D.C. al Fine", "da capo al fine", "D.C.alfine", {false, true, false}),
    jump(DaCapoAlCoda, "D.C. al Coda", "da capo al coda", "D.C.alcoda", {false, false, true}),
    jump(DalSegno, "D.S.", "dal segno", "D.S.", {true, false, false}),
    jump(DalSegnoAlFine, "D.S. al Fine", "dal segno al fine", "D.S.alfine", {true, true, false}),
    jump(DalSegnoAlCoda, "D.S. al Coda", "dal segno al coda", "D.S.alcoda", {true, false, true}),
};
static_assert(has_a_row_each(kSigns, &FormSignRow::sign));

}  // namespace

std::span<const FormSignRow> form_signs() {
    return kSigns;
}

const FormSignRow& row_of(FormSign sign) {
    return kSigns[row_index(sign)];
}

SignSet SignSet::at(SignSide side) const {
    SignSet out;
    for (const FormSignRow& row : kSigns) {
        if (row.side == side && has(row.sign)) out.put(row.sign);
    }
    return out;
}

std::optional<FormSign> SignSet::jump() const {
    for (const FormSignRow& row : kSigns) {
        if (row.jump && has(row.sign)) return row.sign;
    }
    return std::nullopt;
}

void SignSet::put(FormSign sign) {
    if (row_of(sign).jump) {
        if (const auto before = jump()) remove(*before);
    }
    bits_ |= bit(sign);
}

void SignSet::put(SignSet signs) {
    for (const FormSignRow& row : kSigns) {
        if (signs.has(row.sign)) put(row.sign);
    }
}

}  // namespace shedbook
