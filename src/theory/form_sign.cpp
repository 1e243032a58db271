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
            .xml_sound = rule.to_segno ? "dalsegno" : "dacapo",
            .xml_sound_value = rule.to_segno ? "segno" : "yes",
            .abc = abc,
            .jump = rule};
}

// Spellings: common practice, no source; signs of their own: Unicode 15, block Musical Symbols.
// clang-format off
constexpr FormSignRow kSigns[] = {
    {.sign = Segno, .side = kLeft, .id = "segno", .word = "segno", .others = "\U0001D10B,\u00A7", .printed = "Segno",
     .glyph = "scripts.segno", .xml_element = "segno", .xml_sound = "segno", .xml_sound_value = "segno",
     .abc = "segno", .abc_letter = 'S'},
    {.sign = Coda, .side = kLeft, .id = "coda", .word = "coda", .others = "\U0001D10C,\u2295", .printed = "Coda",
     .glyph = "scripts.coda", .xml_element = "coda", .xml_sound = "coda", .xml_sound_value = "coda",
     .abc = "coda", .abc_letter = 'O'},
    {.sign = Fermata, .side = kRight, .seat = SignSeat::OverNote, .id = "fermata", .word = "fermata",
     .others = "\U0001D110", .printed = "Fermata", .glyph = "scripts.ufermata", .xml_element = "fermata",
     .abc = "fermata", .abc_letter = 'H'},
    {.sign = Caesura, .side = kRight, .seat = SignSeat::AfterNote, .id = "caesura", .word = "caesura",
     .others = "\U0001D113", .printed = "Caesura", .glyph = "scripts.caesura.straight",
     .xml_element = "articulations/caesura"},
    {.sign = ToCoda, .side = kRight, .id = "to_coda", .word = "to coda", .others = "to \U0001D10C,to \u2295",
     .printed = "To Coda", .xml_sound = "tocoda", .xml_sound_value = "coda", .abc = "dacoda"},
    {.sign = Fine, .side = kRight, .id = "fine", .word = "fine", .printed = "Fine", .xml_sound = "fine",
     .xml_sound_value = "yes", .abc = "fine"},
    jump(DaCapo, "D.C.", "da capo", "D.C.,dacapo", {}),
    jump(DaCapoAlFine, "D.C. al Fine", "da capo al fine", "D.C.alfine", {.al_fine = true}),
    jump(DaCapoAlCoda, "D.C. al Coda", "da capo al coda", "D.C.alcoda", {.al_coda = true}),
    jump(DalSegno, "D.S.", "dal segno", "D.S.", {.to_segno = true}),
    jump(DalSegnoAlFine, "D.S. al Fine", "dal segno al fine", "D.S.alfine", {.to_segno = true, .al_fine = true}),
    jump(DalSegnoAlCoda, "D.S. al Coda", "dal segno al coda", "D.S.alcoda", {.to_segno = true, .al_coda = true}),
};
// clang-format on
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
