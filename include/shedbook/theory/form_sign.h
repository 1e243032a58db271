// The signs that a chart has beside its bars (segno, fine, D.C. al Coda, fermata ...): one row each, with all
// that readers and writers must know of it. A new sign is a value and a row.
//
//     SignSet signs{FormSign::Segno};
//     signs.has(FormSign::Segno);
//     row_of(FormSign::ToCoda).printed;                        // "To Coda"
#pragma once

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <span>
#include <string_view>

namespace shedbook {

enum class FormSign : std::int8_t {
    Segno,
    Coda,
    Fermata,
    Caesura,
    ToCoda,
    Fine,
    DaCapo,
    DaCapoAlFine,
    DaCapoAlCoda,
    DalSegno,
    DalSegnoAlFine,
    DalSegnoAlCoda,
};

// Where it stands at its bar.
enum class SignSide : std::int8_t { Left, Right };

// What it hangs on: its bar, or the last note of its bar; then it stands over that note or follows it.
enum class SignSeat : std::int8_t { Bar, OverNote, AfterNote };

// Where a jump leads and what ends the second time through.
struct JumpRule {
    bool to_segno = false;
    bool al_fine = false;
    bool al_coda = false;
};

struct FormSignRow {
    FormSign sign;
    SignSide side;
    SignSeat seat = SignSeat::Bar;
    std::string_view id;           // in JSON; jumps are the texts of one member
    std::string_view word;         // in a text chart
    std::string_view others = {};  // other spellings that are read there, lower case, separated by commas
    std::string_view printed;      // in words, on the page
    // Of LilyPond (Notation Reference 2.24, A.8 The Emmentaler font); empty: words. A note needs one.
    std::string_view glyph = {};
    // MusicXML 4.0: the element of a direction-type; for a sign at a note the way to it from the notations of
    // that note, "articulations/caesura"; empty: words. The attribute of a sound element and its value.
    std::string_view xml_element = {};
    std::string_view xml_sound = {};
    std::string_view xml_sound_value = {};
    // ABC 2.1, section 4.14: names of decorations, separated by commas, and the letter that stands for one;
    // empty where the standard has none.
    std::string_view abc = {};
    char abc_letter = '\0';
    std::optional<JumpRule> jump = {};
};

[[nodiscard]] std::span<const FormSignRow> form_signs();
[[nodiscard]] const FormSignRow& row_of(FormSign sign);

// The signs at one bar.
class SignSet {
  public:
    constexpr SignSet() = default;
    constexpr SignSet(std::initializer_list<FormSign> signs) {
        for (const FormSign sign : signs) bits_ |= bit(sign);
    }

    [[nodiscard]] constexpr bool has(FormSign sign) const { return (bits_ & bit(sign)) != 0; }
    [[nodiscard]] constexpr bool is_empty() const { return bits_ == 0; }
    // Those on one side of the bar.
    [[nodiscard]] SignSet at(SignSide side) const;
    // The jump among them.
    [[nodiscard]] std::optional<FormSign> jump() const;

    // A jump takes the place of one that is there.
    void put(FormSign sign);
    void put(SignSet signs);
    void remove(FormSign sign) { bits_ &= ~bit(sign); }

    friend constexpr bool operator==(SignSet, SignSet) = default;

  private:
    static constexpr std::uint32_t bit(FormSign sign) { return 1U << static_cast<unsigned>(sign); }
    std::uint32_t bits_ = 0;
};

}  // namespace shedbook
