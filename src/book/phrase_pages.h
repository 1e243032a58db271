// Phrases on the bars of a unit, each with empty bars behind it for the player's own version.
//
//     PhrasePages pages{parts, {0}, request, Prefer::Fewest, boxes};
//     pages.make(tune, unit.kind, unit.places.front(), 2);     // of two levels, the easier first
#pragma once

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "line_on_paper.h"
#include "shedbook/book/book.h"
#include "shedbook/book/etude.h"
#include "shedbook/etude/phrase.h"
#include "shedbook/harmony/units.h"
#include "unit_lines.h"

namespace shedbook {

// Of the tune, if the request does not say it.
[[nodiscard]] PhraseFeel feel_of(const Tune& tune, const EtudeGround& ground, const EtudeRequest& request);

class PhrasePages {
  public:
    // For parts[written], which play together; up to the request's level, another choice for another seed.
    PhrasePages(std::span<const BookPart> parts, std::vector<std::size_t> written,
                const EtudeRequest& request, Prefer prefer, EtudeBoxes boxes);

    // At most so many, each of another level, still without numbers; none where nothing suits. What the book
    // has already comes last, but at another place of a unit the first choice is what it had at the first.
    // The passage may go on behind the unit.
    [[nodiscard]] std::vector<Etude> make(const Tune& tune, UnitKind kind, const UnitPlace& place,
                                          const Passage& passage, std::size_t most);
    [[nodiscard]] std::optional<Etude> again(const Tune& tune, UnitKind kind, const UnitPlace& place,
                                             const Passage& passage, const std::string& id);

  private:
    struct Candidate {
        const Phrase* phrase;
        std::vector<PartLine> lines;  // one for each written part
        bool says_thirds;             // of its dominants,
        bool is_inside;               // in the scales that are printed
        [[nodiscard]] bool fits() const { return says_thirds && is_inside; }
    };
    [[nodiscard]] int ease(const Phrase& phrase) const;
    [[nodiscard]] std::vector<PartLine> lines_of(const Phrase& phrase, const EtudeGround& ground,
                                                 const UnitPlace& place) const;
    [[nodiscard]] std::vector<Candidate> candidates(const Tune& tune, UnitKind kind, const UnitPlace& place,
                                                    const EtudeGround& ground) const;
    [[nodiscard]] Etude on_paper(const Tune& tune, const EtudeGround& ground,
                                 const Candidate& candidate) const;

    std::span<const BookPart> parts_;
    std::vector<std::size_t> written_;
    EtudeRequest request_;
    Prefer prefer_;
    EtudeBoxes boxes_;
    std::set<std::string> used_;  // ids
};

}  // namespace shedbook
