// The section of one chord or scale: its head and its drills.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/drill/ladder.h"

namespace shedbook {

struct SectionTopic {
    int number = 1;  // "3" of "3.2"
    std::optional<ChordSymbol> symbol;
    ScaleChoice scale;
    std::optional<Key> key;  // of the tune: which way to spell
    std::string reason;
    std::string bars;
};

class DrillSectionMaker {
  public:
    DrillSectionMaker(std::span<const BookPart> parts, std::size_t which, const BookOptions& options,
                      BlockSink& sink, Diagnostics& diagnostics);
    void make(const SectionTopic& topic);

  private:
    void head(const SectionTopic& topic, const ScaleLadder& ladder, Interval to_written);
    void say_missing(const DrillTemplate& drill, const SectionTopic& topic, const ScaleLadder& ladder);

    std::span<const BookPart> parts_;
    std::size_t which_;
    const BookOptions& options_;
    BlockSink& sink_;
    Diagnostics& diagnostics_;
    std::vector<PitchRange> ranges_;  // sounding, of all parts
};

// Sounding ranges of the parts.
[[nodiscard]] std::vector<PitchRange> sounding_ranges(std::span<const BookPart> parts);

}  // namespace shedbook
