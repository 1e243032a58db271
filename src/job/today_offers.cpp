#include "today_offers.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <map>
#include <set>
#include <string_view>
#include <utility>

#include "goals.h"
#include "log_words.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Lines on a unit in the order in which they are learned; those who begin have the first two.
constexpr std::array<const char*, 4> kLinesOfUnits{"guide-tones", "arpeggios-up", "unbroken-scale",
                                                   "targets"};
constexpr int kLinesOfBeginners = 2;
constexpr std::array<const char*, 3> kLinesOfForms{"guide-tones", "arpeggios-up", "unbroken-scale"};

// Basic scales of the levels, each with those before it (common practice, no source).
struct BasicScale {
    int level;
    const char* id;
};
constexpr std::array<BasicScale, 8> kBasicScales{{{1, "major"},
                                                  {2, "dorian"},
                                                  {3, "mixolydian"},
                                                  {3, "minor"},
                                                  {4, "melodic_minor"},
                                                  {4, "locrian"},
                                                  {5, "altered"},
                                                  {5, "lydian_dominant"}}};
// Written keys as beginners meet them, few accidentals first, in semitones above C.
constexpr std::array<int, 12> kKeysInOrder{0, 7, 5, 2, 10, 9, 3, 4, 8, 11, 1, 6};

std::string bars_text(int first, int last) {
    if (first == last) return "bar " + std::to_string(first);
    return "bars " + std::to_string(first) + "-" + std::to_string(last);
}

// "bars 24-25" of the book's page, where it has one.
std::string why_of(const UnitOfTune& unit, const PieceOfBook* piece, int level) {
    const auto place = piece == nullptr ? std::nullopt : place_of(*piece);
    const std::string bars = place ? bars_text(place->first_bar, place->last_bar)
                                   : bars_text(unit.place.first_bar, unit.place.last_bar);
    const char* which = place && level < kLevelThatMixes ? "the easiest of " : "the hardest of ";
    return which + unit.tune->chart.name() + " not yet fluent: " + bars;
}

// The lines of a unit: those of its book alone, where that has any.
struct UnitLinesOffered {
    std::vector<Offer> offers;
    std::optional<std::size_t> place;  // of the first in its book

    void note(const PieceOfBook& piece) {
        if (!place) offers.clear();
        place = std::min(place.value_or(piece.place), piece.place);
    }
    void take(Offer offer, bool is_in_book) {
        if (!place || is_in_book) offers.push_back(std::move(offer));
    }
};

// Takes items one after the other, those alone that nobody knows, until there are enough.
class FreshList {
  public:
    FreshList(const std::string& instrument, int level, const std::vector<KnownItem>& known)
        : instrument_{instrument}, level_{level} {
        for (const KnownItem& item : known) seen_.insert(item.item);
    }
    [[nodiscard]] bool is_full() const { return out_.size() >= kEnough; }
    void take(const Scale& scale, const std::string& drill, std::string why) {
        if (is_full()) return;
        take({ItemKind::Scale, std::string{scale.type->id}, scale.tonic.semitone(), drill, instrument_},
             std::move(why));
    }
    void take(Item item, std::string why) {
        if (is_full() || !seen_.insert(item).second) return;
        // What does not fit the range has no boxes.
        const std::optional<int> goal = usual_goal(item, std::nullopt, level_);
        if (goal) out_.push_back({std::move(item), *goal, std::move(why)});
    }
    std::vector<Offer> done() { return std::move(out_); }

  private:
    // A day of eight hours has no more, at six minutes each.
    static constexpr std::size_t kEnough = 80;
    const std::string& instrument_;
    int level_;
    std::set<Item> seen_;
    std::vector<Offer> out_;
};

std::string why_new(const ScaleOfTune& scale) {
    constexpr std::size_t kMostBars = 4;
    std::vector<int> bars = scale.bars;
    if (bars.size() > kMostBars) bars.resize(kMostBars);
    return "new; " + scale.tune->chart.name() + ", " + bars_in_words(bars);
}

