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
    ScaleChoice scale;       // with its reason, which stands at the head
    std::optional<Key> key;  // of the tune: which way to spell
    std::string bars;
    bool is_listed = true;  // in the table of scales
    Duration sounding;      // in the whole tune
};

// What is done with a topic.
struct SectionWork {
    std::vector<const DrillTemplate*> drills;
    TickBoxes boxes;
    Memory memory = Memory::None;
};

class DrillSectionMaker {
  public:
    DrillSectionMaker(std::span<const BookPart> parts, std::size_t which, const BookOptions& options,
                      BlockSink& sink, Diagnostics& diagnostics);
    // One topic with all its drills.
    void make(const SectionTopic& topic, const SectionWork& work);
    // Every topic with one drill, in every round another one.
    void make_round(int number, std::size_t round, std::span<const SectionTopic> topics,
                    const SectionWork& work);

  private:
    void head(const SectionTopic& topic, const ScaleLadder& ladder, Interval to_written);
    // The drill in the octave that lies best, or in every octave; nothing if it does not fit.
    [[nodiscard]] std::vector<WrittenMusic> music_of(const SectionTopic& topic, const ScaleLadder& ladder,
                                                     const DrillTemplate& drill, Memory memory);
    [[nodiscard]] NotateOptions notation_for(const SectionTopic& topic, const ScaleLadder& ladder,
                                             const DrillTemplate& drill) const;
    // The row of fingerings, if the part wants it under this drill.
    void add_row(WrittenMusic& music, const DrillTemplate& drill) const;
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
