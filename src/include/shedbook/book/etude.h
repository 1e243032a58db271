// An etude on paper: a line through the changes of a tune, notated for a part, as a sheet or as a block of a
// book.
//
//     EtudeMaker maker{parts, {.kind = "guide-tones"}};
//     maker.make(tune, {0})->title;                            // "Guide-tone line"
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/etude/etude.h"

namespace shedbook {

// The tempos of an etude's boxes: per cents of the tempo that its notes can be played at, which is not above
// the goal.
struct EtudeBoxes {
    std::vector<int> per_cent{kSlowestBox, 80, 100};
    std::optional<int> goal = {};  // beats a minute; nothing: the tune's tempo
    bool from_memory = false;
    std::optional<int> speed_level = {};  // whose speed the fastest box keeps; nothing: that of the line
};

// How they are written down.
struct EtudePaper {
    Prefer prefer = Prefer::Fewest;
    std::optional<int> reading_level = {};  // of who reads them; nothing: the level of the line
};

// Etudes for parts that play the same notes, each in octaves of its own; what they share is composed once.
class EtudeMaker {
  public:
    EtudeMaker(std::span<const BookPart> parts, EtudeRequest request, EtudePaper paper = {});
    // With the music of these parts, still without a number. Nothing if there is no chord to play on in the
    // bars asked for, or a range does not hold it.
    [[nodiscard]] std::optional<Etude> make(const Tune& tune, const std::vector<std::size_t>& which,
                                            const EtudeBoxes& boxes = {});
    [[nodiscard]] const EtudeRequest& request() const { return request_; }
    [[nodiscard]] std::span<const BookPart> parts() const { return parts_; }
    // Whether the notes that a part has for it are enough for the kind.
    [[nodiscard]] bool fits_part(std::size_t which) const;

  private:
    struct Composed {
        const Tune* tune;
        PitchRange range;
        ConcertLine line;
    };
    [[nodiscard]] WrittenMusic music_of(const Tune& tune, const EtudeGround& ground, std::size_t which);
    // The notes that a part has for it, moved by octaves the same for all.
    [[nodiscard]] PitchRange window_of(std::size_t which) const;
    [[nodiscard]] TempoBoxes boxes_of(const Tune& tune, const EtudeGround& ground,
                                      const std::vector<std::size_t>& which, const EtudeBoxes& boxes);
    // The line for a range, moved by octaves from one that was made for such a range before.
    [[nodiscard]] ConcertLine line_for(const Tune& tune, const EtudeGround& ground, PitchRange range);

    std::span<const BookPart> parts_;
    EtudeRequest request_;
    const EtudeKind* kind_;
    EtudePaper paper_;
    std::vector<Composed> composed_;
};

// A sheet with the etudes of these tunes and nothing else, for part `which` of the maker's parts.
void assemble_etudes(const std::vector<Tune>& tunes, EtudeMaker& maker, std::size_t which, BlockSink& sink,
                     Diagnostics& diagnostics);

// The widest window that, moved by octaves, lies in every one of the ranges, where it lies for ranges[which]:
// as near the middle as can be. The range itself if it is alone, or if not even an octave fits all.
[[nodiscard]] PitchRange common_window(const std::vector<PitchRange>& ranges, std::size_t which);

}  // namespace shedbook
