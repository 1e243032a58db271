// Names of notes, keys and headers as German charts have them: H for B and B for Bb, fis and es, small roots
// for minor, Tonart and Takt.
//
//     GermanNames names;
//     names.look_at("| H7 | B7 |");
//     names.in_english("| H7 | B7 |");                         // "| B7 | Bb7 |"
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace shedbook {

class GermanNames {
  public:
    // Every line of a text is looked at before the first one is put into English: one H makes all B flat.
    void look_at(std::string_view line);
    // The line with its headers, key and chords in English; as it is where nothing of it is German.
    [[nodiscard]] std::string in_english(std::string_view line) const;
    // Where, from 0, the first B of the line stands that an H makes B flat, though flats are written Bb as
    // well: then the H may be a slip. Nothing where there is none.
    [[nodiscard]] std::optional<std::size_t> doubtful_b(std::string_view line) const;

  private:
    [[nodiscard]] std::string chords_in_english(std::string_view line) const;
    [[nodiscard]] std::string chord_in_english(std::string_view word) const;
    bool has_h_ = false;
    bool has_b_flat_ = false;  // as Bb
};

}  // namespace shedbook