void take_basic(FreshList& list, const std::string& instrument_id, int of_level) {
    const Instrument* instrument = find_instrument(instrument_id);
    const int down = instrument == nullptr ? 0 : to_sounding(instrument->transposition).semitones() % 12;
    std::vector<const ScaleType*> types;
    for (const BasicScale& basic : kBasicScales) {
        const ScaleType* type = basic.level <= of_level ? find_scale_type(basic.id) : nullptr;
        if (type != nullptr) types.push_back(type);
    }
    const std::vector<std::string>& drills = level(of_level).drills;
    const std::string why = "new, of level " + std::to_string(of_level);
    // Another key, another scale, another drill: never all in one key before the next.
    const std::size_t sums = kKeysInOrder.size() + types.size() + drills.size();
    for (std::size_t sum = 0; sum < sums && !list.is_full(); ++sum) {
        for (std::size_t key = 0; key <= std::min(sum, kKeysInOrder.size() - 1); ++key) {
            for (std::size_t type = 0; type < types.size() && key + type <= sum; ++type) {
                const std::size_t drill = sum - key - type;
                if (drill >= drills.size()) continue;
                const int root = (kKeysInOrder[key] + 24 + down) % 12;
                list.take(named_simply(root, *types[type]), drills[drill], why);
            }
        }
    }
}

}  // namespace

std::vector<UnitOfTune> units_of_tunes(const std::vector<Tune>& tunes) {
    std::vector<UnitOfTune> all;
    for (const Tune& tune : tunes) {
        for (const PracticeUnit& unit : units_of(tune.chart, tune.analysis).units) {
            // The whole of a blues is its form.
            if (unit.kind == UnitKind::BluesFrame) continue;
            for (const UnitPlace& place : unit.places) all.push_back({&tune, unit.kind, place});
        }
    }
    std::ranges::stable_sort(all, std::ranges::greater{},
                             [](const UnitOfTune& unit) { return unit.place.difficulty; });
    std::set<std::pair<std::string, int>> seen;
    std::erase_if(all, [&](const UnitOfTune& unit) {
        const Key& key = unit.place.key;
        return !seen.emplace(unit_id(unit.kind, key.mode), key.tonic.semitone()).second;
    });
    return all;
}

std::vector<std::vector<Offer>> unit_offers(const std::vector<UnitOfTune>& units,
                                            const std::string& instrument, int level,
                                            const TuneBooks& books) {
    std::vector<UnitLinesOffered> all;
    const std::size_t lines = level < kLevelThatMixes ? kLinesOfBeginners : kLinesOfUnits.size();
    for (const UnitOfTune& unit : units) {
        UnitLinesOffered& offered = all.emplace_back();
        for (std::size_t i = 0; i < lines; ++i) {
            Offer offer;
            offer.item = {ItemKind::Unit, unit_id(unit.kind, unit.place.key.mode),
                          unit.place.key.tonic.semitone(), kLinesOfUnits[i], instrument};
            const PieceOfBook* piece = books.find(offer.item);
            if (piece != nullptr) offered.note(*piece);
            offer.goal = unit.tune->chart.tempo.value_or(BookOptions{}.goal_tempo);
            offer.why = why_of(unit, piece, level);
            offered.take(std::move(offer), piece != nullptr);
        }
    }
    // What the book has comes first; a book for those who begin goes from what is easy.
    std::ranges::stable_sort(all, {}, [&](const UnitLinesOffered& offered) {
        if (!offered.place) return std::pair{true, std::size_t{0}};
        return std::pair{false, level < kLevelThatMixes ? *offered.place : 0};
    });
    std::vector<std::vector<Offer>> out;
    out.reserve(all.size());
    for (UnitLinesOffered& offered : all) out.push_back(std::move(offered.offers));
    return out;
}

std::vector<Offer> form_offers(const std::vector<Tune>& tunes, const std::string& instrument,
                               const std::vector<KnownItem>& known) {
    std::vector<Offer> out;
    for (const Tune& tune : tunes) {
        Offer offer;
        for (const char* line : kLinesOfForms) {
            offer.item = {ItemKind::Etude, tune.chart.id, kNoRoot, line, instrument};
            const auto there = std::ranges::find(known, offer.item, &KnownItem::item);
            if (there == known.end() || there->standing.state != Mastery::Fluent) break;
        }
        offer.goal = tune.chart.tempo.value_or(BookOptions{}.goal_tempo);
        offer.why = "the whole form; when you fall out, come back in at the next bar";
        out.push_back(std::move(offer));
    }
    return out;
}

