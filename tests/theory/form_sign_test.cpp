#include "shedbook/theory/form_sign.h"

#include <catch2/catch.hpp>
#include <set>
#include <string>

namespace shedbook {

TEST_CASE("every sign can be written and is read again in each form", "[theory]") {
    std::set<std::string_view> words;
    for (const FormSignRow& row : form_signs()) {
        INFO(row.word);
        CHECK(&row_of(row.sign) == &row);
        CHECK(words.insert(row.word).second);
        CHECK_FALSE(row.id.empty());
        CHECK_FALSE(row.printed.empty());
        CHECK((row.jump.has_value() == (row.id == "jump")));
        // On the page it is drawn, or said in words that a reader of scores can follow.
        CHECK((!row.xml_element.empty() || !row.xml_sound.empty()));
        CHECK(row.xml_sound.empty() == row.xml_sound_value.empty());
        // At a note there is no room for words.
        CHECK((row.seat == SignSeat::Bar || (!row.glyph.empty() && !row.xml_element.empty())));
    }
}

// MusicXML 4.0: elements segno, coda, fermata and, in articulations, caesura; attributes of the element
// sound.
TEST_CASE("signs have the names that the standard of scores gives them", "[theory]") {
    CHECK(row_of(FormSign::Segno).xml_element == "segno");
    CHECK(row_of(FormSign::Coda).xml_element == "coda");
    CHECK(row_of(FormSign::Fermata).xml_element == "fermata");
    CHECK(row_of(FormSign::Caesura).xml_element == "articulations/caesura");
    CHECK(row_of(FormSign::ToCoda).xml_sound == "tocoda");
    CHECK(row_of(FormSign::Fine).xml_sound == "fine");
    for (const FormSign sign : {FormSign::DaCapo, FormSign::DaCapoAlFine, FormSign::DaCapoAlCoda})
        CHECK(row_of(sign).xml_sound == "dacapo");
    for (const FormSign sign : {FormSign::DalSegno, FormSign::DalSegnoAlFine, FormSign::DalSegnoAlCoda})
        CHECK(row_of(sign).xml_sound == "dalsegno");
}

TEST_CASE("a set of signs knows its sides, and has one jump at most", "[theory]") {
    SignSet signs{FormSign::Segno, FormSign::Fine};
    CHECK(signs.at(SignSide::Left) == SignSet{FormSign::Segno});
    CHECK(signs.at(SignSide::Right) == SignSet{FormSign::Fine});
    CHECK_FALSE(signs.jump().has_value());
    signs.put(FormSign::DaCapo);
    signs.put(FormSign::DalSegnoAlCoda);
    CHECK(signs.jump() == FormSign::DalSegnoAlCoda);
    CHECK_FALSE(signs.has(FormSign::DaCapo));
    CHECK(signs.has(FormSign::Segno));
    signs.remove(FormSign::DalSegnoAlCoda);
    signs.remove(FormSign::Segno);
    CHECK(signs == SignSet{FormSign::Fine});
    signs.put(SignSet{FormSign::Coda, FormSign::DaCapoAlFine});
    CHECK(signs == SignSet{FormSign::Fine, FormSign::Coda, FormSign::DaCapoAlFine});
    CHECK(SignSet{}.is_empty());
    CHECK_FALSE(signs.is_empty());
}

}  // namespace shedbook
