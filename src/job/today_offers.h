// What could be played today of which the log need not know anything.
#pragma once

#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/harmony/units.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/log/day_plan.h"
#include "today_books.h"

namespace shedbook {

// A unit of a tune in one key, at the hardest of its places there.
struct UnitOfTune {
    const Tune* tune = nullptr;
    UnitKind kind = UnitKind::LoneChord;
    UnitPlace place;
};
// The hardest first, each kind in each key once. The tunes must live on.
[[nodiscard]] std::vector<UnitOfTune> units_of_tunes(const std::vector<Tune>& tunes);

// Each with its lines in the order in which they are learned. What the books have comes first; a book for
// those who begin goes from what is easy.
[[nodiscard]] std::vector<std::vector<Offer>> unit_offers(const std::vector<UnitOfTune>& units,
                                                          const std::string& instrument, int level,
                                                          const TuneBooks& books);
// The line through a whole tune that is first not fluent.
[[nodiscard]] std::vector<Offer> form_offers(const std::vector<Tune>& tunes, const std::string& instrument,
                                             const std::vector<KnownItem>& known);
// New drills on scales: first those of the books, then others on the scales of the tunes, where they are
// hardest, then the basic ones of the level. Some that are not known and fit the range; enough for a day.
[[nodiscard]] std::vector<Offer> fresh_offers(const std::vector<Tune>& tunes, const std::string& instrument,
                                              int level, const std::vector<KnownItem>& known,
                                              const TuneBooks& books);
// Of what is known, that which the tunes need.
[[nodiscard]] std::vector<Item> needed_by(const std::vector<Tune>& tunes,
                                          const std::vector<UnitOfTune>& units,
                                          const std::vector<KnownItem>& known);

// Scales of a tune, those of its hardest bars first; in which bars each stands.
struct ScaleOfTune {
    const Tune* tune = nullptr;
    Scale scale;
    std::vector<int> bars;
    int difficulty = 0;
};
[[nodiscard]] std::vector<ScaleOfTune> scales_of_tunes(const std::vector<Tune>& tunes);

// What the tunes write, for this instrument.
[[nodiscard]] TonicsAsWritten tonics_of(const std::vector<Tune>& tunes, const std::vector<UnitOfTune>& units,
                                        const std::string& instrument);

}  // namespace shedbook
