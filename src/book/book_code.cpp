#include "book_code.h"

#include <cstdint>
#include <string_view>

#include "shedbook/base/checksum.h"

namespace shedbook {
namespace {

class Sum {
  public:
    Sum& add(std::string_view text) {
        constexpr std::string_view kEnd{"\0", 1};  // "ab", "c" is not "a", "bc"
        sum_ = checksum(kEnd, checksum(text, sum_));
        return *this;
    }
    Sum& add(std::int64_t number) { return add(std::string_view{std::to_string(number)}); }
    Sum& add(bool flag) { return add(std::int64_t{flag}); }
    Sum& add(const Rational& fraction) { return add(fraction.num()).add(fraction.den()); }
    [[nodiscard]] std::string code() const { return code_of(sum_); }

  private:
    std::uint64_t sum_ = kEmptyChecksum;
};

void add(Sum& sum, const Tune& tune) {
    sum.add(name_of(tune.chart).title).add(to_string(key_of(tune)));
    for (const Reading& reading : tune.analysis.readings)
        sum.add(to_string(reading.symbol)).add(to_string(reading.scale.scale));
    for (const ChordSpan& span : tune.timeline.chords)
        sum.add(std::int64_t{span.inst}).add(span.at.whole_notes);
}

void add(Sum& sum, const BookPart& part) {
    sum.add(part.instrument->id)
        .add(std::int64_t{part.range.low.on_paper().midi()})
        .add(std::int64_t{part.range.high.on_paper().midi()});
}

void add(Sum& sum, const DrillSetting& setting) {
    if (setting.meter) sum.add(to_string(*setting.meter));
    if (setting.rhythm) {
        for (const RhythmStep& step : *setting.rhythm) sum.add(step.length.whole_notes).add(step.is_rest);
    }
    sum.add(std::int64_t{setting.displaced.value_or(0)}).add(setting.in_every_octave);
}

void add(Sum& sum, const BookPlan& plan) {
    sum.add(plan.id);
    for (const Sitting& sitting : plan.sittings) {
        sum.add(sitting.title).add(static_cast<std::int64_t>(sitting.which)).add(std::int64_t{sitting.most});
        sum.add(sitting.each).add(sitting.basic_first).add(static_cast<std::int64_t>(sitting.order));
        for (const std::string& drill : sitting.drills) sum.add(drill);
        for (const int tempo : sitting.tempos) sum.add(std::int64_t{tempo});
        for (const std::string& etude : sitting.etudes) sum.add(etude);
    }
}

}  // namespace

std::string code_of(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                    const BookOptions& options) {
    Sum sum;
    if (options.by != BookBy::Chord) sum.add(std::string{to_word(options.by)});
    for (const Tune& tune : tunes) add(sum, tune);
    for (const BookPart& part : parts) add(sum, part);
    sum.add(static_cast<std::int64_t>(which));
    for (const DrillTemplate* drill : options.drills) sum.add(drill->id).add(drill->title);
    add(sum, options.setting);
    if (options.plan != nullptr) add(sum, *options.plan);
    sum.add(static_cast<std::int64_t>(options.material)).add(static_cast<std::int64_t>(options.order));
    sum.add(options.basic_first).add(std::int64_t{options.goal_tempo});
    for (const int tempo : options.tempos) sum.add(std::int64_t{tempo});
    for (const ChordSymbol& symbol : options.only_chords) sum.add(to_string(symbol));
    if (options.only_bars)
        sum.add(std::int64_t{options.only_bars->first}).add(std::int64_t{options.only_bars->second});
    sum.add(static_cast<std::int64_t>(options.most_chords.value_or(0))).add(options.with_line);
    for (const std::string& etude : options.etudes) sum.add(etude);
    sum.add(options.etude.kind)
        .add(std::int64_t{options.etude.level})
        .add(std::int64_t{options.speed_level.value_or(0)});
    sum.add(static_cast<std::int64_t>(options.etude.seed));
    return sum.code();
}

}  // namespace shedbook
