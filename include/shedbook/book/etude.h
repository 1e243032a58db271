// An etude on paper: a line through the changes of a tune, notated for a part, as a sheet or as a block of a
// book.
//
//     std::optional<WrittenMusic> music = etude_music(tune, parts, 0, {.kind = "guide-tones"});
//     music->title;                                            // "Guide-tone line"
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/etude/etude.h"

namespace shedbook {

// The etude of parts[which]: all parts play the same notes, each in octaves of its own. Nothing if there is
// no chord to play on in the bars asked for, or the range does not hold it.
[[nodiscard]] std::optional<WrittenMusic> etude_music(const Tune& tune, std::span<const BookPart> parts,
                                                      std::size_t which, const EtudeRequest& request,
                                                      Prefer prefer = Prefer::Fewest);

// The same for several parts in turn: what they share is composed once.
class EtudeMaker {
  public:
    EtudeMaker(std::span<const BookPart> parts, EtudeRequest request, Prefer prefer = Prefer::Fewest);
    [[nodiscard]] std::optional<WrittenMusic> make(const Tune& tune, std::size_t which);
    [[nodiscard]] const EtudeRequest& request() const { return request_; }
    [[nodiscard]] std::span<const BookPart> parts() const { return parts_; }

  private:
    struct Composed {
        const Tune* tune;
        PitchRange range;
        ConcertLine line;
    };
    // The line for a range, moved by octaves from one that was made for such a range before.
    [[nodiscard]] ConcertLine line_for(const Tune& tune, const EtudeGround& ground, PitchRange range);

    std::span<const BookPart> parts_;
    EtudeRequest request_;
    Prefer prefer_;
    std::vector<Composed> composed_;
};

// A sheet with the etudes of these tunes and nothing else, for part `which` of the maker's parts.
void assemble_etudes(const std::vector<Tune>& tunes, EtudeMaker& maker, std::size_t which, BlockSink& sink,
                     Diagnostics& diagnostics);

// The widest window that, moved by octaves, lies in every one of the ranges, where it lies for ranges[which]:
// as near the middle as can be. The range itself if it is alone, or if not even an octave fits all.
[[nodiscard]] PitchRange common_window(const std::vector<PitchRange>& ranges, std::size_t which);

}  // namespace shedbook