std::vector<ScaleOfTune> scales_of_tunes(const std::vector<Tune>& tunes) {
    std::vector<ScaleOfTune> out;
    for (const Tune& tune : tunes) {
        std::map<int, int> hard;
        for (const BarDifficulty& bar : units_of(tune.chart, tune.analysis).bars)
            hard[bar.bar] = bar.difficulty;
        for (const ChordInContext& chord : chords_in_context(tune, BookOptions{})) {
            int difficulty = 0;
            for (const int bar : chord.bars) difficulty = std::max(difficulty, hard[bar]);
            const Scale& scale = chord.scale.scale;
            const auto there = std::ranges::find_if(out, [&](const ScaleOfTune& other) {
                return other.scale.type == scale.type &&
                       other.scale.tonic.semitone() == scale.tonic.semitone();
            });
            if (there == out.end()) {
                out.push_back({&tune, scale, chord.bars, difficulty});
            } else if (there->tune == &tune) {
                there->bars.insert(there->bars.end(), chord.bars.begin(), chord.bars.end());
                there->difficulty = std::max(there->difficulty, difficulty);
            }
        }
    }
    for (ScaleOfTune& scale : out) {
        std::ranges::sort(scale.bars);
        scale.bars.erase(std::unique(scale.bars.begin(), scale.bars.end()), scale.bars.end());
    }
    std::ranges::stable_sort(out, std::ranges::greater{}, &ScaleOfTune::difficulty);
    return out;
}

std::vector<Offer> fresh_offers(const std::vector<Tune>& tunes, const std::string& instrument, int of_level,
                                const std::vector<KnownItem>& known, const TuneBooks& books) {
    FreshList list{instrument, of_level, known};
    const std::vector<ScaleOfTune> scales = scales_of_tunes(tunes);
    for (const Item& item : books.drills_on_scales()) {
        const auto scale = std::ranges::find_if(scales, [&](const ScaleOfTune& each) {
            return each.scale.type->id == item.subject && each.scale.tonic.semitone() == item.root;
        });
        list.take(item, scale == scales.end() ? "new; of the key of the tune" : why_new(*scale));
    }
    for (const std::string& drill : level(of_level).drills) {
        // Who practises the scales of the keys is not asked for those of the chords.
        if (level(of_level).material == Material::Keys) break;
        for (const ScaleOfTune& scale : scales) list.take(scale.scale, drill, why_new(scale));
    }
    take_basic(list, instrument, of_level);
    return list.done();
}

std::vector<Item> needed_by(const std::vector<Tune>& tunes, const std::vector<UnitOfTune>& units,
                            const std::vector<KnownItem>& known) {
    std::set<std::tuple<ItemKind, std::string, int>> needed;
    for (const ScaleOfTune& scale : scales_of_tunes(tunes))
        needed.emplace(ItemKind::Scale, std::string{scale.scale.type->id}, scale.scale.tonic.semitone());
    for (const UnitOfTune& unit : units)
        needed.emplace(ItemKind::Unit, unit_id(unit.kind, unit.place.key.mode),
                       unit.place.key.tonic.semitone());
    for (const Tune& tune : tunes) needed.emplace(ItemKind::Etude, tune.chart.id, kNoRoot);
    std::vector<Item> out;
    for (const KnownItem& item : known) {
        if (needed.contains({item.item.kind, item.item.subject, item.item.root})) out.push_back(item.item);
    }
    return out;
}

TonicsAsWritten tonics_of(const std::vector<Tune>& tunes, const std::vector<UnitOfTune>& units,
                          const std::string& instrument_id) {
    TonicsAsWritten out;
    const Instrument* instrument = find_instrument(instrument_id);
    if (instrument == nullptr) return out;
    const auto by = [&](const Tune& tune) { return written_interval(*instrument, key_of(tune), {}); };
    for (const ScaleOfTune& found : scales_of_tunes(tunes)) {
        const Scale& scale = found.scale;
        const Scale read{scale.tonic + by(*found.tune), scale.type};
        // Where a note would have two accidentals, the pages take another name too.
        const std::vector<PitchClass> notes = spelled(read);
        if (std::ranges::any_of(notes, [](PitchClass note) { return std::abs(note.alter()) > 1; })) continue;
        out.add({ItemKind::Scale, std::string{scale.type->id}, scale.tonic.semitone(), "", ""},
                {scale.tonic, read.tonic});
    }
    for (const UnitOfTune& unit : units) {
        const Key& key = unit.place.key;
        const Key read = within_signatures({key.tonic + by(*unit.tune), key.mode});
        out.add({ItemKind::Unit, unit_id(unit.kind, key.mode), key.tonic.semitone(), "", ""},
                {key.tonic, read.tonic});
    }
    return out;
}

}  // namespace shedbook
